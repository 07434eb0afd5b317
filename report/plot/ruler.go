package plot

import (
	"math"
	"slices"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"
)

// Ruler sets the reading with its 95 % bar beside the limit, its guard band and
// the four outcomes; nil where there is no limit or no reading.
func Ruler(r *record.Record, o Options) *Figure {
	h := r.Hold
	if h == nil || !h.Limit.Finite() || !h.ReadingAtLimit.Finite() || h.Limit.V <= 0 {
		return nil
	}
	f := figure("ruler", o, 180*MM, 27*MM, func(p *pen, w, height float64) {
		d := ruler{h: h, o: o, p: p}
		d.draw(w, height)
	})
	d := ruler{h: h, o: o}
	f.Alt = o.Word("alt.ruler") + " " + o.Word("plot.highest", "value", d.value()) + "; " + o.Word("plot.limit", "level", o.named(o.limit(h.Limit.V))) + "."
	return f
}

type ruler struct {
	h *record.Hold
	o Options
	p *pen
	a axes
}

func (d *ruler) draw(w, _ float64) {
	h, u := d.h, d.o.Units.Vacuum
	y := u.From(h.ReadingAtLimit.V)
	limit := u.From(h.Limit.V)
	var bar, guard float64
	if h.StandardUncertainty.Finite() {
		bar = quantity.K95 * h.StandardUncertainty.V / u.Scale
	}
	if h.GuardBand.Finite() {
		guard = h.GuardBand.V / u.Scale
	}
	lo, hi := math.Min(y-bar, limit-guard), math.Max(y+bar, limit+2*guard)
	start := math.NaN()
	if h.StartPressure.Finite() {
		start = u.From(h.StartPressure.V)
		if start < lo && hi-start < 4*(hi-lo) {
			lo = start
		}
	}
	hi = math.Max(hi, limit+0.36*(limit-lo)) // room for the names of the outcomes above it
	span := math.Max(hi-lo, limit*0.1)
	lo, hi = math.Max(0, lo-0.12*span), hi+0.03*span
	step := niceStep(hi-lo, 9)
	lo = math.Floor(lo/step) * step
	d.a = axes{x: 4, y: 34, w: w - 8, h: 20, x0: lo, x1: hi}
	d.scale(step)
	d.bands(limit, guard)
	d.marks(y, bar, start, limit, guard)
}

func (d *ruler) scale(step float64) {
	a, p := d.a, d.p
	p.stroke(0.7, Ink)
	p.line(point{a.x, a.y}, point{a.x + a.w, a.y})
	n := places(step)
	unit := d.o.Units.Vacuum.Name
	uw := face.Width(unit, false) * small
	p.text(a.x+a.w, a.y-9.5, unit, small, false, right)
	for v := a.x0; v <= a.x1+step*1e-6; v += step {
		x := a.px(v)
		p.stroke(0.7, Ink)
		p.line(point{x, a.y}, point{x, a.y - 2.5})
		s := d.o.number(v, quantity.One, n)
		if x+face.Width(s, false)*small/2+4 < a.x+a.w-uw {
			p.text(math.Max(x, a.x+face.Width(s, false)*small/2), a.y-9.5, s, small, false, centre)
		}
	}
}

// bands are the four outcomes of ILAC-G8:09/2019 on the scale.
func (d *ruler) bands(limit, guard float64) {
	a, p := d.a, d.p
	const tall = 11
	type part struct {
		from, to float64
		name     string
	}
	parts := []part{{a.x0, limit, "pass"}, {limit, a.x1, "fail"}}
	if guard > 0 {
		parts = []part{{a.x0, limit - guard, "pass"}, {limit - guard, limit, "conditional pass"},
			{limit, limit + guard, "conditional fail"}, {limit + guard, a.x1, "fail"}}
	}
	end := math.Inf(-1) // of the name before
	for _, q := range parts {
		from, to := math.Max(q.from, a.x0), math.Min(q.to, a.x1)
		if to <= from {
			continue
		}
		x, w := a.px(from), a.px(to)-a.px(from)
		switch q.name {
		case "conditional pass":
			p.hatch(x, a.y, w, tall, 3, 1)
		case "conditional fail":
			p.hatch(x, a.y, w, tall, 3, -1)
		case "fail":
			p.fill(x, a.y, w, tall, Stone)
		}
		p.stroke(0.7, Ink)
		p.line(point{x + 0.8, a.y - 12}, point{x + 0.8, a.y - 14}, point{x + w - 0.8, a.y - 14}, point{x + w - 0.8, a.y - 12})
		bold := q.name == d.h.Decision
		s := d.o.Word("decision." + q.name)
		sw := face.Width(s, bold) * small
		from = x + w/2 - sw/2
		switch { // names wider than their part fan out from the limit
		case sw > w && q.name == "conditional pass":
			from = x + w - sw
		case sw > w && q.name == "conditional fail":
			from = x
		}
		from = math.Max(from, a.x)
		from = math.Min(from, a.x+a.w-sw)
		row := 0
		if from < end+6 {
			if from = end + 6; from+sw > a.x+a.w {
				row, from = 1, a.x+a.w-sw
			}
		}
		end = from + sw
		p.text(from, a.y-21.5-8*float64(row), s, small, bold, left)
	}
}

