package main

import (
	"github.com/spf13/cobra"

	"dryhold/analysis/job"
	"dryhold/cmd/dryhold/internal/issue"
	"dryhold/templates"
)

func (a *app) templatesCommand() *cobra.Command {
	var out *string
	c := &cobra.Command{
		Use:   "templates AUDIENCE",
		Short: "print the template of an audience, to be changed",
		Long: "A template holds the wording and the order of the sections. Save it beside job.toml or\n" +
			"company.toml and name it there: [record] template = \"FILE\". Cautions, sign-off and the meaning\n" +
			"of the signature can't be left out.",
		Example:   "  dryhold templates homeowner --out homeowner.toml",
		Args:      args(cobra.MatchAll(cobra.ExactArgs(1), cobra.OnlyValidArgs)),
		ValidArgs: issue.Audiences,
		RunE: func(_ *cobra.Command, list []string) error {
			text, err := templates.Export(list[0])
			if err != nil {
				return err
			}
			return a.print(text, *out)
		},
	}
	out = printed(c)
	return c
}

func (a *app) schemaCommand() *cobra.Command {
	var out *string
	c := &cobra.Command{
		Use:     "schema",
		Short:   "print the schema of job.toml, for editors",
		Example: "  dryhold schema --out job.schema.json",
		Args:    args(cobra.NoArgs),
		RunE:    func(*cobra.Command, []string) error { return a.print(job.Schema(), *out) },
	}
	out = printed(c)
	return c
}
