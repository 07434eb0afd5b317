package main

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"sort"
	"strings"

	"github.com/spf13/cobra"
)

//go:embed help/*.md
var manual embed.FS

// topics of the manual, by name without .md.
func topics() []string {
	files, err := fs.Glob(manual, "help/*.md")
	if err != nil {
		panic(err) // the pattern is a constant
	}
	var list []string
	for _, f := range files {
		list = append(list, strings.TrimSuffix(path.Base(f), ".md"))
	}
	sort.Strings(list)
	return list
}

// about is the heading of a topic.
func about(topic string) string {
	text, _ := manual.ReadFile("help/" + topic + ".md")
	head, _, _ := strings.Cut(string(text), "\n")
	return strings.TrimPrefix(head, "# ")
}

func (a *app) helpCommand(root *cobra.Command) *cobra.Command {
	return &cobra.Command{
		Use:       "help [TOPIC or COMMAND]",
		Short:     "the manual, or help about a command",
		ValidArgs: topics(),
		RunE: func(_ *cobra.Command, list []string) error {
			if len(list) == 0 {
				if err := root.Help(); err != nil {
					return err
				}
				fmt.Fprint(a.out, "\nTopics of the manual (dryhold help TOPIC):\n")
				for _, name := range topics() {
					fmt.Fprintf(a.out, "  %-11s %s\n", name, about(name))
				}
				return nil
			}
			text, err := manual.ReadFile("help/" + strings.ToLower(list[0]) + ".md")
			if err == nil {
				_, err = a.out.Write(text)
				return err
			}
			c, _, err := root.Find(list)
			if err != nil || c == root {
				return usage(fmt.Errorf("there is no topic or command %q", list[0]), meant(list[0], append(topics(), commands(root)...))+"topics: "+strings.Join(topics(), ", "))
			}
			return c.Help()
		},
	}
}
