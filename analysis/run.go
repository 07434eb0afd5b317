package analysis

import (
	"fmt"
	"strings"
	"time"

	"dryhold/analysis/fault"
	"dryhold/analysis/fluid"
	"dryhold/analysis/job"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
)

// Options is what Run cannot know from the job.
type Options struct {
	Software record.Software
	Revision int        // 2 and up for a record that amends another
	Doubts   fault.List // of reading the job and its files; each becomes a warning
}

// Run works out one job. It reads no file and no clock: the same job and
// readings give the same Record. The faults are those that need the job and the
// readings together, above all a hold that has to be asked for; doubts among
// them become warnings of the record.
func Run(j *job.Job, series map[string]*readings.Series, o Options) (*record.Record, fault.List) {
	r := &runner{job: j, series: series, rec: &record.Record{Format: record.Format, Software: o.Software, Inputs: []record.Input{}, Warnings: []record.Note{}}}
	r.identity(o)
	for _, d := range o.Doubts {
		if d.Doubt {
			r.warn(record.Note{Code: d.Code, Text: d.Error(), Where: d.Where()})
		}
	}
	r.inputs()
	r.instruments()
	r.pumpCheck()
	r.recordings()
	r.beforeAndAfter()
	r.notDetermined()
	r.cautions()
	r.faults.Sort()
	return r.rec, r.faults
}

// runner carries one job through the steps of Run; each step fills its part of rec.
type runner struct {
	job         *job.Job
	series      map[string]*readings.Series
	rec         *record.Record
	faults      fault.List
	atmosphere  float64 // Pa, at the site
	atmosphereU float64
	volume      volume
	coolant     *fluid.Refrigerant // nil where not in the table
}

func (r *runner) warn(n record.Note) { r.rec.Warnings = append(r.rec.Warnings, n) }

// stamp prints an instant as RFC 3339 in the job's zone, "" for none.
func (r *runner) stamp(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	if r.job.Zone != nil {
		t = t.In(r.job.Zone)
	}
	return t.Round(time.Millisecond).Format("2006-01-02T15:04:05.999Z07:00")
}

func day(d job.Date) string {
	if !d.Given() {
		return ""
	}
	return d.Format(time.DateOnly)
}

// inputs lists every file with its counts, in the order of the job file.
func (r *runner) inputs() {
	for _, in := range r.job.Readings {
		s := r.series[in.ID]
		if s == nil {
			continue
		}
		for _, f := range s.Inputs {
			r.rec.Inputs = append(r.rec.Inputs, record.Input{
				ID: in.ID, File: f.File, SHA256: f.SHA256, Kind: f.Kind, Sheet: f.Sheet, Rows: f.Rows, Used: f.Used,
				OverRange: f.OverRange, UnderRange: f.UnderRange, NotANumber: f.NotANumber, Duplicates: f.Duplicates,
				Unused: f.Unused, OutOfOrder: f.OutOfOrder, Gaps: f.Gaps, PressureUnit: f.Columns["pressure"].Unit,
				TimeZone: f.TimeZone, First: r.stamp(f.First), Last: r.stamp(f.Last), Interval: record.Plain(f.Interval, "s"),
			})
		}
	}
}

// instruments copies them and marks those that were used while overdue.
func (r *runner) instruments() {
	for _, in := range r.job.Instruments {
		if len(r.uses(in.ID)) == 0 { // of the firm, but not of this job
			continue
		}
		x := record.Instrument{ID: in.ID, Measures: in.Measures, Principle: in.Principle, Maker: in.Maker, Model: in.Model,
			Range: in.Range.Text, Serial: in.Serial, Calibrated: day(in.Calibrated), Due: day(in.Due), Certificate: in.Certificate,
			Check: in.Check, Accuracy: in.Accuracy.Text, Resolution: in.Resolution.Text,
			Overdue: r.overdue(&in), UsedFor: r.uses(in.ID)}
		r.rec.Instruments = append(r.rec.Instruments, x)
		if x.Overdue {
			r.warn(record.Note{Code: "overdue", Where: in.ID, Names: map[string]string{"id": in.ID, "due": x.Due},
				Text: fmt.Sprintf("calibration of %s was due on %s, before it was used: results that rest on it are not settled by it", in.ID, x.Due)})
		}
	}
}

// uses lists what an instrument was used for, by the job's tables.
func (r *runner) uses(id string) []string {
	var u []string
	add := func(what, with string) {
		if with == id {
			u = append(u, what)
		}
	}
	for _, in := range r.job.Readings {
		add("readings "+in.ID, in.Instrument)
	}
	if c := r.job.PumpCheck; c != nil {
		add("pump check", c.Instrument)
	}
	if p := r.job.PressureTest; p != nil {
		add("pressure test", p.Instrument)
		add("pressure test, temperature", p.Thermometer)
	}
	if c := r.job.Charge; c != nil {
		add("charge", c.Instrument)
	}
	if s := r.job.Startup; s != nil {
		add("start-up, pressures", s.PressureGauge)
		add("start-up, temperatures", s.Thermometer)
	}
	return u
}

// instrument finds an instrument by id.
func (r *runner) instrument(id string) *job.Instrument {
	for i := range r.job.Instruments {
		if r.job.Instruments[i].ID == id {
			return &r.job.Instruments[i]
		}
	}
	return nil
}

// oneOf reports whether s is among the words.
func oneOf(s string, words ...string) bool {
	for _, w := range words {
		if strings.EqualFold(s, w) {
			return true
		}
	}
	return false
}
