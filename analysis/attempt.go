package analysis

import (
	"fmt"

	"dryhold/analysis/job"
	"dryhold/analysis/pressure"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

// attempts works out each earlier test that the job states, in the same way as
// the last one: a passed repeat must not hide what the first one showed.
func (r *runner) attempts(s *readings.Series, res vacuum.Result, a agreed) {
	shared := res.Holds // those with a start in this recording stand first, in the order of the job file
	for i, t := range r.job.Attempts {
		x := record.Attempt{Test: t.Test, Finding: t.Finding, Repair: t.Repair}
		own, where := r.series[t.Readings], fmt.Sprintf("attempt %d", i+1)
		switch {
		case t.Test == "pressure":
			x.Pressure = r.earlierStanding(t)
		case own != nil && own != s:
			x.Hold = r.earlierHold(t, own, a, where)
		case t.Start.Given():
			x.Hold, shared = r.judgedHold(shared[0], s, res, a), shared[1:]
		}
		if x.Hold == nil && x.Pressure == nil {
			r.warn(record.Note{Code: "attempt-open", Where: where,
				Text: "an earlier attempt is not worked out: it has no readings, or its start is neither stated nor plain in them"})
		}
		r.rec.Attempts = append(r.rec.Attempts, x)
	}
}

// earlierHold judges an attempt in a recording of its own; nil where no isolation is stated or plain.
func (r *runner) earlierHold(t job.Attempt, s *readings.Series, a agreed, where string) *record.Hold {
	o := r.vacuumOptions(t.Readings, a)
	o.Hold, o.Attempts = vacuum.Span{Start: t.Start.Time, End: t.End.Time}, nil
	res := r.analyse(s, o, "attempt")
	if res.Deciding < 0 {
		return nil
	}
	deciding := fmt.Sprintf("hold %d", res.Deciding+1)
	for _, w := range res.Warnings {
		if w.Where == deciding {
			r.warn(record.Note{Code: w.Code, Text: w.Text, Where: where, Facts: facts(w.Facts)})
		}
	}
	r.rec.Holds = append(r.rec.Holds, r.hold(res.Holds[res.Deciding], s, a))
	return r.judgedHold(res.Holds[res.Deciding], s, res, a)
}

// judgedHold is one isolation with its decision.
func (r *runner) judgedHold(h vacuum.Hold, s *readings.Series, res vacuum.Result, a agreed) *record.Hold {
	x := r.hold(h, s, a)
	r.decide(&x, h, s, res, a)
	return &x
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
