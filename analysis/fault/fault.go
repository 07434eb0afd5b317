// Package fault is the one shape of a message about bad input: where, what was
// found, what was expected, and what to do about it. Packages that read input
// return a List of all that they find, not the first.
package fault

import (
	"fmt"
	"sort"
	"strings"
)

// Kind says which part of the input a fault belongs to; it decides the exit code.
type Kind uint8

const (
	Job      Kind = iota // job.toml, company.toml or the job form
	Readings             // a readings file: missing, damaged or ambiguous
)

// Fault is one thing that is wrong. Line and Column count from 1; 0 means that
// they do not apply. Sheet and Cell are for workbooks, Key for TOML.
type Fault struct {
	Kind     Kind
	Code     string // short stable name, for "check --explain"
	File     string
	Line     int
	Column   int
	Sheet    string
	Cell     string
	Key      string // dotted TOML key
	Found    string // what is there
	Expected string // what was expected
	Mend     string // what to do, often a line to paste
	Doubt    bool   // a doubt is shown but does not stop the record
}

// Where is the place in the form file:line:column, file!sheet:cell or file.
func (f Fault) Where() string {
	s := f.File
	if f.Sheet != "" {
		s += "!" + f.Sheet
	}
	if f.Cell != "" {
		s += ":" + f.Cell
	}
	if f.Line > 0 {
		s += fmt.Sprintf(":%d", f.Line)
		if f.Column > 0 {
			s += fmt.Sprintf(":%d", f.Column)
		}
	}
	return s
}

// Error is the whole message on one line, without the mend.
func (f Fault) Error() string {
	var parts []string
	if w := f.Where(); w != "" {
		parts = append(parts, w)
	}
	if f.Key != "" {
		parts = append(parts, f.Key)
	}
	msg := f.Found
	if f.Expected != "" {
		msg += "; expected " + f.Expected
	}
	return strings.Join(append(parts, msg), ": ")
}

// List is every fault found.
type List []Fault

// Error joins the messages, one a line.
func (l List) Error() string {
	lines := make([]string, len(l))
	for i, f := range l {
		lines[i] = f.Error()
	}
	return strings.Join(lines, "\n")
}

// Stops reports whether any of the faults is more than a doubt.
func (l List) Stops() bool {
	for _, f := range l {
		if !f.Doubt {
			return true
		}
	}
	return false
}

// More is the code of a fault that says how many of a file are not told.
const More = "more"

// Sort orders faults by severity, file and line; equal ones keep their order, and
// how many more there are stands behind them.
func (l List) Sort() {
	sort.SliceStable(l, func(i, k int) bool {
		a, b := l[i], l[k]
		if a.Doubt != b.Doubt {
			return b.Doubt
		}
		if a.File != b.File {
			return a.File < b.File
		}
		if (a.Code == More) != (b.Code == More) {
			return b.Code == More
		}
		return a.Line < b.Line
	})
}
