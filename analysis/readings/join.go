package readings

import (
	"fmt"
	"math"
	"slices"
	"time"

	"dryhold/analysis/fault"
	"dryhold/analysis/quantity"
)

// join puts the files of one recording in order and counts what is set aside.
func join(s *Series, parts []*recording, o Options, rep *report) {
	var all []reading
	for k, p := range parts {
		p.disorder(rep)
		s.Inputs[k] = p.input
		if len(parts) == 1 {
			all = p.rows
		} else {
			all = append(all, p.rows...)
		}
	}
	if len(parts) > 1 {
		apart(s, parts, rep)
	}
	byTime := func(a, b reading) int {
		switch {
		case a.at < b.at:
			return -1
		case a.at > b.at:
			return 1
		}
		return 0
	}
	if !slices.IsSortedFunc(all, byTime) {
		slices.SortStableFunc(all, byTime)
	}
	leap(s, all, o.Zone, rep)
	s.fill(all, o, rep)
	if s.Len() == 0 && !rep.stops() {
		rep.add(fault.Fault{Code: "no-rows", File: s.Inputs[0].File, Found: "no row has a time and a pressure", Expected: "readings", Mend: "export the recording again"})
		return
	}
	if in := s.Inputs[0]; s.Len() == 1 && in.Duplicates > few {
		rep.add(fault.Fault{Code: "still", File: in.File, Sheet: in.Sheet, Found: fmt.Sprintf("all %d readings have the same time, %s", in.Duplicates+1, s.Start.Format(time.DateTime)),
			Expected: "a time that runs on from row to row", Mend: `if another column tells the time, say which in job.toml by its header or its letter, for example: [[readings]] time = "column B"; else export again with seconds`})
		return
	}
	s.offsets(o, rep)
	for k := range s.Inputs {
		parts[k].pace(&s.Inputs[k], o.Zone)
	}
}

// apart refuses files whose rows lie between each other's: they are not one
// recording. Files that share some rows are.
func apart(s *Series, parts []*recording, rep *report) {
	for k, p := range parts {
		for j, q := range parts[:k] {
			if len(p.rows) == 0 || len(q.rows) == 0 {
				continue
			}
			known := make(map[int64]float64, len(q.rows))
			lo, hi := q.rows[0].at, q.rows[0].at
			for _, r := range q.rows {
				known[r.at], lo, hi = r.p, min(lo, r.at), max(hi, r.at)
			}
			alien := 0
			for _, r := range p.rows {
				if v, ok := known[r.at]; r.at > lo && r.at < hi && (!ok || v != r.p && !(math.IsNaN(v) && math.IsNaN(r.p))) {
					alien++
				}
			}
			if alien > few {
				rep.add(fault.Fault{Code: "overlap", File: s.Inputs[k].File, Found: fmt.Sprintf("%d of its rows lie within the time of %s and differ from its rows", alien, s.Inputs[j].File),
					Expected: "files of one recording, one after the other", Mend: "give each recording its own [[readings]] in job.toml"})
			}
		}
	}
}

// fill builds the series from sorted entries, each instant once.
func (s *Series) fill(all []reading, o Options, rep *report) {
	last := -1 // index of the last entry taken
	ambient := false
	for i := range all {
		e := &all[i]
		in := &s.Inputs[e.file]
		if e.mark == notNumber {
			in.NotANumber++
			continue
		}
		if last >= 0 && s.seconds(e.at) == s.T[len(s.T)-1] {
			in.Duplicates++
			if d := &all[last]; d.mark != e.mark || d.p != e.p && !(math.IsNaN(d.p) && math.IsNaN(e.p)) {
				rep.add(fault.Fault{Code: "same-time", File: in.File, Line: int(e.row), Doubt: true,
					Found: fmt.Sprintf("row %d of %s has the time of row %d and another reading; the first was kept", e.row, in.File, d.row), Mend: "export with seconds in the times"})
			}
			continue
		}
		if last < 0 {
			s.Start = time.Unix(0, e.at).In(o.Zone)
			s.reserve(len(all))
		}
		last = i
		switch e.mark {
		case Used:
			in.Used++
		case OverRange:
			in.OverRange++
		case UnderRange:
			in.UnderRange++
		}
		s.T = append(s.T, s.seconds(e.at))
		s.P = append(s.P, e.p)
		s.Ambient = append(s.Ambient, e.ambient)
		ambient = ambient || !math.IsNaN(e.ambient)
		s.Mark = append(s.Mark, e.mark)
		s.File = append(s.File, e.file)
		s.Row = append(s.Row, e.row)
	}
	if !ambient {
		s.Ambient = nil
	}
}

// seconds is an instant in s after Start.
func (s *Series) seconds(at int64) float64 { return float64(at-s.Start.UnixNano()) / 1e9 }

