package vacuum

import "time"

// overlay makes the span one phase, taken from those that were there.
func (c *cuts) overlay(x Span, w What) {
	if len(c.phases) == 0 || !x.End.After(x.Start) {
		return
	}
	first, last := c.phases[0].Start, c.phases[len(c.phases)-1].End
	if x.Start.Before(first) {
		x.Start = first
	}
	if x.End.After(last) {
		x.End = last
	}
	if !x.End.After(x.Start) {
		return
	}
	var out []Phase
	done := false
	for _, p := range c.phases {
		if p.Start.Before(x.Start) {
			out = append(out, Phase{p.What, p.Start, earlier(p.End, x.Start)})
		}
		if !done && p.End.After(x.Start) {
			out = append(out, Phase{w, x.Start, x.End})
			done = true
		}
		if p.End.After(x.End) {
			out = append(out, Phase{p.What, later(p.Start, x.End), p.End})
		}
	}
	c.phases = out
}

func earlier(a, b time.Time) time.Time {
	if a.Before(b) {
		return a
	}
	return b
}

func later(a, b time.Time) time.Time {
	if a.After(b) {
		return a
	}
	return b
}