// value is the reading that decides, with its expanded uncertainty.
func (d *ruler) value() string {
	u, v := d.o.Units.Vacuum, d.h.ReadingAtLimit.V
	if d.h.AtLeast {
		return d.o.Word("value.at_least", "value", d.o.level(v))
	}
	if !d.h.StandardUncertainty.Finite() || d.h.StandardUncertainty.V <= 0 {
		return d.o.level(v)
	}
	e := quantity.K95 * d.h.StandardUncertainty.V
	n := min(quantity.Places(e, u), d.o.Places)
	return d.o.number(v, u, d.o.Places) + "\u00a0±\u00a0" + d.o.number(e, quantity.Unit{Scale: u.Scale}, n) + " (95\u00a0%)"
}

func (d *ruler) marks(y, bar, start, limit, guard float64) {
	a, p := d.a, d.p
	x := a.px(y)
	mid := a.y + 5.5
	if bar > 0 {
		p.bar(point{math.Max(a.px(y-bar), a.x), mid}, point{math.Min(a.px(y+bar), a.x+a.w), mid}, 0.9, 3)
	}
	p.stroke(0.35, Ink) // the leader first: names stand over it
	p.line(point{x, mid + 3}, point{x, a.y + 25})
	p.disc(x, mid, 2.3, Ink)
	lx := a.px(limit)
	p.stroke(1.8, Ink)
	p.line(point{lx, a.y}, point{lx, a.y + 17})
	s := d.o.Word("plot.highest", "value", d.value())
	sw := face.Width(s, true) * named
	p.boxed(math.Min(math.Max(x, a.x+sw/2), a.x+a.w-sw/2), a.y+27, s, named, true, centre)
	names := d.names(lx, guard)
	if !finite(start) || start < a.x0 {
		return
	}
	p.stroke(0.5, Ink)
	p.line(point{a.px(start), a.y}, point{a.px(start), a.y + 10})
	s = d.o.Word("plot.start", "level", d.o.level(d.h.StartPressure.V))
	from := math.Max(a.px(start)-face.Width(s, false)*small/2, a.x)
	b := ground(from, a.y+13, s, small, false)
	if !slices.ContainsFunc(append(names, box{x - 1, a.y, x + 1, a.y + 25}), b.meets) {
		p.text(from, a.y+13, s, small, false, left)
	}
}

// names writes the limit at its right and the guard band at its left, or over it
// where there is no room, and returns what they cover.
func (d *ruler) names(lx, guard float64) []box {
	a, p := d.a, d.p
	beside, over := a.y+13, a.y+20
	write := func(x, y float64, s string, bold bool) box {
		p.boxed(x, y, s, small, bold, left)
		return ground(x, y, s, small, bold)
	}
	s := d.o.Word("plot.limit", "level", d.o.named(d.o.limit(d.h.Limit.V)))
	w := face.Width(s, true) * small
	var names []box
	if lx+3+w < a.x+a.w {
		names = append(names, write(lx+3, beside, s, true))
	} else {
		names = append(names, write(lx-4-w, over, s, true))
	}
	if guard <= 0 {
		return names
	}
	u := d.o.Units.Vacuum
	s = d.o.Word("plot.guard", "level", d.o.level(u.SI(guard)))
	if w := face.Width(s, false) * small; lx-4-w > a.x {
		names = append(names, write(lx-4-w, beside, s, false))
	} else {
		names = append(names, write(a.x, over, s, false))
	}
	return names
}
