package vacuum

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
			before := p
			if p.End.After(x.Start) {
				before.End = x.Start
			}
			out = append(out, before)
		}
		if !done && p.End.After(x.Start) {
			out = append(out, Phase{w, x.Start, x.End})
			done = true
		}
		if p.End.After(x.End) {
			if p.Start.Before(x.End) {
				p.Start = x.End
			}
			out = append(out, p)
		}
	}
	c.phases = out
}
