package main

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"time"

	"dryhold/analysis/job"
	"dryhold/analysis/load"
	"dryhold/analysis/readings"
)

// exports looks at the spreadsheets in the folder and says what it makes of them.
func (a *app) exports(dir string, instruments []job.Instrument, f job.Facts) ([]job.Recording, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
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
		fmt.Fprintf(a.err, "dryhold: %s: %s\n", e.Name(), found)
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
	s, faults := readings.Read([]readings.File{{Name: name, Data: data}}, o)
	for _, one := range faults {
		r.Elapsed = r.Elapsed || one.Code == "start" || one.Code == "elapsed"
	}
	if r.Elapsed { // its columns are understood all the same
		o.Start = time.Date(2000, 1, 1, 0, 0, 0, 0, zone)
		s, faults = readings.Read([]readings.File{{Name: name, Data: data}}, o)
	}
	if faults.Stops() || s == nil || len(s.Inputs) == 0 {
		for _, one := range faults {
			if !one.Doubt {
				return r, "not understood yet: " + one.Found
			}
		}
		return r, "not understood yet"
	}
	in := s.Inputs[0]
	r.Sheet = in.Sheet
	var columns []string
	for role, c := range in.Columns {
		columns = append(columns, strings.TrimSpace(fmt.Sprintf("%s %s %s", role, c.Letter, c.Unit)))
	}
	sort.Strings(columns)
	r.Columns = strings.Join(columns, ", ")
	found = r.Columns
	if r.Elapsed {
		found += "; it counts elapsed time: the job has to say when it was started"
	} else {
		r.First, r.Last = in.First, in.Last
	}
	r.ID, r.Measures = "vacuum", "vacuum"
	if slices.ContainsFunc(s.P, func(p float64) bool { return p > 2*atmosphere }) {
		r.ID, r.Measures = "nitrogen", "pressure"
	}
	return r, found
}
