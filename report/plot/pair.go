package plot

import (
	"math"
	"slices"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// Side is one of two records in a figure, and how its curve is called.
type Side struct {
	Record *record.Record
	Name   string
}

// Pair draws the deciding holds of two records over the time since isolation: the
// earlier one as a thin line with rings, the later one as a thick line. It is nil
// where neither has a hold that can be drawn.
func Pair(old, new Side, o Options) *Figure {
	d := pairFigure{o: o}
	for i, s := range []Side{old, new} {
		if c, ok := newCurve(s, i == 0); ok {
			d.curves = append(d.curves, c)
		}
	}
	if len(d.curves) == 0 {
		return nil
	}
	d.ranges()
	f := figure("holds", o, 139*MM, 62*MM, d.draw)
	f.Alt = o.Word("alt.pair")
	for _, c := range d.curves {
		f.Alt += " " + c.name + ": " + o.Word("alt.hold_ends", "start", d.level(c.start), "end", d.level(c.end)) + "."
	}
	return f
}

// curve is one hold, its times in s since isolation.
type curve struct {
	name       string
	rings      bool
	t          *record.Trace
	off        float64 // s from the recording's start to isolation
	start, end float64 // Pa, at the curve's ends
	limit      float64 // Pa; 0 for none
}

// A record that does not verify may say anything: what no gauge shows in a hold,
// or more points than any trace has, is not drawn.
const (
	highest    = 1e6 // Pa
	mostPoints = 20_000
)

func newCurve(s Side, rings bool) (curve, bool) {
	h, t := s.Record.Hold, s.Record.Traces.Hold
	absurd := func(si float64) bool { return !(math.Abs(si) < highest) }
	if h == nil || !usable(t) || len(t.T) > mostPoints || slices.ContainsFunc(t.Y, absurd) {
		return curve{}, false
	}
	off, ok := seconds(s.Record.Traces.Start, h.Start)
	if _, last := span(t); !ok || !(last > off) {
		return curve{}, false
	}
	c := curve{name: s.Name, rings: rings, t: t, off: off, start: t.Y[0], end: t.Y[len(t.Y)-1]}
	if h.Limit.Finite() && !absurd(h.Limit.V) {
		c.limit = h.Limit.V
	}
	return c, true
}

func (c *curve) minute(s float64) float64 { return (s - c.off) / 60 }

type pairFigure struct {
	o      Options
	curves []curve
	p      *pen
	a      axes
	step   float64
	room   *room
}

func (d *pairFigure) level(si float64) string {
	return d.o.named(d.o.level(si))
}

// ranges makes room for both curves, and for a limit that lies near them.
func (d *pairFigure) ranges() {
	u := d.o.Units.Vacuum
	lo, hi, last := math.Inf(1), 0.0, 0.0
	for _, c := range d.curves {
		_, t := span(c.t)
		last = math.Max(last, c.minute(t))
		for _, y := range c.t.Y {
			lo, hi = math.Min(lo, u.From(y)), math.Max(hi, u.From(y))
		}
	}
	for _, c := range d.curves {
		if l := u.From(c.limit); l < 3*hi {
			hi = math.Max(hi, l*1.04)
		}
	}
	names := 0.1 * math.Max(hi-lo, hi*0.02) // room for them over and under the curves
	lo, hi = math.Max(lo-names, 0), hi+names
	d.step = niceStep(hi-lo, 6)
	d.a.y0 = math.Max(0, math.Floor(lo/d.step)*d.step)
	d.a.y1 = math.Max(math.Ceil(hi/d.step)*d.step, d.a.y0+d.step)
	d.a.x1 = last + math.Max(last*0.035, 0.2)
}

func (d *pairFigure) draw(p *pen, w, h float64) {
	d.p, d.room = p, &room{width: w}
	d.a.x, d.a.y, d.a.w, d.a.h = 36, 22, w-36-4, h-22-12
	for i := range d.curves {
		d.room.curve(d.pieces(&d.curves[i])...)
	}
	d.grid()
	d.limits()
	for i := range d.curves {
		d.curve(&d.curves[i])
	}
	d.names()
	step := timeStep(d.a.x1)
	p.bottom(d.a, step, d.o.Word("plot.since_isolation"), func(m float64) string { return d.o.number(m, quantity.One, places(step)) })
}

// pieces are the parts of a curve between gaps, on the page.
func (d *pairFigure) pieces(c *curve) [][]point {
	return d.a.pieces(c.t, c.minute, d.o.Units.Vacuum.From)
}

func (d *pairFigure) grid() {
	a, p := d.a, d.p
	p.rungs(a, a.y0, a.y1, d.step, d.o)
	p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
	p.text(a.x-6, a.y+a.h+6.5, d.o.Units.Vacuum.Name, small, false, right)
}

const (
	rings    = 24 // along a curve as long as the axis
	ringSize = 1.7
)

func (d *pairFigure) curve(c *curve) {
	width := 1.5
	if c.rings {
		width = 0.4
	}
	next := d.a.x + d.a.w/rings/2
	var marks []point
	for _, piece := range d.pieces(c) {
		d.p.stroke(width, Ink)
		d.p.line(piece...)
		for _, q := range piece {
			if c.rings && q.x >= next {
				marks = append(marks, q)
				next = q.x + d.a.w/rings
			}
		}
	}
	for _, q := range marks {
		d.p.disc(q.x, q.y, ringSize, White)
	}
}
