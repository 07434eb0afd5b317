package plot

import (
	"image/color"
	"math"

	"dryhold/analysis/quantity"
	"dryhold/report/face"
)

// barAt is where the reading that decides stands.
func (d *holdFigure) barAt() (minute float64, ok bool) {
	h := d.r.Hold
	if !h.ReadingAtLimit.Finite() {
		return 0, false
	}
	s, ok := seconds(h.Start, h.LimitAt)
	if !ok {
		s, ok = seconds(h.Start, h.End)
	}
	return s / 60, ok && s >= 0 && s/60 <= d.x1
}

// bar is the reading that decides with its 95 % interval. An end that
// lies off the scale is an arrow, and the bar's size is told in words.
func (d *holdFigure) bar() {
	m, ok := d.barAt()
	if !ok {
		return
	}
	h, u, a := d.r.Hold, d.unit(), d.a
	x := a.px(m)
	y := a.clamp(a.py(u.From(h.ReadingAtLimit.V)))
	d.room.drawn = append(d.room.drawn, box{x - 3, y - 3, x + 3, y + 3})
	if e := d.extent(); e > 0 {
		low, high := a.py(u.From(h.ReadingAtLimit.V-e)), a.py(u.From(h.ReadingAtLimit.V+e))
		d.room.drawn = append(d.room.drawn, box{x - 4, low, x + 4, high})
		if low >= a.y-0.1 && high <= a.y+a.h+0.1 {
			d.p.bar(point{x, low}, point{x, high}, 0.9, 3)
		} else {
			d.beyond(x, low, high, e)
		}
	}
	d.p.disc(x, y, 2, Ink)
}

func (d *holdFigure) beyond(x, low, high, e float64) {
	a := d.a
	d.p.stroke(0.6, Ink)
	d.p.line(point{x, math.Max(low, a.y)}, point{x, math.Min(high, a.y+a.h)})
	end := func(y, back float64) { // an arrow where the bar goes on, else its cap
		if at := a.clamp(y); at != y {
			d.p.line(point{x - 2.2, at + back}, point{x, at}, point{x + 2.2, at + back})
		} else {
			d.p.line(point{x - 3, y}, point{x + 3, y})
		}
	}
	end(low, 4)
	end(high, -4)
	s := d.o.Word("plot.bar_beyond", "level", d.o.named(d.o.number(e, quantity.Unit{Scale: d.unit().Scale}, quantity.Places(e, d.unit()))))
	d.name(s, small, false, Ink, point{a.x + a.w - face.Width(s, false)*small, a.y + a.h + aboveAxes})
}

// aboveAxes is how far over the axes what lies off their scale is told.
const aboveAxes = 3.5

// limit draws the limit and names it with its guard band.
func (d *holdFigure) limit() {
	h, u, a := d.r.Hold, d.unit(), d.a
	if !h.Limit.Finite() {
		return
	}
	y := a.py(u.From(h.Limit.V))
	level := d.o.named(d.o.limit(h.Limit.V))
	off := ""
	switch {
	case y > a.y+a.h+0.1:
		off = "plot.limit_above"
	case y < a.y-0.1:
		off = "plot.limit_below"
	}
	if off != "" {
		d.name(d.o.Word(off, "level", level), named, true, Ink, point{a.x + 6, a.y + a.h + aboveAxes})
		return
	}
	d.p.stroke(1.6, Ink)
	d.p.line(point{a.x, y}, point{a.x + a.w, y})
	x := a.x + 0.09*a.w
	if s, ok := seconds(h.Start, h.SettleEnd); ok && s/60 < d.x1/2 {
		x = math.Max(x, a.px(s/60)+4)
	}
	s := d.o.Word("plot.limit", "level", level)
	d.name(s, named, true, Ink, a.along(x, y+3, s, named, true)...)
	if !h.GuardBand.Finite() || h.GuardBand.V <= 0 {
		return
	}
	s = d.o.Word("plot.guard", "level", d.o.named(d.o.level(h.GuardBand.V)))
	above := a.along(x, y+3, s, small, false)
	if low := a.py(u.From(h.Limit.V-h.GuardBand.V)) - 7.5; low > a.y+2 {
		above = append(a.along(x, low, s, small, false), above...)
	}
	d.name(s, small, false, Ink, above...)
}

// name writes s at the first of the spots that is free, on a ground of its own.
func (d *holdFigure) name(s string, size float64, bold bool, c color.Color, spots ...point) {
	at := d.room.put(s, size, bold, spots...)
	b := ground(at.x, at.y, s, size, bold)
	d.p.fill(b.x0, b.y0, b.x1-b.x0, b.y1-b.y0, White)
	d.p.coloured(at.x, at.y, s, size, bold, left, c)
}

func (d *holdFigure) names() {
	a := d.a
	if s, ok := seconds(d.r.Hold.Start, d.r.Hold.SettleEnd); ok && s > 20 && s/60 < d.x1/2 {
		var spots []point
		for y := a.y + 3; y < a.y+a.h-10; y += 4 {
			spots = append(spots, point{a.px(s/60) + 2.5, y})
		}
		d.name(d.o.Word("plot.not_used", "minutes", d.o.number(s/60, quantity.One, 1)), small, false, Ink, spots...)
	}
	key, c := "plot.readings_name", Ink
	if !d.o.Plain && d.r.Traces.Fit != nil {
		key, c = "plot.fit_name", Umber
	}
	s := d.o.Word(key)
	d.name(s, named, true, c, d.besideCurve(s)...)
}

// besideCurve are spots close under and over the curve, where it is late first, then
// some further off.
func (d *holdFigure) besideCurve(s string) []point {
	var spots []point
	late, early := []int{62, 70, 78, 86}, []int{50, 40, 30, 20} // percent of its points
	for _, away := range [][]float64{{-16, 9}, {-26, 19}} {
		for _, parts := range [][]int{late, early} {
			for _, off := range away {
				spots = append(spots, d.spots(s, parts, off)...)
			}
		}
	}
	return append(spots, point{d.a.x + d.a.w/2, d.a.y + d.a.h/2})
}

// spots are places for s that far over the curve, within the axes.
func (d *holdFigure) spots(s string, parts []int, off float64) (list []point) {
	a, t := d.a, d.r.Traces.Hold
	for _, part := range parts {
		i := len(t.T) * part / 100
		x := math.Min(a.px(d.minute(t.T[i])), a.x+a.w-face.Width(s, true)*named-2)
		if y := a.clamp(a.py(d.unit().From(t.Y[i]))) + off; y > a.y+3 && y < a.y+a.h-9 {
			list = append(list, point{x, y})
		}
	}
	return list
}
