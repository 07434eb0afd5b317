package vacuum

import (
	"fmt"
	"time"

	"dryhold/analysis/readings"
)

// cuts is a recording cut into its parts.
type cuts struct {
	tr         *trace
	parts      []stretch
	isolations [][]isolation // of every stretch
	last       *isolation    // the last isolation, named or not
	candidates []Candidate
}

// cut finds the parts of the recording, up to o.Before where stated.
func cut(s *readings.Series, o Options) *cuts {
	c := &cuts{tr: newTrace(s)}
	c.parts = stretches(s, c.tr)
	for _, st := range c.parts {
		c.isolations = append(c.isolations, c.tr.search(st))
	}
	limit := s.T
	before := 0.0
	if n := len(limit); n > 0 {
		before = limit[n-1]
	}
	if !o.Before.IsZero() {
		before = o.Before.Sub(s.Start).Seconds()
	}
	for i := range c.isolations {
		for k := range c.isolations[i] {
			if iso := &c.isolations[i][k]; iso.start.tau < before {
				c.last = iso
			}
		}
	}
	c.offer(s, before)
	return c
}

// offer lists the candidates where the last isolation is not named, or where the last evacuation shows none.
func (c *cuts) offer(s *readings.Series, before float64) {
	at := func(t float64) time.Time { return s.Start.Add(time.Duration(t * float64(time.Second))) }
	for i, st := range c.parts {
		for _, iso := range c.isolations[i] {
			if iso.why != "" && iso.start.tau < before {
				c.candidates = append(c.candidates, Candidate{at(iso.start.tau), at(iso.until), iso.why})
			}
		}
		if len(c.isolations[i]) > 0 || st.hi-st.lo < 2 {
			continue
		}
		low := st.lo
		for j := st.lo; j < st.hi; j++ {
			if c.tr.y[j] < c.tr.y[low] {
				low = j
			}
		}
		c.candidates = append(c.candidates, Candidate{at(c.tr.t[low]), at(st.to),
			fmt.Sprintf("no sudden change is seen; the lowest reading of this evacuation is at the start given")})
	}
}
