package plot

import (
	"math"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"

	"gonum.org/v1/plot/vg"
)

// Cause draws what a steady inflow and a part that levels off contributed to
// the rise, with their 95 % intervals and the threshold above which a cause is
// named; nil where the hold has neither.
func Cause(r *record.Record, o Options) *Figure {
	h := r.Hold
	if h == nil {
		return nil
	}
	var rows []causeRow
	for _, c := range []causeRow{{o.Word("plot.steady"), h.LeakPart}, {o.Word("plot.levels_off"), h.MoistureRise}} {
		if c.value.Finite() {
			rows = append(rows, c)
		}
	}
	if len(rows) == 0 {
		return nil
	}
	f := figure("cause", o, 139*MM, 10*MM+8*MM*vg.Length(len(rows)), func(p *pen, w, height float64) {
		d := bars{h: h, o: o, p: p, rows: rows}
		d.draw(w, height)
	})
	f.Alt = o.Word("alt.cause")
	for i, r := range rows {
		f.Alt += []string{" ", "; "}[min(i, 1)] + r.name + "\u00a0" + o.difference(r.value)
	}
	f.Alt += "\u00a0" + o.Units.Vacuum.Name + "."
	return f
}

type causeRow struct {
	name  string
	value *record.Value
}

type bars struct {
	h    *record.Hold
	o    Options
	p    *pen
	rows []causeRow
}

func (d *bars) draw(w, h float64) {
	u := d.o.Units.Vacuum
	label, number := 0.0, 56.0
	hi := 0.0
	for _, r := range d.rows {
		label = math.Max(label, face.Width(r.name, false)*small)
		number = math.Max(number, face.Width(d.o.difference(r.value), true)*named)
		hi = math.Max(hi, math.Max(r.value.V, r.value.High)/u.Scale)
	}
	threshold := math.Inf(-1)
	if d.h.Threshold.Finite() {
		threshold = d.h.Threshold.V / u.Scale
		hi = math.Max(hi, threshold*1.3)
	}
	if !(hi > 0) || math.IsInf(hi, 0) {
		hi = 1
	}
	step := niceStep(hi*1.08, 7)
	a := axes{x: label + 8, y: 13, w: w - label - 8 - number - 8, h: h - 13 - 11, x1: math.Ceil(hi*1.02/step) * step}
	p := d.p
	n := places(step)
	p.stroke(0.7, Ink)
	p.line(point{a.x, a.y}, point{a.x + a.w, a.y})
	for v := 0.0; v <= a.x1+step/2; v += step {
		x := a.px(v)
		p.stroke(0.7, Ink)
		p.line(point{x, a.y}, point{x, a.y - 2.5})
		k := n
		if v == 0 {
			k = 0
		}
		p.text(x, a.y-9.5, d.o.number(v, quantity.One, k), small, false, centre)
	}
	p.text(a.x-8, a.y-9.5, u.Name, small, false, right)
	p.stroke(0.5, Ink)
	p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
	if finite(threshold) {
		x := a.px(threshold)
		p.stroke(0.7, Ink, 3, 2)
		p.line(point{x, a.y}, point{x, a.y + a.h + 2})
		s := d.o.Word("plot.threshold", "level", d.o.named(d.o.level(d.h.Threshold.V)))
		p.text(math.Min(x+3, w-face.Width(s, false)*small), a.y+a.h+3, s, small, false, left)
	}
	for i, r := range d.rows {
		y := a.y + a.h*(1-(float64(i)+0.5)/float64(len(d.rows)))
		p.text(a.x-6, y-2.5, r.name, small, false, right)
		d.row(a, y, r.value, a.px(threshold))
	}
}

// row is one contribution; its number keeps clear of the line at threshold.
func (d *bars) row(a axes, y float64, v *record.Value, threshold float64) {
	u := d.o.Units.Vacuum
	end := a.px(v.V / u.Scale)
	text := d.o.difference(v)
	if v.Confidence > 0 {
		lo, hi := math.Max(a.px(v.Low/u.Scale), a.x), math.Min(a.px(v.High/u.Scale), a.x+a.w)
		d.p.bar(point{lo, y}, point{hi, y}, 0.9, 3)
		end = math.Max(hi, end)
	}
	d.p.disc(math.Min(a.px(v.V/u.Scale), a.x+a.w), y, 2.2, Ink)
	x := math.Min(end, a.x+a.w) + 6
	if x-3 < threshold && threshold < x+3+face.Width(text, true)*named {
		x = threshold + 4
	}
	d.p.text(x, y-2.5, text, named, true, left)
}

// significant is the number of decimals that shows three figures.
func significant(x float64) int {
	if !(x > 0) || math.IsInf(x, 0) {
		return 0
	}
	return max(2-int(math.Floor(math.Log10(x)+1e-9)), 0)
}

// difference prints a pressure difference with its interval.
func (o Options) difference(v *record.Value) string {
	u := o.Units.Vacuum
	scale := quantity.Unit{Name: u.Name, Scale: u.Scale}
	if v.Confidence == 0 {
		return o.level(v.V)
	}
	n := min(quantity.Places((v.High-v.Low)/2, scale), significant(math.Max(math.Abs(v.V), math.Abs(v.High))/u.Scale))
	one := func(si float64) string {
		if s := o.number(si, scale, n); strings.Trim(s, "−0.") != "" {
			return s
		}
		return "0"
	}
	return one(v.V) + " [" + one(v.Low) + "; " + one(v.High) + "]"
}
