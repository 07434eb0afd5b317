package plot

// legend names what the figure holds and does not name itself.
func (d *holdFigure) legend() []string {
	var list []string
	add := func(drawn bool, key string) {
		if drawn {
			list = append(list, key)
		}
	}
	_, bar := d.barAt()
	_, settled := d.settled()
	add(true, "hold.dots")
	add(d.fitted() != nil, "hold.line")
	add(bar && d.extent() > 0, "hold.bar")
	add(settled, "hold.filled")
	add(d.guarded(), "hold.hatched")
	add(d.y0 > 0, "hold.cut")
	return list
}

// settled is the minute at which equalisation ends, and whether it is drawn.
func (d *holdFigure) settled() (minute float64, ok bool) {
	s, ok := seconds(d.r.Hold.Start, d.r.Hold.SettleEnd)
	return s / 60, ok && s > 0 && s/60 <= d.x1
}

// guarded reports a guard band within the scale.
func (d *holdFigure) guarded() bool {
	h := d.r.Hold
	if !h.Limit.Finite() || !h.GuardBand.Finite() || h.GuardBand.V <= 0 {
		return false
	}
	top := d.unit().From(h.Limit.V)
	return top > d.y0 && top <= d.y1+1e-3*(d.y1-d.y0)
}
