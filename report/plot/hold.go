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
	f.Cut = d.y0 > 0
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
		return 1.96 * u.V
	}
	return 0
}

func (d *holdFigure) findResiduals() {
	fit, u := d.r.Traces.Fit, d.unit()
	if fit == nil || len(fit.T) < 2 || len(fit.T) != len(fit.Y) {
		return
	}
	t := d.r.Traces.Hold
	d.residuals = make([]point, 0, len(t.T))
	j := 0
	var sum float64
	for i, x := range t.T {
		if x < fit.T[0] || x > fit.T[len(fit.T)-1] {
			continue
		}
		for j+2 < len(fit.T) && fit.T[j+1] < x {
			j++
		}
		f := fit.Y[j]
		if dt := fit.T[j+1] - fit.T[j]; dt > 0 {
			f += (fit.Y[j+1] - fit.Y[j]) * (x - fit.T[j]) / dt
		}
		e := (t.Y[i] - f) / u.Scale
		if finite(e) {
			d.residuals = append(d.residuals, point{d.minute(x), e})
			sum += e * e
		}
	}
	if len(d.residuals) == 0 {
		return
	}
	s := math.Sqrt(sum / float64(len(d.residuals)))
	if r := d.r.Hold.Residual; r.Finite() && r.V > 0 {
		s = r.V / u.Scale
	}
	biggest := 0.0
	for _, q := range d.residuals {
		biggest = math.Max(biggest, math.Abs(q.y))
	}
	for _, k := range []float64{2, 4, 10} {
		d.residualExtent = niceStep(k*math.Max(s, 1e-6), 1)
		if biggest <= d.residualExtent {
			break
		}
	}
}

func (d *holdFigure) draw(p *pen, w, h float64) {
	d.p = p
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
	s, ok := seconds(d.r.Hold.Start, d.r.Hold.SettleEnd)
	if !ok || s <= 0 || s/60 > d.x1 {
		return
	}
	x := d.a.px(s / 60)
	d.p.fill(d.a.x, d.a.y, x-d.a.x, d.a.h, Stone)
	if strip {
		d.p.fill(d.a.x, 22, x-d.a.x, 11*72/25.4, Stone)
	}
}

func (d *holdFigure) guard() {
	h, u := d.r.Hold, d.unit()
	if !h.Limit.Finite() || !h.GuardBand.Finite() || h.GuardBand.V <= 0 {
		return
	}
	top, low := d.a.py(u.From(h.Limit.V)), d.a.clamp(d.a.py(u.From(h.Limit.V-h.GuardBand.V)))
	if top > d.a.y+d.a.h+0.1 {
		return
	}
	d.p.hatch(d.a.x, low, d.a.w, top-low, 4, 1)
}

func (d *holdFigure) grid() {
	a, p := d.a, d.p
	n := places(d.step)
	for v := d.y0; v <= d.y1+d.step/2; v += d.step {
		y := a.py(v)
		if y > a.y+1 {
			p.stroke(0.3, Ink, 0.6, 2)
			p.line(point{a.x, y}, point{a.x + a.w, y})
		}
		p.stroke(0.7, Ink)
		p.line(point{a.x - 3.5, y}, point{a.x, y})
		p.text(a.x-6, y-2.5, d.o.number(v, quantity.One, n), small, false, right)
	}
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

// fitted is the averaged fit, nil where there is none to draw.
func (d *holdFigure) fitted() *record.Band {
	f := d.r.Traces.Fit
	if d.o.Plain || f == nil || len(f.T) < 2 || len(f.Low) != len(f.T) || len(f.High) != len(f.T) || len(f.Y) != len(f.T) {
		return nil
	}
	return f
}

func (d *holdFigure) fit() {
	f := d.fitted()
	if f == nil {
		return
	}
	var mid []point
	for i := range f.T {
		if d.a.shown(d.minute(f.T[i]), f.Y[i]) {
			mid = append(mid, point{d.a.px(d.minute(f.T[i])), d.a.clamp(d.a.py(d.unit().From(f.Y[i])))})
		}
	}
	d.p.stroke(1.0, Umber)
	d.p.line(mid...)
}

func (d *holdFigure) band() {
	f := d.fitted()
	if f == nil {
		return
	}
	u, a := d.unit(), d.a
	var band []point
	for i := range f.T {
		if a.shown(d.minute(f.T[i]), f.High[i]) {
			band = append(band, point{a.px(d.minute(f.T[i])), a.clamp(a.py(u.From(f.High[i])))})
		}
	}
	for i := len(f.T) - 1; i >= 0; i-- {
		if a.shown(d.minute(f.T[i]), f.Low[i]) {
			band = append(band, point{a.px(d.minute(f.T[i])), a.clamp(a.py(u.From(f.Low[i])))})
		}
	}
	d.p.polygon(band, Stone)
}

func (d *holdFigure) readings() {
	pieces := d.a.pieces(d.r.Traces.Hold, d.minute, d.unit().From)
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
			d.p.boxed(x+4, y-6.5, d.o.Word("plot.over_range"), small, false, left)
		}
		over = true
	}
}

func (d *holdFigure) limit() {
	h, u, a := d.r.Hold, d.unit(), d.a
	if !h.Limit.Finite() {
		return
	}
	y := a.py(u.From(h.Limit.V))
	name := d.o.Word("plot.limit", "level", d.o.named(d.o.limit(h.Limit.V)))
	x := a.x + 0.09*a.w
	if s, ok := seconds(h.Start, h.SettleEnd); ok && s/60 < d.x1/2 {
		x = math.Max(x, a.px(s/60)+4)
	}
	if y > a.y+a.h+0.1 {
		d.p.boxed(x, a.y+a.h-8, d.o.Word("plot.limit_above", "level", d.o.named(d.o.limit(h.Limit.V))), named, true, left)
		return
	}
	d.p.stroke(1.6, Ink)
	d.p.line(point{a.x, y}, point{a.x + a.w, y})
	d.p.boxed(x, y+3, name, named, true, left)
	if !h.GuardBand.Finite() || h.GuardBand.V <= 0 {
		return
	}
	low := a.clamp(a.py(u.From(h.Limit.V - h.GuardBand.V)))
	d.p.boxed(x, low-7.5, d.o.Word("plot.guard", "level", d.o.named(d.o.level(h.GuardBand.V))), small, false, left)
}