func (s *Series) reserve(n int) {
	s.T, s.P, s.Ambient = make([]float64, 0, n), make([]float64, 0, n), make([]float64, 0, n)
	s.Mark, s.File, s.Row = make([]Mark, 0, n), make([]uint16, 0, n), make([]int32, 0, n)
}

// few is how many rows may stand out of place and still be sorted back: a
// longer stretch can as well be a clock that was set.
const few = 3

// mostRepeats is how often a stretch may be exported twice in one file.
const mostRepeats = 16

// disorder counts steps backwards and refuses a file in which they do not prove
// the order of the rows.
func (p *recording) disorder(rep *report) {
	rows, repeats := p.rows, 0
	for i := 1; i < len(rows); i++ {
		if rows[i].at >= rows[i-1].at {
			continue
		}
		p.input.OutOfOrder++
		ahead, behind := p.overlap(i)
		if min(ahead, behind) <= few {
			continue
		}
		if repeats++; repeats <= mostRepeats && p.repeated(i, behind) {
			continue
		}
		repeats = mostRepeats // one such fault is enough
		rep.add(fault.Fault{Code: "clock-set", File: p.input.File, Sheet: p.input.Sheet, Line: int(rows[i].row),
			Found: fmt.Sprintf("the time steps back from row %d to row %d by %s, and %d rows follow before it has caught up: the clock was set, or rows of another recording stand here",
				rows[i-1].row, rows[i].row, time.Duration(rows[i-1].at-rows[i].at), behind),
			Expected: "times that prove the order of the rows", Mend: "put the rows before and after into files of their own, with times corrected, and keep the original beside them"})
	}
}

// overlap counts the rows of the run before i that are later than row i, and the
// rows of the run from i that are earlier than the row before it.
func (p *recording) overlap(i int) (ahead, behind int) {
	rows := p.rows
	for k := i - 1; k >= 0 && rows[k].at > rows[i].at && (k == i-1 || rows[k].at <= rows[k+1].at); k-- {
		ahead++
	}
	for k := i; k < len(rows) && rows[k].at < rows[i-1].at && (k == i || rows[k].at >= rows[k-1].at); k++ {
		behind++
	}
	return ahead, behind
}

// repeated reports that the n rows from i stand before i already, with the same
// readings: a stretch exported twice.
func (p *recording) repeated(i, n int) bool {
	rows := p.rows
	seen := make(map[int64]float64, i)
	for _, r := range rows[:i] {
		seen[r.at] = r.p
	}
	for _, r := range rows[i : i+n] {
		if v, ok := seen[r.at]; !ok || v != r.p && !(math.IsNaN(v) && math.IsNaN(r.p)) {
			return false
		}
	}
	return true
}

// offsets refuses negative absolute pressures that are no small zero offset.
func (s *Series) offsets(o Options, rep *report) {
	if o.Quantity != Vacuum {
		return
	}
	top := o.RangeHigh
	if top == 0 {
		for i, p := range s.P {
			if s.Mark[i] == Used {
				top = max(top, p)
			}
		}
	}
	for i, p := range s.P {
		if !(p < 0) {
			continue
		}
		in := &s.Inputs[s.File[i]]
		told, mend := below(p, in.Columns["pressure"].Unit)
		f := fault.Fault{Code: "negative", File: in.File, Sheet: in.Sheet, Line: int(s.Row[i]), Found: fmt.Sprintf("row %d: %s", s.Row[i], told), Mend: mend}
		at := s.At(i)
		switch {
		case -p > top/100:
			f.Expected = "no more than 1 % of the range below zero, which a zero offset explains"
		case !o.HoldStart.IsZero() && !at.Before(o.HoldStart) && (o.HoldEnd.IsZero() || !at.After(o.HoldEnd)):
			f.Found += " inside the hold"
			f.Expected = "readings above zero in the hold"
		default:
			continue
		}
		rep.add(f)
	}
}

// below tells an absolute pressure below zero, in Pa, in the unit of its column,
// and what can have made it.
func below(p float64, unit string) (told, mend string) {
	u, ok := quantity.LookUp(unit)
	if !ok { // several units
		u = quantity.Pa
	}
	if u.Ref != quantity.Absolute {
		return fmt.Sprintf("%.4g kPa below an absolute vacuum, from a reading in %s and the pressure of the air", -p/1e3, unit),
			"look at barometer and altitude in job.toml, and at the unit of the column"
	}
	if v := u.From(p); v <= -9999 { // -99999, -9.9e37
		return fmt.Sprintf("an absolute pressure of %.9g %s", v, u.Name), "the number stands for a missing reading: take it out in a copy of the file, and keep the original beside it"
	}
	return fmt.Sprintf("an absolute pressure of %.4g %s", u.From(p), u.Name), "have the gauge zeroed, and hold again; if only the unit is wrong, state it in job.toml"
}
