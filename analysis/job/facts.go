package job

import (
	"slices"
	"time"
)

// Facts is what is known when a job file is begun. Empty texts are asked for in
// the file's comments.
type Facts struct {
	Number, Kind, Timezone, Altitude, Refrigerant, Customer, Address string
	Date                                                             time.Time
	Schema                                                           string      // path of the schema for editors; empty: none
	Company                                                          bool        // there is a company.toml: firm, technician and criterion may be there
	Instruments                                                      []string    // ids of vacuum gauges that company.toml has
	Recordings                                                       []Recording // in the order of time
	Maker                                                            Maker
}

// Recording is a spreadsheet that was found beside the job file.
type Recording struct {
	ID, Sheet   string
	Files       []string  // one, or several that follow one another
	Measures    string    // "vacuum" or "pressure"; empty where that is not known
	Instrument  string    // id of the only gauge in company.toml that can have made it; empty: none, or several
	Columns     string    // what was recognised and what is open, in words: "pressure C micron, time A"
	First, Last time.Time // of its readings, in the site's time; zero where that is not known
	Elapsed     bool      // it counts elapsed time and needs a start
}

// Span is from when to when a recording goes, "" where that is not known.
func (r Recording) Span() string {
	if r.First.IsZero() {
		return ""
	}
	return Told(r.First, r.First.Location()) + " to " + Told(r.Last, r.Last.Location())
}

// LastOf is the last recording of a kind, "vacuum" or "pressure", the one that
// decides; the zero value where there is none. Those before it may be of earlier attempts.
func LastOf(measures string, list []Recording) Recording {
	for _, r := range slices.Backward(list) {
		if r.Measures == measures {
			return r
		}
	}
	return Recording{}
}

// Begun is the day that the earliest of the recordings begins on, zero where that is not known.
func Begun(list []Recording) (day time.Time) {
	for _, r := range list {
		if !r.First.IsZero() && (day.IsZero() || r.First.Before(day)) {
			day = r.First
		}
	}
	return day
}

// Maker is the criterion of the equipment maker, empty where it was not given.
type Maker struct{ Reach, Limit, Minutes, Document, Page string }

// Given reports whether the maker's figures are known.
func (m Maker) Given() bool { return m.Limit != "" && m.Minutes != "" }

// exampleDay stands in examples where no day of the job is known.
var exampleDay = time.Date(2031, 4, 9, 0, 0, 0, 0, time.UTC)

// day is the one that examples are written with: the job's, else that of its recordings.
func (f Facts) day() time.Time {
	for _, d := range []time.Time{f.Date, Begun(f.Recordings)} {
		if !d.IsZero() {
			return d
		}
	}
	return exampleDay
}
