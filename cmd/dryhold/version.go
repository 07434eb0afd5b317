package main

import (
	"fmt"
	"runtime"
	"runtime/debug"

	"github.com/spf13/cobra"

	"dryhold/analysis/record"
)

// version changes with everything that can change a byte of a record.
const version = "0.1.0"

// software is what a record says of the program that made it.
func software() record.Software {
	return record.Software{Name: "Dryhold", Version: version, Build: build()}
}

// build is the platform and, where the binary knows it, the revision of the source.
func build() string {
	text := runtime.GOOS + "/" + runtime.GOARCH + " " + runtime.Version()
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return text
	}
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision":
			text += " " + s.Value[:min(12, len(s.Value))]
		case s.Key == "vcs.modified" && s.Value == "true":
			text += " with changes"
		}
	}
	return text
}

func versionLine() string { return fmt.Sprintf("dryhold %s (%s)", version, build()) }

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "say which version this is",
		Args:  args(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			_, err := fmt.Fprintln(a.out, versionLine())
			return err
		},
	}
}
