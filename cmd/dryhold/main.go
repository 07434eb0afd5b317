// Dryhold makes signed records of the evacuation and pressure test of a
// refrigerant circuit from a job file and the instruments' own exports.
//
// This package is flags, files, progress and exit codes, and the manual
// (help/*.md). It computes nothing and draws nothing.
package main

import (
	"os"
	_ "time/tzdata" // a job's time zone is known on every machine
)

func main() {
	os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}
