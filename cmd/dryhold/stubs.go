package main

import (
	"errors"

	"github.com/spf13/cobra"

	"dryhold/cmd/dryhold/internal/issue"
)

func fromForm(issue.Source) error { return nil }

func stub(use string) *cobra.Command {
	return &cobra.Command{Use: use, Short: "not written yet", RunE: func(*cobra.Command, []string) error { return errors.New("not written yet") }}
}
func (a *app) newCommand() *cobra.Command  { return stub("new DIR") }
func (a *app) formCommand() *cobra.Command { return stub("form DIR") }
