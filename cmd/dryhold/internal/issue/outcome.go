package issue

import (
	"errors"
	"slices"

	"dryhold/analysis/fault"
	"dryhold/analysis/record"
)

// States of an outcome.
const (
	Issued    = "issued"
	Unchanged = "unchanged"
	Completed = "completed" // missing files of an issued record were added
	Planned   = "would be issued"
	Failed    = "failed"
)

// Outcome is what became of one job. A batch keeps all of them to its end, so that they
// hold on to nothing of the job but these words.
type Outcome struct {
	Source   Source
	Company  string // path of the company.toml that was read
	Number   string
	Revision int
	State    string
	Decision string
	Reason   string // of the decision
	Cause    string
	Settle   string // what would settle a cause that is not determined
	Inflow   bool
	Beside   []string // what the tests beside the hold ask for
	Digest   string
	Files    []string // names in the output folder
	Pages    int
	Warnings []string // of the record
	General  int      // of them, the last ones: true of nearly every job, and nothing to be done
	Doubts   fault.List
	Faults   fault.List // why there is no record, where it is the input's fault
	Err      error      // why there is no record, otherwise
}

// ErrChanged says that a record was issued from other inputs.
var ErrChanged = errors.New("a record was issued with this number, and the job or its files have changed since")

// AmendError says what the job file has to say before a record is amended.
type AmendError struct{ Digest string }

func (e *AmendError) Error() string {
	return "the job file does not say which record it amends, and why"
}

// always are warnings true of nearly every job of a firm: what follows from them
// stands with the cause.
var always = []string{"gas-dependent", "ice-possible", "gauge-at-pump"}

// tell copies what tables show of the result.
func (o *Outcome) tell(w *Work) {
	o.Digest = record.Digest(w.Results)
	var general []string
	for _, n := range w.Record.Warnings {
		if slices.ContainsFunc(w.Doubts, func(f fault.Fault) bool { return f.Kind == fault.Job && f.Error() == n.Text }) {
			continue // told as a doubt
		}
		if slices.Contains(always, n.Code) {
			general = append(general, n.Text)
			continue
		}
		o.Warnings = append(o.Warnings, n.Text)
	}
	o.Warnings, o.General = append(o.Warnings, general...), len(general)
	for _, n := range w.Record.Open {
		if n.Code == "cause" || n.Code == "readings-unit" {
			o.Settle = n.Settle
		}
	}
	o.Beside = w.Record.Beside()
	if h := w.Record.Hold; h != nil {
		o.Decision, o.Reason, o.Cause, o.Inflow = h.Decision, h.DecisionReason, h.Cause, h.Inflow
	}
}
