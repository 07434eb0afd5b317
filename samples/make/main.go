// Command make writes the readings of the demo jobs and their SOURCE.md into the
// folder samples under the current one (or beside it, when run by go generate).
package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"dryhold/samples"
)

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "make:", err)
		os.Exit(1)
	}
}

func run() error {
	root := "samples"
	if _, err := os.Stat("samples.go"); err == nil {
		root = "."
	}
	if _, err := os.Stat(filepath.Join(root, "samples.go")); err != nil {
		return fmt.Errorf("run it in the root of the module: %w", err)
	}
	files, err := samples.Files()
	if err != nil {
		return err
	}
	names := make([]string, 0, len(files))
	for n := range files {
		names = append(names, n)
	}
	slices.Sort(names)
	for _, n := range names {
		at := filepath.Join(root, filepath.FromSlash(n))
		if err := os.MkdirAll(filepath.Dir(at), 0o755); err != nil {
			return err
		}
		if err := os.WriteFile(at, files[n], 0o644); err != nil {
			return err
		}
		fmt.Printf("%7d %s\n", len(files[n]), at)
	}
	return nil
}
