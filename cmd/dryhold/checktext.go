package main

import (
	"fmt"
	"io"
	"slices"
	"sort"
	"strings"
	"time"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/issue"
)

// showStopped ends the check of several jobs with those that need work.
func (a *app) showStopped(n int, stopped []string) {
	fmt.Fprintf(a.out, "\n%d of %d jobs can be made\n", n-len(stopped), n)
	for _, path := range stopped {
		fmt.Fprintf(a.out, "  not yet: %s\n", path)
	}
}

func (a *app) showJob(s issue.Source, w *issue.Work) {
	if a.quiet {
		return
	}
	fmt.Fprintf(a.out, "%s", s.Shown())
	if n := w.Job.Job.Number; n != "" {
		fmt.Fprintf(a.out, ": job %s", n)
	}
	fmt.Fprintln(a.out)
	for _, one := range seriesOf(w) {
		for _, in := range one.Inputs {
			showInput(a.out, in)
		}
		fmt.Fprint(a.out, plotText(one))
	}
	for _, name := range unnamed(s.Dir, w.Job) {
		fmt.Fprintf(a.out, "\n  %s lies in the folder, and the job does not name it\n", name)
	}
	if w.Job.Company.Name == "" {
		fmt.Fprint(a.out, "\n  no firm is named: the record says so, and a key that is made for it bears no firm's name\n")
	}
	if r := w.Record; r != nil && (r.Hold != nil || r.Pressure != nil) {
		a.showTests(r, w.Doubts)
	}
}

// showTests says what the readings show, and what they do not and why. Doubts are
// told by themselves.
func (a *app) showTests(r *record.Record, doubts fault.List) {
	line := func(what, found, why string) {
		if why != "" {
			found += ": " + why
		}
		fmt.Fprintf(a.out, "    %-9s %s\n", what, found)
	}
	if p := r.Pressure; p != nil {
		fmt.Fprintf(a.out, "\n  pressure test\n")
		line("criterion", p.Decision, p.DecisionReason)
	}
	if h := r.Hold; h != nil {
		fmt.Fprintf(a.out, "\n  hold %s (%s)\n", between(h.Start, h.End), h.Found)
		line("criterion", h.Decision, h.DecisionReason)
		line("cause", h.Cause, h.CauseReason)
	}
	for _, n := range r.Open {
		if n.Code == "decision" || n.Code == "cause" || n.Code == "readings-unit" || n.Code == "volume" {
			line("to settle", n.Settle, "")
		}
	}
	for _, n := range r.Warnings {
		if !slices.ContainsFunc(doubts, func(f fault.Fault) bool { return f.Error() == n.Text }) {
			line("note", n.Text, "")
		}
	}
}

// between tells two times of a record in the site's time, to the second; with
// their offsets where the clocks were changed between them.
func between(from, to string) string {
	a, err := time.Parse(time.RFC3339, from)
	b, err2 := time.Parse(time.RFC3339, to)
	if err != nil || err2 != nil {
		return from + " to " + to
	}
	a, b = a.Round(time.Second), b.Round(time.Second)
	layout := time.DateTime
	if a.Format("Z07:00") != b.Format("Z07:00") {
		return a.Format(layout+"Z07:00") + " to " + b.Format(layout+"Z07:00")
	}
	if a.Format(time.DateOnly) == b.Format(time.DateOnly) {
		layout = time.TimeOnly
	}
	return a.Format(time.DateTime) + " to " + b.Format(layout)
}

func showInput(w io.Writer, in readings.Input) {
	kind := strings.Trim(strings.Join([]string{in.Kind, in.Encoding, in.Sheet}, ", "), ", ")
	fmt.Fprintf(w, "\n  %s (%s)\n", in.File, strings.ReplaceAll(kind, ", , ", ", "))
	var roles []string
	for role := range in.Columns {
		roles = append(roles, role)
	}
	sort.Strings(roles)
	for _, role := range roles {
		c := in.Columns[role]
		unit := ""
		if c.Unit != "" {
			unit = " in " + c.Unit
		}
		fmt.Fprintf(w, "    %-9s column %s %q%s: %s\n", role, c.Letter, c.Header, unit, c.Why)
	}
	fmt.Fprintf(w, "    dates     %s: %s; time zone %s\n", in.DateOrder, in.DateWhy, in.TimeZone)
	fmt.Fprintf(w, "    time      %s to %s, every %.4g s\n", job.Told(in.First, in.First.Location()), job.Told(in.Last, in.Last.Location()), in.Interval)
	fmt.Fprintf(w, "    rows      %d = %d used", in.Rows, in.Used)
	for _, part := range []struct {
		n    int
		what string
	}{{in.OverRange, "over range"}, {in.UnderRange, "under range"}, {in.NotANumber, "not a number"}, {in.Duplicates, "duplicate"}, {in.Unused, "outside the recording"}} {
		if part.n > 0 {
			fmt.Fprintf(w, " + %d %s", part.n, part.what)
		}
	}
	fmt.Fprintf(w, "; %d out of order, %s\n", in.OutOfOrder, counted(in.Gaps, "gap"))
}

func (a *app) showFaults(f *faults) {
	n, doubts := 0, 0
	a.faults(f)
	for _, one := range f.list {
		if one.Doubt {
			doubts++
		} else {
			n++
		}
	}
	if !a.quiet {
		fmt.Fprintf(a.out, "\n%s, %s\n", counted(n, "fault"), counted(doubts, "doubt"))
	}
}
