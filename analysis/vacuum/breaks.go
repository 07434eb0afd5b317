package vacuum

import "dryhold/analysis/readings"

// breaks are the fillings with gas between two evacuations. What is left of the gas before is diluted in each of them by the
// pressure before it over the pressure reached (ideal gas, well mixed, one temperature); the fractions multiply.
func (c *cuts) breaks(s *readings.Series, o Options) []BreakResult {
	spans := o.Breaks
	if len(spans) == 0 {
		for _, p := range c.phases {
			if p.What == NitrogenBreak {
				spans = append(spans, Span{p.Start, p.End})
			}
		}
	}
	var out []BreakResult
	left := 1.0
	for _, x := range spans {
		b := BreakResult{Start: x.Start, End: x.End}
		t0, t1 := c.seconds(x.Start), c.seconds(x.End)
		for i := range s.T {
			if !usable(s, i) || s.T[i] > t1 {
				continue
			}
			if s.T[i] <= t0 || b.Before == 0 {
				b.Before = s.P[i]
			}
			if s.T[i] >= t0 {
				b.Reached = max(b.Reached, s.P[i])
			}
		}
		if top := o.Gauge.Top; top > 0 && overWithin(s, t0, t1) {
			b.Reached = max(b.Reached, top) // at least: the fraction is an upper limit
		}
		if b.Reached > 0 {
			left *= min(1, b.Before/b.Reached)
		}
		b.Residual = left
		out = append(out, b)
	}
	return out
}

func overWithin(s *readings.Series, from, to float64) bool {
	for i, t := range s.T {
		if t >= from && t <= to && s.Mark[i] == readings.OverRange {
			return true
		}
	}
	return false
}
