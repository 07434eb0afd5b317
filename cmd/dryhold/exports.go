package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"time"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/load"
	"dryhold/analysis/readings"
)

// exports looks at the spreadsheets in the folder, if it is there, and says what
// it makes of them.
func exports(dir string, instruments []job.Instrument, f job.Facts, say io.Writer) ([]job.Recording, error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, err
	}
	var list []job.Recording
	taken := map[string]bool{}
	for _, e := range entries {
		if !e.Type().IsRegular() || !isExport(e.Name()) {
			continue
		}
		data, err := readLimited(filepath.Join(dir, e.Name()), load.MaxReadings)
		if err != nil {
			return nil, err
		}
		r, found := recording(e.Name(), data, f)
		r.Instrument = only(instruments, r.Measures)
		for n := 2; taken[r.ID]; n++ {
			r.ID = fmt.Sprintf("%s-%d", strings.TrimRight(r.ID, "-0123456789"), n)
		}
		taken[r.ID] = true
		list = append(list, r)
		fmt.Fprintf(say, "dryhold: %s: %s\n", e.Name(), found)
	}
	return list, nil
}

// isExport tells by its name whether a file may be an instrument's export.
func isExport(name string) bool {
	if strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || name == "job.xlsx" {
		return false
	}
	ext := filepath.Ext(strings.TrimSuffix(strings.ToLower(name), ".gz"))
	return slices.Contains([]string{".csv", ".tsv", ".xlsx", ".xls"}, ext)
}

// only is the id of the one instrument that measures something, "" for none or several.
func only(list []job.Instrument, measures string) (id string) {
	for _, in := range list {
		if in.Measures == measures {
			if id != "" {
				return ""
			}
			id = in.ID
		}
	}
	return id
}

// recording describes one export as far as it can be understood, and says so in words.
func recording(name string, data []byte, f job.Facts) (r job.Recording, found string) {
	r = job.Recording{ID: "recording", File: name}
	zone, err := time.LoadLocation(f.Timezone)
	if err != nil {
		zone = time.UTC
	}
	atmosphere, _, _ := (&job.Job{}).Atmosphere()
	o := readings.Options{ID: r.ID, Zone: zone, JobDate: f.Date, Atmosphere: atmosphere}
	read := func() (*readings.Series, *fault.Fault) {
		s, list := readings.Read([]readings.File{{Name: name, Data: data}}, o)
		return s, stopper(list)
	}
	s, stop := read()
	open := "" // what the job still has to say of its times
	if stop != nil {
		if open = assume(&o, *stop); open != "" { // its columns are understood all the same
			r.Elapsed = !o.Start.IsZero()
			s, stop = read()
		}
	}
	if stop != nil || s == nil || len(s.Inputs) == 0 {
		if stop != nil {
			return r, "not understood yet: " + stop.Found
		}
		return r, "not understood yet"
	}
	in := s.Inputs[0]
	r.Sheet, r.Columns = in.Sheet, columns(in)
	if open != "" {
		r.Columns += "; " + open
	} else {
		r.First, r.Last = in.First, in.Last
	}
	r.ID, r.Measures = "vacuum", "vacuum"
	if slices.ContainsFunc(s.P, func(p float64) bool { return p > 2*atmosphere }) {
		r.ID, r.Measures = "nitrogen", "pressure"
	}
	return r, r.Columns
}

// stopper is the first fault that is more than a doubt, nil for none.
func stopper(list fault.List) *fault.Fault {
	for i := range list {
		if !list[i].Doubt {
			return &list[i]
		}
	}
	return nil
}

// assume sets a time that lets a recording be read for a look, and says what the
// job has to state instead; "" where that would not help.
func assume(o *readings.Options, f fault.Fault) string {
	any := time.Date(2000, 1, 1, 0, 0, 0, 0, o.Zone)
	switch f.Code {
	case "start", "elapsed":
		o.Start = any
		return "it counts elapsed time: the job has to say when it was started"
	case "date":
		o.JobDate = any
		return "its times have no date: the job's date will be taken"
	case "date-order":
		day, err := time.ParseInLocation(time.DateOnly, isoDay.FindString(f.Mend), o.Zone)
		if err != nil {
			return ""
		}
		o.JobDate = day
		return f.Found + ": the job's date will decide it"
	}
	return ""
}

// isoDay finds the first of the two days that the hint about an ambiguous date proposes.
var isoDay = regexp.MustCompile(`\d{4}-\d{2}-\d{2}`)

// columns names what was recognised, such as "pressure C micron, time A".
func columns(in readings.Input) string {
	var list []string
	for role, c := range in.Columns {
		list = append(list, strings.TrimSpace(fmt.Sprintf("%s %s %s", role, c.Letter, c.Unit)))
	}
	sort.Strings(list)
	return strings.Join(list, ", ")
}
