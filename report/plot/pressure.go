package plot

import (
	"math"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"
)

// Pressure draws the standing pressure test: measured, and corrected to the
// temperature at its start; nil where it was not logged.
func Pressure(r *record.Record, o Options) *Figure {
	if r.Pressure == nil || !usable(r.Traces.Pressure) {
		return nil
	}
	u, shift := o.gauge(r)
	lo, hi := math.Inf(1), math.Inf(-1)
	first, last := math.Inf(1), math.Inf(-1)
	for _, t := range []*record.Trace{r.Traces.Pressure, r.Traces.Corrected} {
		if !usable(t) {
			continue
		}
		a, b := span(t)
		first, last = math.Min(first, a), math.Max(last, b)
		for _, y := range t.Y {
			if v := u.From(y - shift); finite(v) {
				lo, hi = math.Min(lo, v), math.Max(hi, v)
			}
		}
	}
	if !(hi >= lo) || !(last > first) {
		return nil
	}
	f := figure("pressure", o, 139*MM, 50*MM, func(p *pen, w, h float64) {
		extent := math.Max(hi-lo, math.Max(hi*0.002, 0.01))
		step := niceStep(extent*1.3, 5)
		a := axes{x: 42, y: 22, w: w - 42 - 8, h: h - 22 - 12, x1: (last - first) / 3600,
			y0: math.Floor((lo-0.1*extent)/step) * step, y1: math.Ceil((hi+0.1*extent)/step) * step}
		d := standing{r: r, o: o, p: p, a: a, u: u, shift: shift, first: first}
		d.draw(step)
	})
	f.Alt = o.Word("alt.pressure")
	return f
}

type standing struct {
	r            *record.Record
	o            Options
	p            *pen
	a            axes
	u            quantity.Unit
	shift, first float64
}

// gauge is the unit for pressures above the atmosphere and what to take off an
// absolute one; without a barometer they stay absolute.
func (o Options) gauge(r *record.Record) (u quantity.Unit, shift float64) {
	if r.Job.Barometer.Finite() {
		return o.Units.Pressure, r.Job.Barometer.V
	}
	if o.Units.Name == "si" {
		return quantity.Bara, 0
	}
	return quantity.Psia, 0
}

func (d *standing) draw(step float64) {
	a, p := d.a, d.p
	n := places(step)
	for v := a.y0; v <= a.y1+step/2; v += step {
		y := a.py(v)
		p.stroke(0.3, Ink, 0.6, 2)
		p.line(point{a.x, y}, point{a.x + a.w, y})
		p.stroke(0.7, Ink)
		p.line(point{a.x - 3.5, y}, point{a.x, y})
		p.text(a.x-6, y-2.5, d.o.number(v, quantity.One, n), small, false, right)
	}
	p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
	p.text(a.x-6, a.y+a.h+6, d.u.Name, small, false, right)
	d.curve(d.r.Traces.Pressure, "plot.measured", false)
	d.curve(d.r.Traces.Corrected, "plot.corrected", true)
	hours := timeStep(a.x1*60) / 60
	unit, scale := "plot.hours", 1.0
	if a.x1 < 3 {
		unit, scale = "plot.minutes", 60
	}
	p.bottom(a, hours, d.o.Word(unit), func(x float64) string { return d.o.number(x*scale, quantity.One, places(hours*scale)) })
}

func (d *standing) curve(t *record.Trace, key string, computed bool) {
	if !usable(t) {
		return
	}
	a, p := d.a, d.p
	pieces := a.pieces(t, func(s float64) float64 { return (s - d.first) / 3600 }, func(y float64) float64 { return d.u.From(y - d.shift) })
	c := Ink
	if computed {
		c = Umber
		p.stroke(1.2, c, 5, 1.5)
	} else {
		p.stroke(1, c)
	}
	for _, piece := range pieces {
		p.line(piece...)
	}
	if len(pieces) == 0 {
		return
	}
	longest := pieces[len(pieces)-1]
	q := longest[len(longest)*6/10]
	s := d.o.Word(key)
	w := face.Width(s, true) * small
	y := q.y - 10
	if computed {
		y = q.y + 5
	}
	y = math.Min(math.Max(y, a.y+2), a.y+a.h-8)
	x := math.Min(q.x, a.x+a.w-w-2)
	p.fill(x-1, y-1.5, w+2, 7.5, White)
	p.coloured(x, y, s, small, true, left, c)
}

// Hoses draws the share of the pump's stated volume flow rate that arrives at
// the system, against pressure; nil where it was not computed.
func Hoses(r *record.Record, o Options) *Figure {
	if r.PullDown == nil || r.PullDown.Hoses == nil {
		return nil
	}
	u := o.Units.Vacuum
	var pts []point
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, q := range r.PullDown.Hoses.Table {
		if !q.Pressure.Finite() || !q.Share.Finite() {
			continue
		}
		if v := u.From(q.Pressure.V); v > 0 {
			pts = append(pts, point{math.Log10(v), 100 * q.Share.V})
			lo, hi = math.Min(lo, v), math.Max(hi, v)
		}
	}
	if len(pts) < 2 || !(hi > lo) {
		return nil
	}
	f := figure("hoses", o, 139*MM, 42*MM, func(p *pen, w, h float64) {
		a := axes{x: 36, y: 22, w: w - 36 - 8, h: h - 22 - 12, x0: math.Floor(math.Log10(lo) + 1e-9), x1: math.Ceil(math.Log10(hi) - 1e-9), y1: 100}
		if a.x1 <= a.x0 {
			a.x1 = a.x0 + 1
		}
		for v := 0.0; v <= 100; v += 25 {
			y := a.py(v)
			p.stroke(0.3, Ink, 0.6, 2)
			p.line(point{a.x, y}, point{a.x + a.w, y})
			p.stroke(0.7, Ink)
			p.line(point{a.x - 3.5, y}, point{a.x, y})
			p.text(a.x-6, y-2.5, o.number(v, quantity.One, 0), small, false, right)
		}
		p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
		p.text(a.x-6, a.y+a.h+6, "%", small, false, right)
		curve := make([]point, len(pts))
		for i, q := range pts {
			curve[i] = point{a.px(q.x), a.clamp(a.py(q.y))}
		}
		p.stroke(1.3, Umber)
		p.line(curve...)
		p.bottom(a, 1, o.Word("plot.at_pressure", "unit", u.Name), func(e float64) string {
			return o.number(math.Pow(10, e), quantity.One, max(0, -int(math.Round(e))))
		})
	})
	f.Alt = o.Word("alt.hoses")
	return f
}
