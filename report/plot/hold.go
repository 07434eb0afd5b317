package plot

import (
	"math"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"
)

// Hold draws the deciding hold: readings, the part left out, the fit with its
// band, limit and guard band, and for an expert the residuals under it. It is
// nil when there is nothing to draw.
func Hold(r *record.Record, o Options) *Figure {
	if r.Hold == nil || !usable(r.Traces.Hold) {
		return nil
	}
	off, ok := seconds(r.Traces.Start, r.Hold.Start)
	if !ok {
		return nil
	}
	d := holdFigure{r: r, o: o, off: off}
	if !d.ranges() {
		return nil
	}
	h := 91 * MM
	if o.Plain {
		h = 46 * MM
	}
	f := figure("hold", o, 139*MM, h, func(p *pen, w, h float64) { d.draw(p, w, h) })
	f.Legend = d.legend()
	f.Alt = o.Word("alt.hold")
	if h := r.Hold; h.StartPressure.Finite() && h.EndPressure.Finite() {
		f.Alt += " " + o.Word("alt.hold_ends", "start", o.named(o.level(h.StartPressure.V)), "end", o.named(o.level(h.EndPressure.V)))
	}
	return f
}

type holdFigure struct {
	r              *record.Record
	o              Options
	off            float64 // s from the recording's start to isolation
	p              *pen
	a              axes
	room           *room
	x1, y0, y1     float64
	step           float64
	residuals      []point
	residualExtent float64
}

func (d *holdFigure) minute(s float64) float64 { return (s - d.off) / 60 }
func (d *holdFigure) unit() quantity.Unit      { return d.o.Units.Vacuum }

