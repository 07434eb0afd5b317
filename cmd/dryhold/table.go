package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"text/tabwriter"

	"dryhold/analysis/fault"
	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/issue"
)

// outcomeText is the criterion's answer beside the cause: never one without the other.
func outcomeText(o *issue.Outcome) (decision, cause string) {
	decision, cause = o.Decision, o.Cause
	if o.State == issue.Failed {
		return "no record", "-"
	}
	if decision == "" {
		decision = "no hold"
	}
	switch {
	case cause == "":
		cause = "-"
	case cause == "none":
		cause = "none named"
	}
	if o.Inflow && record.Passes(o.Decision) {
		decision += ", but inflow"
	}
	return decision, cause
}

// attention is what the office should look at, most important first.
func attention(o *issue.Outcome) []string {
	var list []string
	for _, f := range o.Faults {
		if !f.Doubt {
			list = append(list, briefly(f))
		}
	}
	if o.Err != nil {
		first, _, _ := strings.Cut(o.Err.Error(), "\n")
		list = append(list, first)
	}
	if o.Inflow {
		list = append(list, "the readings show a continuing inflow: find it")
	}
	if o.Decision != "" && o.Decision != "pass" {
		list = append(list, "criterion "+o.Decision+": "+o.Reason)
	}
	list = append(list, o.Beside...)
	for _, f := range jobDoubts(o) {
		list = append(list, briefly(f))
	}
	if o.Settle != "" {
		list = append(list, "cause not determined; to settle it: "+o.Settle)
	}
	return append(list, o.Warnings...)
}

// briefly is a fault without what was expected: the message above the table has that.
func briefly(f fault.Fault) string {
	f.Expected = ""
	return f.Error()
}

// table is the closing table of a batch.
func (a *app) table(outcomes []*issue.Outcome, dir string) error {
	if a.quiet {
		return nil
	}
	w := tabwriter.NewWriter(a.out, 0, 4, 2, ' ', 0)
	fmt.Fprintln(w, "job\trecord\tcriterion\tcause\tpages\tfile\tattention")
	made := 0
	for _, o := range outcomes {
		if o == nil {
			continue
		}
		if o.State != issue.Failed {
			made++
		}
		a.row(w, o, dir)
	}
	if err := w.Flush(); err != nil {
		return err
	}
	switch left := len(outcomes) - made; {
	case len(outcomes) < 2:
	case left == 0:
		fmt.Fprintf(a.out, "\nall %d jobs have their records\n", made)
	default:
		have := func(n int) string { return map[bool]string{true: "has", false: "have"}[n == 1] }
		whose := map[bool]string{true: "its record", false: "their records"}[made == 1]
		fmt.Fprintf(a.out, "\n%d of %d jobs %s %s, %d %s not\n", made, len(outcomes), have(made), whose, left, have(left))
	}
	return nil
}

func (a *app) row(w io.Writer, o *issue.Outcome, dir string) {
	decision, cause := outcomeText(o)
	number := o.Number
	if number == "" {
		number = o.Source.Shown()
	}
	file := "-"
	if len(o.Files) > 0 && o.State != issue.Failed {
		file = filepath.Join(dir, o.Files[0])
		if n := len(o.Files) - 1; n > 0 {
			file += fmt.Sprintf(" and %d more", n)
		}
	}
	list := attention(o)
	text := "-"
	switch n := len(list); {
	case n == 0:
	case n == o.General && !a.verbose: // nobody reads a column that is never empty
		text = "- (" + counted(n, "note") + ")"
	default:
		text = list[0]
		if n > 1 && !a.verbose {
			text += fmt.Sprintf(" (and %d more)", n-1)
		}
	}
	pages := "-"
	if o.Pages > 0 {
		pages = fmt.Sprint(o.Pages)
	}
	fmt.Fprintf(w, "%s\t%s\t%s\t%s\t%s\t%s\t%s\n", number, o.State, decision, cause, pages, file, text)
	if a.verbose {
		for _, more := range list[min(1, len(list)):] {
			fmt.Fprintf(w, "\t\t\t\t\t\t%s\n", more)
		}
	}
}

// outcomeJSON is one line of the table for programs.
type outcomeJSON struct {
	Job       string      `json:"job"`
	Number    string      `json:"number,omitempty"`
	Revision  int         `json:"revision,omitempty"`
	State     string      `json:"state"`
	Decision  string      `json:"decision,omitempty"`
	Cause     string      `json:"cause,omitempty"`
	Inflow    bool        `json:"inflow_shown"`
	Digest    string      `json:"digest,omitempty"`
	Pages     int         `json:"pages,omitempty"`
	Files     []string    `json:"files"`
	Attention []string    `json:"attention"`
	Exit      int         `json:"exit"`
	Faults    []faultJSON `json:"faults"`
}

type faultJSON struct {
	Code     string `json:"code,omitempty"`
	Where    string `json:"where,omitempty"`
	Key      string `json:"key,omitempty"`
	Found    string `json:"found"`
	Expected string `json:"expected,omitempty"`
	Mend     string `json:"mend,omitempty"`
	Doubt    bool   `json:"doubt,omitempty"`
}

func faultsJSON(list fault.List) []faultJSON {
	out := []faultJSON{}
	for _, f := range list {
		out = append(out, faultJSON{f.Code, f.Where(), f.Key, f.Found, f.Expected, f.Mend, f.Doubt})
	}
	return out
}

func (a *app) outcomesJSON(outcomes []*issue.Outcome, dir string) error {
	out := []outcomeJSON{}
	for _, o := range outcomes {
		if o == nil {
			continue
		}
		one := outcomeJSON{Job: o.Source.Path(), Number: o.Number, Revision: o.Revision, State: o.State, Decision: o.Decision, Cause: o.Cause,
			Inflow: o.Inflow, Digest: o.Digest, Pages: o.Pages, Files: []string{}, Attention: attention(o), Faults: faultsJSON(append(o.Faults, o.Doubts...))}
		if one.Attention == nil {
			one.Attention = []string{}
		}
		if err := a.explained(o); err != nil {
			one.Exit = codeOf(err)
			if len(o.Faults) == 0 {
				one.Faults = append(one.Faults, faultJSON{Found: o.Err.Error()})
			}
		}
		if o.State != issue.Failed {
			for _, name := range o.Files {
				one.Files = append(one.Files, filepath.Join(dir, name))
			}
		}
		out = append(out, one)
	}
	return a.printJSON(out)
}

func (a *app) printJSON(v any) error {
	e := json.NewEncoder(a.out)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// shorter is the path relative to the working folder where that is shorter.
func shorter(path string) string {
	here, err := os.Getwd()
	if err != nil {
		return path
	}
	if rel, err := filepath.Rel(here, path); err == nil && len(rel) < len(path) && !strings.HasPrefix(rel, filepath.Join("..", "..", "..")) {
		return rel
	}
	return path
}

// head is the beginning of a file, as much as an excerpt can need.
func head(path string) []byte {
	info, err := os.Stat(path) // before it is opened: opening a pipe waits for ever
	if err != nil || !info.Mode().IsRegular() {
		return nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil
	}
	defer f.Close()
	data, _ := io.ReadAll(io.LimitReader(f, 1<<20))
	return data
}
