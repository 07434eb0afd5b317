package vacuum

import (
	"math"
	"time"

	"dryhold/analysis/readings"
)

// cuts is a recording cut into its parts.
type cuts struct {
	zero       time.Time // instant of second 0
	tr         *trace
	parts      []stretch
	isolations [][]isolation // of every stretch
	last       *isolation    // the last isolation before charging, named or not
	candidates []Candidate
	phases     []Phase
}

func (c *cuts) at(t float64) time.Time      { return c.zero.Add(time.Duration(math.Round(t * 1e9))) }
func (c *cuts) seconds(t time.Time) float64 { return t.Sub(c.zero).Seconds() }
func (c *cuts) span(x isolation) Span       { return Span{c.at(x.start.tau), c.at(x.until)} }
func (c *cuts) before(o Options) (until float64) {
	if o.Before.IsZero() {
		return math.Inf(1)
	}
	return c.seconds(o.Before)
}

// cut finds the parts of the recording. Isolations after o.Before, where stated, do not count.
func cut(s *readings.Series, o Options) *cuts {
	c := &cuts{zero: s.Start, tr: newTrace(s, blockTime, o.Gauge.Position == "pump side")}
	c.parts = stretches(s, o.Gauge.Top)
	until := c.before(o)
	for i := range c.parts {
		st := &c.parts[i]
		st.lo, st.hi = c.tr.between(st.from, st.to)
		c.isolations = append(c.isolations, c.tr.search(*st))
		for k := range c.isolations[i] {
			if iso := &c.isolations[i][k]; iso.start.tau < until {
				iso.until = min(iso.until, max(until, iso.start.tau))
				if iso.why == "" && overWithin(s, iso.start.tau+c.tr.tolerance(), iso.until) {
					iso.why = "the gauge is over its range during it: its end cannot be told from the readings"
				}
				c.last = iso
			}
		}
	}
	c.offer(until)
	c.name(s)
	for _, x := range append(append([]Span(nil), o.Attempts...), o.Hold) {
		if !x.Start.IsZero() {
			x, _ = c.isolated(x)
			c.overlay(x, HoldPhase)
		}
	}
	for _, x := range o.Breaks {
		c.overlay(x, NitrogenBreak)
	}
	return c
}

// named is the last isolation where its times are plain: not where a later evacuation shows none.
func (c *cuts) named(until float64) *isolation {
	if c.last == nil || c.last.why != "" {
		return nil
	}
	for i, st := range c.parts {
		if c.last.restarted && st.from <= c.last.until && c.last.until < st.to && c.again(c.last, st, until) {
			return nil
		}
		if c.evacuated(st) && st.from > c.last.until && st.from < until && len(c.isolations[i]) == 0 {
			return nil
		}
	}
	return c.last
}

// again tells whether the pump, started after an isolation, may have been shut off once more unseen: what follows is longer
// than longestAfter, or the pressure has stopped falling at its end.
func (c *cuts) again(iso *isolation, st stretch, until float64) bool {
	const longestAfter = 1200
	end := min(st.to, until)
	if end-iso.until < shortest {
		return false
	}
	a, b := c.tr.between(iso.until, end)
	m := (a + b) / 2
	if end-iso.until > longestAfter || b-m < 4 {
		return true
	}
	slope, sd := c.tr.slope(m, b)
	return slope > 3*sd && slope*(c.tr.t[b-1]-c.tr.t[m]) > 0.02
}

// evacuated tells whether the stretch holds more than a few low readings.
func (c *cuts) evacuated(st stretch) bool {
	n := 0
	for i := st.lo; i < st.hi; i++ {
		if c.tr.y[i] < math.Log(ceiling) {
			n++
		}
	}
	return n >= 3 && st.to-st.depart > 60
}

// name gives every part of the recording its phase, contiguous from the first to the last reading.
func (c *cuts) name(s *readings.Series) {
	n := len(s.T)
	if n == 0 {
		return
	}
	at := s.T[0]
	to := func(w What, end float64) {
		end = min(end, s.T[n-1])
		if k := len(c.phases); k > 0 && c.phases[k-1].What == w && end > at {
			c.phases[k-1].End = c.at(end)
		} else if end > at {
			c.phases = append(c.phases, Phase{w, c.at(at), c.at(end)})
		}
		at = max(at, end)
	}
	for i, st := range c.parts {
		evacuated := c.evacuated(st)
		end := st.to
		switch {
		case !evacuated && i == 0:
			to(Idle, end)
		case !evacuated:
			to(Other, end)
		case st.high && i == 0:
			to(Idle, st.depart)
		case st.high:
			to(NitrogenBreak, st.depart)
		}
		if !evacuated {
			continue
		}
		if !st.high && c.tr.rises(st.lo, st.hi) { // the recording begins after the pump-down
			to(Other, end)
			continue
		}
		again := true
		for k, iso := range c.isolations[i] {
			again = iso.restarted
			switch {
			case iso.why == "":
				to(PullDown, iso.start.tau)
				to(HoldPhase, iso.until)
			case !again && !st.filled && k == len(c.isolations[i])-1:
				to(PullDown, iso.start.tau) // what follows has to be asked for
				to(Other, iso.until)
			default:
				to(PullDown, iso.until)
			}
		}
		if again {
			to(PullDown, end)
		} else {
			to(Other, end)
		}
	}
	to(Other, s.T[n-1])
}

// rises tells whether blocks [a, b) only rise.
func (tr *trace) rises(a, b int) bool {
	if b-a < 8 {
		return false
	}
	m := (b - a) / 4
	return tr.mean(a, a+m) < tr.mean(b-m, b) && tr.mean(a, a+m)-0.02 < tr.mean(a+m, a+2*m)
}
