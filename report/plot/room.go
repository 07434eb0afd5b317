package plot

import (
	"math"
	"slices"

	"dryhold/report/face"
)

// room knows where in a figure a name may stand: not on another name, and where
// that can be had not on a curve, on a bar or on hatching.
type room struct {
	width        float64
	curves       []outline
	drawn, names []box
}

// outline is the lowest and the highest place of a curve in each column of one
// point's width.
type outline struct{ low, high []float64 }

// box is a rectangle from its lower left to its upper right corner.
type box struct{ x0, y0, x1, y1 float64 }

func (b box) meets(c box) bool { return b.x0 < c.x1 && c.x0 < b.x1 && b.y0 < c.y1 && c.y0 < b.y1 }

// ground is what a name on the baseline y covers.
func ground(x, y float64, s string, size float64, bold bool) box {
	return box{x - 1, y - 0.25*size, x + face.Width(s, bold)*size + 1, y + 0.8*size}
}

// curve keeps names off lines through the points of each piece of one curve.
func (r *room) curve(pieces ...[]point) {
	n := int(math.Ceil(r.width)) + 1
	o := outline{low: slices.Repeat([]float64{math.Inf(1)}, n), high: slices.Repeat([]float64{math.Inf(-1)}, n)}
	for _, piece := range pieces {
		o.line(piece)
	}
	r.curves = append(r.curves, o)
}

func (o *outline) line(pts []point) {
	for i, p := range pts {
		from := p
		if i > 0 {
			from = pts[i-1]
		}
		for c := max(0, int(math.Min(from.x, p.x))); c <= int(math.Max(from.x, p.x)) && c < len(o.low); c++ {
			y := p.y
			if p.x != from.x {
				part := math.Min(math.Max((float64(c)+0.5-from.x)/(p.x-from.x), 0), 1)
				y = from.y + part*(p.y-from.y)
			}
			o.low[c], o.high[c] = math.Min(o.low[c], y), math.Max(o.high[c], y)
		}
	}
}

// clearance is the white between a name and the middle of the curve, points.
const clearance = 1.6

func (r *room) onCurve(b box) bool {
	return slices.ContainsFunc(r.curves, func(o outline) bool {
		for c := max(0, int(b.x0)); c <= int(b.x1) && c < len(o.low); c++ {
			if o.low[c]-clearance < b.y1 && o.high[c]+clearance > b.y0 {
				return true
			}
		}
		return false
	})
}

// put finds the first of the spots at which a name covers nothing, or else no
// other name, or else the first of all, and keeps it.
func (r *room) put(s string, size float64, bold bool, spots ...point) point {
	at, found := spots[0], false
	for _, q := range spots {
		b := ground(q.x, q.y, s, size, bold)
		if slices.ContainsFunc(r.names, b.meets) {
			continue
		}
		if !r.onCurve(b) && !slices.ContainsFunc(r.drawn, b.meets) {
			at = q
			break
		}
		if !found {
			at, found = q, true
		}
	}
	r.names = append(r.names, ground(at.x, at.y, s, size, bold))
	return at
}

// along are spots on the baseline y, from x to where the axes end.
func (a axes) along(x, y float64, s string, size float64, bold bool) []point {
	const step = 6
	spots := []point{{x, y}}
	for end := a.x + a.w - face.Width(s, bold)*size; x+step < end; {
		x += step
		spots = append(spots, point{x, y})
	}
	return spots
}
