package analysis

import (
	"slices"
	"strings"
	"time"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/readings"
	"dryhold/analysis/vacuum"
)

// analyse works out a recording. Where the job states only the start or only the
// end of the hold, or only the start of an attempt, the other is found in the
// readings, or asked for. The table is the job file's, for that question.
func (r *runner) analyse(s *readings.Series, o vacuum.Options, table string) vacuum.Result {
	half := func(x vacuum.Span) bool { return x.Start.IsZero() != x.End.IsZero() }
	if !half(o.Hold) && !slices.ContainsFunc(o.Attempts, half) {
		return vacuum.Analyse(s, o)
	}
	bare := o
	bare.Hold, bare.Attempts = vacuum.Span{}, nil
	seen := vacuum.Analyse(s, bare)
	for i := range o.Attempts {
		r.findEnd(&o.Attempts[i], s, seen, "attempt")
	}
	if !o.Hold.Start.IsZero() {
		r.findEnd(&o.Hold, s, seen, table)
	} else if !o.Hold.End.IsZero() {
		return untilStated(s, o, seen)
	}
	return vacuum.Analyse(s, o)
}

// findEnd completes a hold that has only its start: with the end of the isolation
// that the readings show then, or where they show none, of those that they suggest.
func (r *runner) findEnd(x *vacuum.Span, s *readings.Series, seen vacuum.Result, table string) {
	if !x.End.IsZero() {
		return
	}
	const early = 2 * time.Minute // a start may be written that much before the pump was shut off
	var ends []time.Time
	add := func(from, to time.Time) {
		if to.After(x.Start) && !from.After(x.Start.Add(early)) && !slices.ContainsFunc(ends, to.Equal) {
			ends = append(ends, to)
		}
	}
	for _, p := range seen.Phases {
		if p.What == vacuum.HoldPhase {
			add(p.Start, p.End)
		}
	}
	if len(ends) == 0 {
		for _, c := range seen.Candidates {
			add(c.Start, c.End)
		}
	}
	if len(ends) != 1 {
		r.askEnd(s, ends, table)
		ends = []time.Time{s.At(s.Len() - 1)} // only to go on to the other faults
	}
	x.End = ends[0]
}

// untilStated is a hold whose end alone is stated: the last isolation that the
// readings plainly show before it. Without one there is no deciding hold.
func untilStated(s *readings.Series, o vacuum.Options, seen vacuum.Result) vacuum.Result {
	for _, h := range slices.Backward(seen.Holds) {
		if h.Start.Before(o.Hold.End) {
			o.Hold.Start = h.Start
			res := vacuum.Analyse(s, o)
			res.Holds[res.Deciding].Found = h.Found
			return res
		}
	}
	for _, h := range seen.Holds {
		seen.Candidates = append(seen.Candidates, vacuum.Candidate{Start: h.Start, End: h.End, Why: "plain, but it begins after the end that is stated"})
	}
	seen.Deciding = -1
	return seen
}

// askEnd makes a fault of a hold whose start is stated and whose end the readings do not settle.
func (r *runner) askEnd(s *readings.Series, ends []time.Time, table string) {
	if len(ends) == 0 {
		ends = []time.Time{s.At(s.Len() - 1)}
	}
	var lines []string
	for _, t := range ends {
		lines = append(lines, "\n  end = "+job.Written(t, r.job.Zone))
	}
	r.faults = append(r.faults, fault.Fault{Kind: fault.Readings, Code: "hold-unclear", File: r.fileOf(s.ID), Key: table + ".end",
		Found: "when the hold whose start is stated ended is not plain from these readings", Expected: "its end in job.toml",
		Mend: "write beside its start when it ended; the readings suggest" + strings.Join(lines, "\n  or")})
}