func (d *holdFigure) names() {
	a := d.a
	if s, ok := seconds(d.r.Hold.Start, d.r.Hold.SettleEnd); ok && s > 20 && s/60 < d.x1/2 {
		ty := a.y + 3
		if y := a.py(d.unit().From(d.r.Traces.Hold.Y[len(d.r.Traces.Hold.Y)/5])); y < a.y+13 { // the curve runs there
			ty = y + 4
		}
		d.p.boxed(a.px(s/60)+2.5, ty, d.o.Word("plot.not_used", "minutes", d.o.number(s/60, quantity.One, 1)), small, false, left)
	}
	key := "plot.readings_name"
	c := Ink
	if !d.o.Plain && d.r.Traces.Fit != nil {
		key, c = "plot.fit_name", Umber
	}
	s := d.o.Word(key)
	w := face.Width(s, true) * named
	x, y := d.free(w)
	ty := y - 16
	if ty < a.y+12 {
		ty = y + 9
	}
	d.p.fill(x-1, ty-2, w+2, 8.5, White)
	d.p.coloured(x, ty, s, named, true, left, c)
}

// free is a point of the curve beside which a name of width w does not meet the bar.
func (d *holdFigure) free(w float64) (x, y float64) {
	a, t := d.a, d.r.Traces.Hold
	bar, ok := d.barAt()
	for _, part := range []int{62, 40, 78, 25} {
		i := len(t.T) * part / 100
		x, y = math.Min(a.px(d.minute(t.T[i])), a.x+a.w-w-2), a.clamp(a.py(d.unit().From(t.Y[i])))
		if !ok || bar < x-8 || bar > x+w+8 {
			break
		}
	}
	return x, y
}

// barAt is where the reading that decides stands.
func (d *holdFigure) barAt() (x float64, ok bool) {
	h := d.r.Hold
	if !h.ReadingAtLimit.Finite() {
		return 0, false
	}
	s, ok := seconds(h.Start, h.LimitAt)
	if !ok {
		s, ok = seconds(h.Start, h.End)
	}
	return d.a.px(s / 60), ok && s >= 0 && s/60 <= d.x1
}

// bar is the reading that decides with its 95 % interval. Where that is far
// longer than the scale, arrows say so and its size is told in words.
func (d *holdFigure) bar() {
	x, ok := d.barAt()
	if !ok {
		return
	}
	h, u, a := d.r.Hold, d.unit(), d.a
	y := a.clamp(a.py(u.From(h.ReadingAtLimit.V)))
	if e := d.extent(); e > 0 {
		low, high := a.py(u.From(h.ReadingAtLimit.V-e)), a.py(u.From(h.ReadingAtLimit.V+e))
		if low >= a.y-0.1 && high <= a.y+a.h+0.1 {
			d.p.bar(point{x, low}, point{x, high}, 0.9, 3)
		} else {
			d.beyond(x, math.Max(low, a.y), math.Min(high, a.y+a.h), e)
		}
	}
	d.p.disc(x, y, 2, Ink)
}

func (d *holdFigure) beyond(x, low, high, e float64) {
	a := d.a
	d.p.stroke(0.6, Ink)
	d.p.line(point{x, low}, point{x, high})
	d.p.line(point{x - 2.2, low + 4}, point{x, low}, point{x + 2.2, low + 4})
	d.p.line(point{x - 2.2, high - 4}, point{x, high}, point{x + 2.2, high - 4})
	s := d.o.Word("plot.bar_beyond", "level", d.o.named(d.o.number(e, quantity.Unit{Scale: d.unit().Scale}, quantity.Places(e, d.unit()))))
	if w := face.Width(s, false) * small; x+6+w <= a.x+a.w {
		d.p.boxed(x+6, a.y+13, s, small, false, left)
	} else {
		d.p.boxed(x-6, a.y+13, s, small, false, right)
	}
}

func (d *holdFigure) strip() {
	const height = 11 * 72 / 25.4
	a := axes{x: d.a.x, y: 22, w: d.a.w, h: height, x1: d.x1, y0: -d.residualExtent, y1: d.residualExtent}
	p := d.p
	pts := make([]point, 0, len(d.residuals))
	for _, q := range d.residuals {
		if a.shown(q.x, q.y) {
			pts = append(pts, point{a.px(q.x), a.clamp(a.py(q.y))})
		}
	}
	p.stroke(0.5, Ink)
	p.line(point{a.x, a.py(0)}, point{a.x + a.w, a.py(0)})
	p.dots(pts, 0.4, Ink)
	p.stroke(0.7, Ink)
	p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
	n := places(d.residualExtent)
	for _, v := range []float64{-d.residualExtent, 0, d.residualExtent} {
		p.line(point{a.x - 3.5, a.py(v)}, point{a.x, a.py(v)})
		s := d.o.number(v, quantity.One, n)
		if v > 0 {
			s = "+" + s
		}
		p.text(a.x-6, a.py(v)-2.5, s, small, false, right)
	}
	p.boxed(a.x+a.w, a.y+a.h-1, d.o.Word("plot.residuals", "unit", d.unit().Name), small, false, right)
}
