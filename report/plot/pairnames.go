package plot

import (
	"cmp"
	"math"
	"slices"

	"dryhold/report/face"
)

// limits draws the limit of both once, or each with its curve's name.
func (d *pairFigure) limits() {
	a, u := d.a, d.o.Units.Vacuum
	for i, c := range d.curves {
		y := a.py(u.From(c.limit))
		both := len(d.curves) < 2 || d.o.limit(d.curves[0].limit) == d.o.limit(d.curves[1].limit)
		if c.limit <= 0 || y > a.y+a.h+0.1 || y < a.y-0.1 || i > 0 && both {
			continue
		}
		name := d.o.Word("plot.limit", "level", d.o.named(d.o.limit(c.limit)))
		if !both {
			name += ", " + c.name
		}
		d.p.stroke(1.2, Ink, 6, 2.5)
		d.p.line(point{a.x, y}, point{a.x + a.w, y})
		at := d.free(y, name)
		d.room.names = append(d.room.names, ground(at.x, at.y, name, small, false))
		d.room.drawn = append(d.room.drawn, box{a.x, y - clearance, a.x + a.w, y + clearance})
		d.p.boxed(at.x, at.y, name, small, false, left)
	}
}

// free is where the name of the limit at y keeps clear of other names, of the curves
// and of the other limit: over its line from left to right, or else under it, or else
// over it and furthest from the curves.
func (d *pairFigure) free(y float64, name string) point {
	w := face.Width(name, false) * small
	best, most := point{}, math.Inf(-1)
	for _, up := range []float64{3, -8.5} {
		for i := range 4 {
			at := point{d.a.x + 6 + float64(i)/3*(d.a.w-w-12), y + up}
			b := ground(at.x, at.y, name, small, false)
			clear := 40.0
			for k := range d.curves {
				low, high := d.reach(&d.curves[k], b.x0, b.x1)
				clear = math.Min(clear, math.Max(low-b.y1, b.y0-high))
				if other := d.a.py(d.o.Units.Vacuum.From(d.curves[k].limit)); other > b.y0 && other < b.y1 {
					clear = math.Min(clear, 0)
				}
			}
			if slices.ContainsFunc(d.room.names, b.meets) || b.y0 < d.a.y {
				clear -= 100
			}
			if clear > most && (up > 0 || most < clearance) {
				best, most = at, clear
			}
		}
	}
	return best
}

// names sets each curve's name beside it, as near to its end as there is room: over
// the upper curve and under the lower one, or else on the other side.
func (d *pairFigure) names() {
	order := slices.Clone(d.curves)
	slices.SortStableFunc(order, func(x, y curve) int { return cmp.Compare(y.end, x.end) })
	for i, c := range order {
		at := d.room.put(c.name, named, true, d.beside(&c, i == 1)...)
		d.p.boxed(at.x, at.y, c.name, named, true, left)
	}
}

// beside are places for a curve's name over and under it, from its end backwards,
// as far as they lie within the axes.
func (d *pairFigure) beside(c *curve, under bool) (spots []point) {
	_, last := span(c.t)
	w := face.Width(c.name, true) * named
	for _, part := range []float64{1, 0.85, 0.7, 0.55, 0.4} {
		x := math.Max(math.Min(d.a.px(part*c.minute(last)), d.a.x+d.a.w-2)-w, d.a.x+4)
		low, high := d.reach(c, x-4, x+w+4)
		if math.IsInf(low, 1) { // between two readings
			continue
		}
		both := []point{{x, high + 5}, {x, low - 10}}
		if under {
			slices.Reverse(both)
		}
		for _, q := range both {
			if b := ground(q.x, q.y, c.name, named, true); b.y0 >= d.a.y+1 && b.y1 <= d.a.y+d.a.h {
				spots = append(spots, q)
			}
		}
	}
	return append(spots, point{d.a.x + 4, d.a.y + d.a.h - 8})
}

// reach is the lowest and the highest place of a curve between two x.
func (d *pairFigure) reach(c *curve, from, to float64) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, piece := range d.pieces(c) {
		for _, q := range piece {
			if q.x >= from && q.x <= to {
				low, high = math.Min(low, q.y), math.Max(high, q.y)
			}
		}
	}
	return low, high
}
