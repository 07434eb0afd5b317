package register

import (
	"cmp"
	"fmt"
	"iter"
	"net/url"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/record"
)

var recordHead = []string{"job", "revision", "replaced by", "date", "customer", "site", "circuit", "refrigerant", "criterion", "cause", "headline",
	"reading at the limit (micron)", "limit (micron)", "rise in the hold (micron)", "leak (Pa·m³/s)", "leak, 95 % low (Pa·m³/s)", "leak, 95 % high (Pa·m³/s)",
	"smallest leak that would show (Pa·m³/s)", "charge added (kg)", "charge total (kg)", "instruments", "warnings", "record", "digest"}

var recordWidth = []float64{18, 9, 12, 12, 24, 28, 9, 12, 18, 18, 40, 12, 12, 12, 14, 14, 14, 14, 12, 12, 30, 10, 30, 20}

// records writes the first sheet and gathers what the other two need.
func (b *book) records(entries iter.Seq[Entry]) error {
	if err := b.styles(); err != nil {
		return err
	}
	if err := b.file.SetSheetName("Sheet1", "records"); err != nil {
		return err
	}
	s, err := b.sheet("records", recordHead, recordWidth)
	if err != nil {
		return err
	}
	var job []Entry // the records of one, in their order
	write := func() error {
		for _, e := range job {
			if err := b.recordRow(s, e, replacing(e, job)); err != nil {
				return err
			}
		}
		if len(job) > 0 {
			b.gather(job[len(job)-1].Record)
		}
		job = nil
		return nil
	}
	for e := range entries {
		if len(job) > 0 && job[0].Record.Job.Number != e.Record.Job.Number {
			if err := write(); err != nil {
				return err
			}
		}
		job = append(job, e)
	}
	if err := write(); err != nil {
		return err
	}
	return s.close()
}

func revision(e Entry) int { return max(1, e.Record.Job.Revision) }

// replacing is the next revision of a record among those of its job, 0 for none.
func replacing(e Entry, job []Entry) (next int) {
	for _, f := range job {
		if n := revision(f); n > revision(e) && (next == 0 || n < next) {
			next = n
		}
	}
	return next
}

// recordRow writes a record's row, in grey where a later revision counts.
func (b *book) recordRow(s *sheet, e Entry, replacedBy int) error {
	r := e.Record
	var by any
	if replacedBy > 0 {
		by = fmt.Sprintf("revision %d", replacedBy)
	}
	h := cmp.Or(r.Hold, &record.Hold{Decision: "no hold"})
	c := cmp.Or(r.Charge, &record.Charge{})
	low, high := bounds(h.LeakRate)
	var used []string
	for _, i := range r.Instruments {
		if len(i.UsedFor) > 0 {
			used = append(used, strings.TrimSpace(i.ID+" "+i.Serial))
		}
	}
	cells := []any{text(r.Job.Number), revision(e), by, b.day(r.Job.Date), text(r.Job.Customer.Name), text(r.Job.Site.Address), text(r.Job.System.Circuit),
		text(r.Job.System.Refrigerant), text(h.Decision), text(h.Cause), text(headline(h, r.Beside())),
		micron(h.ReadingAtLimit, h.StandardUncertainty), micron(h.Limit, nil), micron(h.Rise, nil), b.power(number(h.LeakRate, asRead)), b.power(low), b.power(high),
		b.power(number(h.SmallestLeak, rough)), number(c.Added, asRead), number(c.Total, asRead), text(strings.Join(used, ", ")), len(r.Warnings), link(e.Link), text(e.Digest)}
	if replacedBy == 0 {
		return s.add(cells)
	}
	for i, c := range cells {
		if d, ok := c.(excelize.Cell); ok && b.grey[d.StyleID] > 0 {
			d.StyleID = b.grey[d.StyleID]
			cells[i] = d
		}
	}
	return s.add(cells, excelize.RowOpts{StyleID: b.old})
}

// headline keeps a criterion that was met from hiding an inflow, and the hold
// what the other tests ask for.
func headline(h *record.Hold, beside []string) string {
	var parts []string
	switch {
	case h.Inflow && record.Passes(h.Decision):
		parts = append(parts, "criterion met, but the readings show a continuing inflow: find it")
	case h.Inflow:
		parts = append(parts, "the readings show a continuing inflow: find it")
	}
	return strings.Join(append(parts, beside...), "; ")
}

// link is a formula of our own; the path in it is escaped, so that a file's name
// cannot end the string.
func link(path string) any {
	if path == "" {
		return nil
	}
	shown := strings.ReplaceAll(path, `"`, `""`)
	target := (&url.URL{Path: path}).EscapedPath()
	if len(target) > 255 || len(shown) > 255 {
		return text(path)
	}
	return excelize.Cell{Formula: fmt.Sprintf(`HYPERLINK("%s","%s")`, target, shown), Value: path}
}

type pumpRow struct {
	pump, date, job string
	check           *record.PumpCheck
}

type instrument struct {
	record.Instrument
	jobs, overdue int
	last          string
}

// gather keeps what the sheets of pumps and instruments need of a job's last record.
func (b *book) gather(r *record.Record) {
	name := r.Job.Number
	for _, i := range r.Inputs {
		t := b.uses[i.SHA256]
		if t == nil {
			t = &Twice{SHA256: i.SHA256, File: i.File}
			b.uses[i.SHA256] = t
		}
		if !slices.Contains(t.Jobs, name) {
			t.Jobs = append(t.Jobs, name)
		}
	}
	if p := r.PumpCheck; p != nil {
		b.pumps = append(b.pumps, pumpRow{cmp.Or(p.Pump, unnamed), r.Job.Date, name, p})
	}
	for _, i := range r.Instruments {
		key := i.ID + "\x00" + i.Serial
		have := b.instruments[key]
		if have == nil {
			have = &instrument{}
			b.instruments[key] = have
		}
		if r.Job.Date >= have.last {
			have.Instrument, have.last = i, r.Job.Date
		}
		if len(i.UsedFor) > 0 {
			have.jobs++
			if i.Overdue {
				have.overdue++
			}
		}
	}
}

func (b *book) instrumentSheet() error {
	s, err := b.sheet("instruments", []string{"instrument", "serial", "maker", "model", "measures", "calibrated", "calibration due", "last used", "jobs", "of these while overdue"},
		[]float64{18, 18, 18, 18, 14, 12, 12, 12, 8, 12})
	if err != nil {
		return err
	}
	list := make([]*instrument, 0, len(b.instruments))
	for _, i := range b.instruments {
		list = append(list, i)
	}
	slices.SortFunc(list, func(x, y *instrument) int {
		return cmp.Or(strings.Compare(x.ID, y.ID), strings.Compare(x.Serial, y.Serial))
	})
	for _, i := range list {
		if err := s.add([]any{text(i.ID), text(i.Serial), text(i.Maker), text(i.Model), text(i.Measures), b.day(i.Calibrated), b.day(i.Due),
			b.day(i.last), i.jobs, i.overdue}); err != nil {
			return err
		}
	}
	return s.close()
}
