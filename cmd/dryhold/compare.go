package main

import (
	"fmt"
	"path/filepath"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"dryhold/analysis/record"
	"dryhold/report"
	"dryhold/report/seal"
)

func (a *app) compareCommand() *cobra.Command {
	var asJSON bool
	var out string
	c := &cobra.Command{
		Use:   "compare OLD.pdf NEW.pdf",
		Short: "set two records of one circuit side by side",
		Long: "For the callback: what was tested and with what, the pull-down, the hold, the charge and the start-up,\n" +
			"and which of them differ beyond their uncertainty. Both records are verified first.\n" +
			"The page that --out writes is an aid to reading; it is not signed.",
		Example: "  dryhold compare old/HR-0409.inspector.pdf new/HR-0522.inspector.pdf --out comparison.pdf",
		Args:    args(cobra.ExactArgs(2)),
		RunE: func(_ *cobra.Command, list []string) error {
			pair, err := a.pair(list)
			if err != nil {
				return err
			}
			if out != "" {
				if err := a.comparePage(pair, out); err != nil {
					return err
				}
			}
			return a.printPair(pair, asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print the comparison as JSON")
	c.Flags().StringVarP(&out, "out", "o", "", "write the comparison as a page too: a PDF file, which must not be there yet")
	return c
}

// pair verifies the two records. One whose signature does not hold is refused; one
// that does not compute again is told as such.
func (a *app) pair(paths []string) ([2]*finding, error) {
	v, err := a.verifier(nil)
	if err != nil {
		return [2]*finding{}, err
	}
	list := []*finding{v.guarded(paths[0]), v.guarded(paths[1])}
	for _, f := range list {
		if f.record == nil {
			return [2]*finding{}, badKey(fmt.Errorf("%s: %s", f.File, f.Reason), f.advice)
		}
	}
	chain(list)
	for _, f := range list {
		if !f.Verified {
			a.worse(codeKey)
			fmt.Fprintf(a.err, "dryhold: error: %s: %s\n", f.File, f.Reason)
			a.hint(f.advice)
		}
	}
	return [2]*finding(list), nil
}

// compareRow is one line of a comparison for programs.
type compareRow struct {
	What     string         `json:"what"`
	Key      string         `json:"key"`
	Old      string         `json:"old"`
	New      string         `json:"new"`
	Finding  record.Finding `json:"finding"`
	OldValue *record.Value  `json:"old_value,omitempty"`
	NewValue *record.Value  `json:"new_value,omitempty"`
}

// printPair prints the comparison in English.
func (a *app) printPair(pair [2]*finding, asJSON bool) error {
	rows, err := report.Rows(pair[0].record, pair[1].record, report.Options{Language: "en"})
	if err != nil {
		return err
	}
	if asJSON {
		list := []compareRow{}
		for _, r := range rows {
			list = append(list, compareRow{r.What, r.Key, r.Old, r.New, r.Finding, r.Pair.Old, r.Pair.New})
		}
		return a.printJSON(struct {
			Old  *finding     `json:"old"`
			New  *finding     `json:"new"`
			Rows []compareRow `json:"rows"`
		}{pair[0], pair[1], list})
	}
	if a.quiet {
		return nil
	}
	w := tabwriter.NewWriter(a.out, 0, 4, 2, ' ', 0)
	line := func(what, old, new string) { fmt.Fprintf(w, "%s\t%s\t%s\n", what, old, new) }
	line("", pair[0].File, pair[1].File)
	line("Job", pair[0].job(), pair[1].job())
	line("Finding", pair[0].verdict(), pair[1].verdict())
	line("Signer", pair[0].Signer, pair[1].Signer)
	line("Key, first 16", pair[0].Fingerprint[:16], pair[1].Fingerprint[:16])
	line("Digest, first 16", pair[0].Digest[:16], pair[1].Digest[:16])
	last := ""
	for _, r := range rows {
		if head := heading[r.Finding]; head != last {
			line("", "", "")
			line(head+":", "", "")
			last = head
		}
		line("  "+r.What, r.Old, r.New)
	}
	return w.Flush()
}

var heading = map[record.Finding]string{record.Beyond: "Differs beyond its uncertainty", record.Differs: "Differs; no uncertainty to judge it by",
	record.OneOnly: "Differs; no uncertainty to judge it by", record.Within: "Cannot be told apart", record.Same: "The same in both"}

func (f *finding) job() string {
	text := f.Number
	if f.Revision > 1 {
		text = fmt.Sprintf("%s, revision %d", text, f.Revision)
	}
	return text + ", " + f.record.Job.Date
}

func (f *finding) verdict() string {
	if f.Verified {
		return "verified"
	}
	return "NOT verified"
}

// comparePage writes the page, and never over another file.
func (a *app) comparePage(pair [2]*finding, path string) error {
	var sides [2]report.Compared
	for i, f := range pair {
		sides[i] = report.Compared{Record: f.record, Digest: f.Digest, File: filepath.Base(f.File), Signer: f.Signer,
			Fingerprint: f.Fingerprint, SignedAt: f.SignedAt, Fault: f.Reason}
	}
	drawn, err := report.Comparison(sides[0], sides[1], report.Options{})
	if err != nil {
		return err
	}
	data, err := seal.Unsigned(seal.Document{PDF: drawn.PDF, Title: drawn.Title, Language: drawn.Language, Created: drawn.Created,
		Producer: "Dryhold " + version, Structure: drawn.Structure, ToUnicode: drawn.ToUnicode})
	if err != nil {
		return err
	}
	return putNew(path, data)
}
