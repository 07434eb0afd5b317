package analysis

import (
	"dryhold/analysis/job"
	"dryhold/analysis/pressure"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

// attempts works out each earlier test that the job states, in the same way as
// the last one: a passed repeat must not hide what the first one showed.
func (r *runner) attempts(s *readings.Series, res vacuum.Result, a agreed) {
	for _, t := range r.job.Attempts {
		x := record.Attempt{Test: t.Test, Finding: t.Finding, Repair: t.Repair}
		if t.Test == "pressure" {
			x.Pressure = r.earlierStanding(t)
		} else {
			x.Hold = r.earlierHold(t, s, res, a)
		}
		r.rec.Attempts = append(r.rec.Attempts, x)
	}
}

// earlierHold judges an attempt in the deciding hold's recording or in its own.
func (r *runner) earlierHold(t job.Attempt, s *readings.Series, res vacuum.Result, a agreed) *record.Hold {
	if own := r.series[t.Readings]; own != nil && own != s {
		o := r.vacuumOptions(t.Readings, a)
		o.Hold, o.Attempts = vacuum.Span{Start: t.Start.Time, End: t.End.Time}, nil
		s, res = own, vacuum.Analyse(own, o)
		if res.Deciding >= 0 {
			x := r.hold(res.Holds[res.Deciding], s, a)
			r.rec.Holds = append(r.rec.Holds, x)
			r.decide(&x, res.Holds[res.Deciding], s, res, a)
			return &x
		}
		return nil
	}
	for _, h := range res.Holds {
		if t.Start.Given() && h.Start.Equal(t.Start.Time) {
			x := r.hold(h, s, a)
			r.decide(&x, h, s, res, a)
			return &x
		}
	}
	return nil
}

// earlierStanding judges an earlier pressure test by the terms of the last one.
func (r *runner) earlierStanding(t job.Attempt) *record.Pressure {
	s := r.series[t.Readings]
	if s == nil {
		return nil
	}
	terms := job.PressureTest{Readings: t.Readings}
	if p := r.job.PressureTest; p != nil {
		terms = *p
		terms.Readings = t.Readings
	}
	res := pressure.FromReadings(s, t.Start.Time, t.End.Time, r.pressureOptions(&terms))
	out := r.standingRecord(&terms, res, "readings")
	r.judgeStanding(out, &terms, res)
	return out
}