// ranges chooses the axes so that readings, limit and bars have room.
func (d *holdFigure) ranges() bool {
	h, u := d.r.Hold, d.unit()
	lo, hi := math.Inf(1), math.Inf(-1)
	grow := func(si float64) {
		if v := u.From(si); finite(v) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	_, last := span(d.r.Traces.Hold)
	for _, y := range d.r.Traces.Hold.Y {
		grow(y)
	}
	if !(hi >= lo) || d.minute(last) <= 0 {
		return false
	}
	// For an expert the readings keep a third of the height at least: what lies
	// further off is named at the edge.
	reach := 3 * math.Max(hi-lo, 0.04*hi)
	near := func(si float64) bool { v := u.From(si); return d.o.Plain || math.Max(hi, v)-math.Min(lo, v) <= reach }
	if h.Limit.Finite() && near(h.Limit.V*1.08) {
		grow(h.Limit.V * 1.08)
	}
	if e := d.extent(); h.ReadingAtLimit.Finite() && near(h.ReadingAtLimit.V+e) && near(h.ReadingAtLimit.V-e) {
		grow(h.ReadingAtLimit.V + e)
		grow(h.ReadingAtLimit.V - e)
	}
	if d.o.Plain {
		lo = 0
	} else {
		room := 0.05 * math.Max(hi-lo, 0.02*hi)
		lo, hi = lo-room, hi+room
	}
	d.step = niceStep(math.Max(hi-lo, hi*0.02), 6)
	if d.o.Plain {
		d.step = niceStep(math.Max(hi-lo, hi*0.02), 7)
	}
	d.y0 = math.Max(0, math.Floor(lo/d.step)*d.step)
	d.y1 = math.Ceil(hi/d.step) * d.step
	if d.y1 <= d.y0 {
		d.y1 = d.y0 + d.step
	}
	m := d.minute(last)
	d.x1 = m + math.Max(m*0.035, 0.2)
	d.findResiduals()
	return true
}

// extent is half the length of the bar of the reading that decides, Pa.
func (d *holdFigure) extent() float64 {
	if u := d.r.Hold.StandardUncertainty; u.Finite() {
		return quantity.K95 * u.V
	}
	return 0
}

func (d *holdFigure) draw(p *pen, w, h float64) {
	d.p, d.room = p, &room{width: w}
	bottom := 22.0
	right := 34.0
	if d.o.Plain {
		right = 8
	}
	strip := !d.o.Plain && len(d.residuals) > 0
	if strip {
		bottom += 11*72/25.4 + 9
	}
	d.a = axes{x: 36, y: bottom, w: w - 36 - right, h: h - bottom - 12, x1: d.x1, y0: d.y0, y1: d.y1}
	d.excluded(strip)
	d.guard()
	d.grid()
	d.band()
	d.readings()
	d.fit()
	d.bar()
	d.limit()
	d.names()
	step := timeStep(d.x1)
	axis := d.a
	if strip {
		d.strip()
		axis.y = 22
		p.stroke(0.7, Ink)
		p.line(point{d.a.x, d.a.y}, point{d.a.x + d.a.w, d.a.y})
	}
	key := "plot.since_isolation"
	if d.o.Plain {
		key = "plot.after_shut_off"
	}
	p.bottom(axis, step, d.o.Word(key), func(m float64) string { return d.o.number(m, quantity.One, places(step)) })
}

// excluded shades the equalisation at the start.
func (d *holdFigure) excluded(strip bool) {
	m, ok := d.settled()
	if !ok {
		return
	}
	x := d.a.px(m)
	d.p.fill(d.a.x, d.a.y, x-d.a.x, d.a.h, Stone)
	if strip {
		d.p.fill(d.a.x, 22, x-d.a.x, 11*72/25.4, Stone)
	}
}

func (d *holdFigure) guard() {
	h, u := d.r.Hold, d.unit()
	if !d.guarded() {
		return
	}
	top, low := d.a.py(u.From(h.Limit.V)), d.a.clamp(d.a.py(u.From(h.Limit.V-h.GuardBand.V)))
	d.p.hatch(d.a.x, low, d.a.w, top-low, 4, 1)
	d.room.drawn = append(d.room.drawn, box{d.a.x, low, d.a.x + d.a.w, top})
}

func (d *holdFigure) grid() {
	a, p := d.a, d.p
	p.rungs(a, d.y0, d.y1, d.step, d.o)
	p.stroke(0.7, Ink)
	p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
	p.text(a.x-6, a.y+a.h+6.5, d.unit().Name, small, false, right)
	if d.unit().Name == quantity.Pa.Name || d.o.Plain {
		return
	}
	x := a.x + a.w
	lo, hi := d.unit().SI(d.y0), d.unit().SI(d.y1)
	step := niceStep(hi-lo, 6)
	p.line(point{x, a.y}, point{x, a.y + a.h})
	p.text(x+6, a.y+a.h+6.5, quantity.Pa.Name, small, false, left)
	for v := math.Ceil(lo/step) * step; v <= hi*1.0001; v += step {
		y := a.py(d.unit().From(v))
		p.line(point{x, y}, point{x + 3.5, y})
		p.text(x+6, y-2.5, d.o.number(v, quantity.One, places(step)), small, false, left)
	}
}

func (d *holdFigure) readings() {
	pieces := d.a.pieces(d.r.Traces.Hold, d.minute, d.unit().From)
	d.room.curve(pieces...)
	for i, piece := range pieces {
		if d.o.Plain {
			d.p.stroke(1.2, Ink)
			d.p.line(piece...)
		} else {
			d.p.dots(piece, 0.45, Ink)
		}
		if i > 0 {
			prev := pieces[i-1]
			a, b := prev[len(prev)-1], piece[0]
			s := d.o.Word("plot.no_readings")
			if face.Width(s, false)*small+4 < b.x-a.x {
				d.p.boxed((a.x+b.x)/2, (a.y+b.y)/2-2.5, s, small, false, centre)
			}
		}
	}
	over := false
	for _, s := range d.r.Traces.Hold.OverRange {
		x := d.a.px(d.minute(s))
		if x < d.a.x || x > d.a.x+d.a.w {
			continue
		}
		y := d.a.y + d.a.h
		d.p.stroke(0.5, Ink)
		d.p.line(point{x - 1.6, y - 3}, point{x, y}, point{x + 1.6, y - 3}, point{x - 1.6, y - 3})
		if !over {
			s := d.o.Word("plot.over_range")
			at := point{x + 4, y - 6.5}
			if w := face.Width(s, false) * small; at.x+w > d.a.x+d.a.w {
				at.x = x - 4 - w
			}
			d.name(s, small, false, Ink, at)
		}
		over = true
	}
}
