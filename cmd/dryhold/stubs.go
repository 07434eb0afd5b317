package main

import (
	"errors"

	"github.com/spf13/cobra"
)

func stub(use string) *cobra.Command {
	return &cobra.Command{Use: use, Short: "not written yet", RunE: func(*cobra.Command, []string) error { return errors.New("not written yet") }}
}
func (a *app) newCommand() *cobra.Command { return stub("new DIR") }
