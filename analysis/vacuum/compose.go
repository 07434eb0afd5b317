package vacuum

import (
	"fmt"
	"strings"

	"dryhold/analysis/readings"
)

// Analyse works out one recording. It never fails: what cannot be determined is said in the result.
func Analyse(s *readings.Series, o Options) Result {
	c := cut(s, o)
	out := Result{Deciding: -1, Phases: c.phases, PumpCheck: pumpCheck(o)}
	var deciding *Span
	stated := func(x Span) Span {
		x, doubts := c.isolated(x)
		h := analyseHold(s, x, "stated", o)
		h.warnings = append(doubts, h.warnings...)
		out.Holds = append(out.Holds, h)
		return x
	}
	for _, a := range o.Attempts {
		stated(a)
	}
	given := !o.Hold.Start.IsZero()
	last := c.named(c.before(o))
	for _, stretch := range c.isolations {
		for i := range stretch {
			iso := &stretch[i]
			x := c.span(*iso)
			if iso.why != "" || iso.start.tau >= c.before(o) || overlaps(x, o.Attempts) || given && !x.End.Before(o.Hold.Start) {
				continue
			}
			if iso == last && !given {
				deciding, out.Deciding = &x, len(out.Holds)
			}
			out.Holds = append(out.Holds, analyseHold(s, x, "detected", o))
		}
	}
	switch {
	case given:
		out.Deciding = len(out.Holds)
		x := stated(o.Hold)
		deciding = &x
	case out.Deciding < 0:
		out.Candidates = c.candidates
		if c.last != nil && c.last.why == "" {
			x := c.span(*c.last)
			out.Candidates = append(out.Candidates, Candidate{x.Start, x.End,
				"plain, but the pump ran again afterwards and may have been shut off once more unseen"})
		}
	}
	for i := range out.Holds {
		out.Holds[i].readLimit(s, o)
	}
	out.PullDown = c.pullDown(s, o, deciding)
	out.Breaks = c.breaks(s, o)
	out.Warnings = append(holdWarnings(out.Holds), c.cautions(o)...)
	return out
}

func overlaps(x Span, all []Span) bool {
	for _, y := range all {
		if x.Start.Before(y.End) && y.Start.Before(x.End) {
			return true
		}
	}
	return false
}

// cautions are the events that the job states within an evacuation or a hold. Nothing is interpolated across them.
func (c *cuts) cautions(o Options) []Warning {
	var out []Warning
	for _, e := range o.Events {
		for _, p := range c.phases {
			if e.Time.Before(p.Start) || !e.Time.Before(p.End) || p.What == Idle {
				continue
			}
			code := "event"
			if strings.Contains(strings.ToLower(e.What), "power") {
				code = "power-lost"
			}
			out = append(out, Warning{Code: code, Where: string(p.What),
				Text:  fmt.Sprintf("the job states %q during the %s: readings around it may not show the circuit alone", e.What, p.What),
				Facts: map[string]float64{"seconds from the phase's start": e.Time.Sub(p.Start).Seconds()}})
			break
		}
	}
	return out
}
