package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"os"
	"regexp"
	"strings"
	"time"

	"golang.org/x/term"

	"dryhold/analysis/job"
)

// terminal reports whether somebody can be asked.
func (a *app) terminal() bool {
	in, ok := a.in.(*os.File)
	return ok && term.IsTerminal(int(in.Fd()))
}

// ask puts the questions that no option answers. An answer that the job file
// could not take is told and asked for again; an empty one leaves the key open.
func (a *app) ask(in io.Reader, f *facts) error {
	s := bufio.NewScanner(in)
	day, begun := "for example 2031-04-12", ""
	if first := job.Begun(f.Recordings); !first.IsZero() {
		begun = first.Format(time.DateOnly)
		day = "empty: " + begun + ", when the readings begin"
	}
	for _, q := range []struct {
		text   string
		to     *string
		makers bool // asked only where the maker's limit is known
	}{
		{"job number", &f.Number, false}, {"day of the job (" + day + ")", &f.date, false},
		{"kind (new, replacement, repair, relocation, retrofit)", &f.Kind, false},
		{"time zone of the site (for example America/Denver)", &f.Timezone, false}, {"altitude of the site (for example 1609 m)", &f.Altitude, false},
		{"customer", &f.Customer, false}, {"address of the site", &f.Address, false}, {"refrigerant (for example R-454B)", &f.Refrigerant, false},
		{"the maker's limit of the hold (for example 500 micron; empty: common practice)", &f.Maker.Limit, false},
		{"minutes after which it counts", &f.Maker.Minutes, true},
		{"title of the maker's instruction", &f.Maker.Document, true}, {"page that has the limit", &f.Maker.Page, true},
	} {
		for asked := *q.to == "" && (!q.makers || f.Maker.Limit != ""); asked; {
			fmt.Fprintf(a.err, "%s: ", q.text)
			if !s.Scan() {
				return s.Err()
			}
			*q.to = strings.TrimSpace(s.Text())
			if *q.to == "" && q.to == &f.date {
				*q.to = begun
			}
			needed := *q.to == "" && (q.to == &f.Number || q.to == &f.Maker.Minutes)
			err := f.wrong()
			if asked = needed || err != nil; err != nil {
				a.report(err)
				*q.to = ""
			}
		}
	}
	return nil
}

// facts are those of the job, with the day as it was written.
type facts struct {
	job.Facts
	date string
}

// stated reports whether anything is known of a job.
func (f *facts) stated() bool {
	m := f.Maker
	return f.Number+f.Kind+f.Timezone+f.Altitude+f.Refrigerant+f.Customer+f.Address+f.date+m.Limit+m.Minutes+m.Document+m.Page != ""
}

// wrong says what of the facts a job file could not take.
func (f *facts) wrong() error {
	f.Date = time.Time{}
	if f.date != "" {
		var err error
		if f.Date, err = time.Parse(time.DateOnly, f.date); err != nil {
			return usage(fmt.Errorf("%q is not a day", f.date), "write year, month and day, as in 2031-04-12")
		}
	}
	stated := f.Facts
	stated.Recordings = nil // what is wrong with those, check tells
	if stated.Maker.Minutes == "" {
		stated.Maker.Minutes = "1" // else the limit would not be written yet
	}
	_, list := job.Decode(job.File{Name: "job.toml", Data: job.Skeleton(stated)}, nil, nil)
	for _, one := range list {
		if !one.Doubt && one.Code != "required" {
			one.File, one.Line, one.Column, one.Key = "", 0, 0, ""
			mend := strings.TrimSuffix(one.Mend, ", or delete the line") // there is none yet
			return usage(one, assigned.ReplaceAllString(mend, "$1"))
		}
	}
	return nil
}

// assigned is a line of the job file; the answer to a question is its value alone.
var assigned = regexp.MustCompile(`\b[a-z_]+ = ("[^"]*")`)

// missing says what a job file cannot be begun without.
func (f *facts) missing() error {
	switch {
	case f.Number == "":
		return usage(errors.New("the job has no number"), "give it by --number")
	case f.Maker.Limit != "" && f.Maker.Minutes == "":
		return usage(errors.New("the maker's limit counts after some minutes, and they are not given"), "give them by --minutes")
	case f.Maker.Limit == "" && (f.Maker.Minutes != "" || f.Maker.Document != "" || f.Maker.Page != ""):
		return usage(errors.New("the maker's document is named, and not the limit in it"), "give it by --limit")
	}
	return nil
}
