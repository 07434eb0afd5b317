package main

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/readings"
)

// understood is an export as far as it could be read, and what to say of it.
type understood struct {
	job.Recording
	says string
}

// recordings describes an export: one recording, or one for each sheet of a
// workbook that holds readings in several.
func recordings(name string, data []byte, f job.Facts) []understood {
	whole, stop := recording(name, "", data, f)
	if stop == nil || stop.Code != "sheets" {
		return []understood{whole}
	}
	book, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		return []understood{whole}
	}
	defer book.Close()
	var list []understood
	for _, sheet := range book.GetSheetList() {
		if one, stop := recording(name, sheet, data, f); stop == nil {
			one.says = fmt.Sprintf("sheet %q: %s", sheet, one.says)
			list = append(list, one)
		}
	}
	return list
}

// recording describes one export, or one sheet of it; stop is why it could not
// be understood.
func recording(name, sheet string, data []byte, f job.Facts) (u understood, stop *fault.Fault) {
	u.Files, u.Sheet = []string{name}, sheet
	zone, err := time.LoadLocation(f.Timezone)
	if err != nil {
		zone = time.UTC
	}
	atmosphere, _, _ := (&job.Job{}).Atmosphere()
	o := readings.Options{ID: "recording", Sheet: sheet, Zone: zone, JobDate: f.Date, Atmosphere: atmosphere}
	read := func() (*readings.Series, *fault.Fault) {
		s, list := readings.Read([]readings.File{{Name: name, Data: data}}, o)
		return s, stopper(list)
	}
	s, stop := read()
	open := "" // what the job still has to say of its times
	if stop != nil {
		if open = assume(&o, *stop); open != "" { // its columns are understood all the same
			u.Elapsed = !o.Start.IsZero()
			s, stop = read()
		}
	}
	if stop != nil || s == nil || len(s.Inputs) == 0 {
		u.says = "not understood yet"
		if stop != nil {
			u.says += ": " + stop.Found
		}
		return u, stop
	}
	in := s.Inputs[0]
	u.Sheet, u.Columns = in.Sheet, columns(in)
	if open != "" {
		u.Columns += "; " + open
	} else {
		u.First, u.Last = in.First, in.Last
	}
	u.says, u.Measures = u.Columns, "vacuum"
	if slices.ContainsFunc(s.P, func(p float64) bool { return p > 2*atmosphere }) {
		u.Measures = "pressure"
	}
	return u, nil
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
