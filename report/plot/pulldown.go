package plot

import (
	"math"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"

	"gonum.org/v1/plot/vg"
)

// triplePoint of water, Pa (IAPWS R7-97, 611.657 Pa).
const triplePoint = 611.657

// PullDown draws the whole vacuum recording on a logarithmic axis with its
// phases and levels; nil when there is nothing to draw.
func PullDown(r *record.Record, o Options) *Figure {
	t := r.Traces.Vacuum
	if !usable(t) {
		return nil
	}
	u := o.Units.Vacuum
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, y := range t.Y {
		if v := u.From(y); v > 0 && finite(v) {
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	first, last := span(t)
	if !(hi >= lo) || !(last > first) {
		return nil
	}
	f := figure("pulldown", o, 139*MM, 68*MM, func(p *pen, w, h float64) {
		d := pullDown{r: r, o: o, p: p, zero: first}
		y0, y1 := math.Pow(10, math.Floor(math.Log10(lo)+1e-9)), math.Pow(10, math.Ceil(math.Log10(hi)-1e-9))
		if y1 <= y0 {
			y1 = y0 * 10
		}
		d.a = axes{x: 45, y: 22, w: w - 45 - 44, h: h - 22 - 28, x1: (last - first) / 60}.logarithmic(y0, y1)
		d.draw()
	})
	f.Alt = o.Word("alt.pulldown")
	if pd := r.PullDown; pd != nil && pd.Lowest.Finite() {
		f.Alt += " " + o.Word("alt.pulldown_lowest", "level", o.named(o.level(pd.Lowest.V)))
	}
	return f
}

type pullDown struct {
	r    *record.Record
	o    Options
	p    *pen
	a    axes
	zero float64 // s from the recording's start to the first reading within range
}

// minute is a time of the trace, in s, on the axis.
func (d *pullDown) minute(s float64) float64 { return (s - d.zero) / 60 }

func (d *pullDown) minutes(at string) (float64, bool) {
	s, ok := seconds(d.r.Traces.Start, at)
	return d.minute(s), ok
}

func (d *pullDown) draw() {
	d.regions()
	d.scale()
	d.curve()
	d.levels()
	step := timeStep(d.a.x1)
	d.p.bottom(d.a, step, d.o.Word("plot.minutes_since", "time", clock(d.r.Traces.Start, d.zero)), func(m float64) string {
		return d.o.number(m, quantity.One, places(step))
	})
}

// regions draws the strip of phases and shades the plot under it.
func (d *pullDown) regions() {
	const strip = 4.6 * 72 / 25.4
	top := d.a.y + d.a.h + 4
	counts := map[string]int{}
	for _, ph := range d.r.Phases {
		counts[ph.What]++
	}
	seen := map[string]int{}
	edge := math.Inf(-1)
	for _, ph := range d.r.Phases {
		a, ok1 := d.minutes(ph.Start)
		b, ok2 := d.minutes(ph.End)
		if !ok1 || !ok2 {
			continue
		}
		a, b = math.Max(a, d.a.x0), math.Min(b, d.a.x1)
		if b <= a {
			continue
		}
		x, w := d.a.px(a), d.a.px(b)-d.a.px(a)
		switch ph.What {
		case "hold":
			d.p.fill(x, d.a.y, w, d.a.h, Stone)
			d.p.fill(x, top, w, strip, Stone)
		case "nitrogen break":
			d.p.hatch(x, d.a.y, w, d.a.h, 6, 1)
			d.p.hatch(x, top, w, strip, 3.2, 1)
		}
		d.p.box(x, top, w, strip, 0.5)
		name := d.o.Word("phase." + ph.What)
		if ph.What == "idle" || ph.What == "other" || name == "" {
			continue
		}
		seen[ph.What]++
		if counts[ph.What] > 1 {
			name += " " + d.o.number(float64(seen[ph.What]), quantity.One, 0)
		}
		nw := face.Width(name, true) * small
		if nw+4 < w {
			if ph.What == "nitrogen break" {
				d.p.boxed(x+w/2, top+3.8, name, small, true, centre)
			} else {
				d.p.text(x+w/2, top+3.8, name, small, true, centre)
			}
			continue
		}
		nw = face.Width(name, false) * small
		mid := math.Min(math.Max(x+w/2, d.a.x+nw/2), d.a.x+d.a.w-nw/2)
		if mid-nw/2 < edge {
			continue
		}
		d.p.text(mid, top+strip+2.5, name, small, false, centre)
		edge = mid + nw/2 + 6
	}
}

func (d *pullDown) scale() {
	u := d.o.Units.Vacuum
	a, p := d.a, d.p
	for v := a.y0; v <= a.y1*1.001; v *= 10 {
		y := a.py(v)
		if v > a.y0*1.001 && v < a.y1*0.999 {
			p.stroke(0.3, Ink, 0.6, 2)
			p.line(point{a.x, y}, point{a.x + a.w, y})
		}
		p.stroke(0.7, Ink)
		p.line(point{a.x - 3.5, y}, point{a.x, y})
		p.text(a.x-6, y-2.5, d.o.number(v, quantity.One, max(0, -int(math.Round(math.Log10(v))))), small, false, right)
		for m := 2.0; m < 10 && v < a.y1*0.999; m++ {
			p.line(point{a.x - 1.8, a.py(v * m)}, point{a.x, a.py(v * m)})
		}
	}
	p.stroke(0.7, Ink)
	p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
	p.text(a.x-6, a.y+a.h+9, u.Name, small, false, right)
	if u.Name != quantity.Pa.Name && !d.o.Plain {
		d.second()
	}
	tp := u.From(triplePoint)
	if tp > a.y0 && tp < a.y1 {
		y := a.py(tp)
		p.stroke(0.7, Ink, 4, 2)
		p.line(point{a.x, y}, point{a.x + a.w, y})
	}
}

// second is the axis in pascal at the right.
func (d *pullDown) second() {
	a, p := d.a, d.p
	x := a.x + a.w
	p.stroke(0.7, Ink)
	p.line(point{x, a.y}, point{x, a.y + a.h})
	p.text(x+6, a.y+a.h+9, quantity.Pa.Name, small, false, left)
	u := d.o.Units.Vacuum
	low, high := u.SI(a.y0), u.SI(a.y1)
	for e := math.Ceil(math.Log10(low)); e <= math.Log10(high); e++ {
		v := math.Pow(10, e)
		y := a.py(u.From(v))
		p.stroke(0.7, Ink)
		p.line(point{x, y}, point{x + 3.5, y})
		p.text(x+6, y-2.5, d.o.number(v, quantity.One, max(0, -int(e))), small, false, left)
	}
}

func (d *pullDown) curve() {
	t := d.r.Traces.Vacuum
	u := d.o.Units.Vacuum
	d.p.stroke(1.0, Ink)
	pieces := d.a.pieces(t, d.minute, u.From)
	for _, piece := range pieces {
		d.p.line(thin(piece, unseen)...)
	}
	last := math.Inf(-1)
	for _, s := range t.OverRange {
		x := d.a.px(d.minute(s))
		if x < d.a.x || x > d.a.x+d.a.w || x-last < 5 {
			continue
		}
		last = x
		y := d.a.y + d.a.h
		d.p.stroke(0.5, Ink)
		d.p.line(point{x - 1.6, y - 3}, point{x, y}, point{x + 1.6, y - 3}, point{x - 1.6, y - 3})
	}
}

// Short is the least height of the figure, for an audience that has less room.
const Short = 34 * vg.Millimeter
