package plot

import (
	"math"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"
)

// axes maps data to the rectangle (x, y, w, h) of the figure. With log set, y
// is decimal logarithmic and values that are not positive have no place.
type axes struct {
	x, y, w, h     float64
	x0, x1, y0, y1 float64
	log            bool
	e0, e1         float64 // decimal logarithms of y0 and y1, where log is set
}

// logarithmic are axes whose y runs from y0 to y1 by powers of ten.
func (a axes) logarithmic(y0, y1 float64) axes {
	a.log, a.y0, a.y1, a.e0, a.e1 = true, y0, y1, math.Log10(y0), math.Log10(y1)
	return a
}

func (a axes) px(x float64) float64 { return a.x + a.w*(x-a.x0)/(a.x1-a.x0) }

func (a axes) py(y float64) float64 {
	if a.log {
		if y <= 0 {
			return a.y
		}
		return a.y + a.h*(math.Log10(y)-a.e0)/(a.e1-a.e0)
	}
	return a.y + a.h*(y-a.y0)/(a.y1-a.y0)
}

// shown reports whether a point has a place within the axes.
func (a axes) shown(x, y float64) bool {
	return finite(x) && finite(y) && x >= a.x0-1e-9 && x <= a.x1+1e-9 && (!a.log || y > 0)
}

// clamp keeps a y on the paper.
func (a axes) clamp(y float64) float64 { return math.Min(math.Max(y, a.y), a.y+a.h) }

// pieces are the parts of a trace between its breaks, in figure coordinates;
// xScale and yScale turn the trace's numbers into the axes' units.
func (a axes) pieces(t *record.Trace, fx, fy func(float64) float64) [][]point {
	var out [][]point
	now := make([]point, 0, len(t.T))
	next := 0
	for i := range t.T {
		for next < len(t.Breaks) && t.Breaks[next] < i {
			next++
		}
		if next < len(t.Breaks) && t.Breaks[next] == i && len(now) > 0 {
			out, now = append(out, now), now[len(now):]
		}
		x, y := fx(t.T[i]), fy(t.Y[i])
		if a.shown(x, y) {
			now = append(now, point{a.px(x), a.clamp(a.py(y))})
		}
	}
	if len(now) > 0 {
		out = append(out, now)
	}
	return out
}

// timeStep is a step for a time axis in minutes that gives about 4 to 10 ticks.
func timeStep(minutes float64) float64 {
	for _, s := range []float64{0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 30, 60, 120, 180, 240, 360, 720, 1440, 2880} {
		if minutes/s <= 9.5 {
			return s
		}
	}
	return math.Pow(10, math.Ceil(math.Log10(minutes/9)))
}

// niceStep is 1, 2, 2.5 or 5 times a power of ten that cuts span into at most n parts.
func niceStep(span float64, n int) float64 {
	if !(span > 0) || math.IsInf(span, 0) {
		return 1
	}
	raw := span / float64(n)
	p := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 2.5, 5, 10} {
		if m*p >= raw*(1-1e-9) {
			return m * p
		}
	}
	return 10 * p
}

// places is the number of decimals that show a step.
func places(step float64) int {
	for p := 0; p < 9; p++ {
		s := step * math.Pow(10, float64(p))
		if math.Abs(s-math.Round(s)) < 1e-6*s {
			return p
		}
	}
	return 9
}

// rungs draws the lines of a straight scale from one number to another across the
// axes, with their numbers at the left; none lies on the x axis.
func (p *pen) rungs(a axes, from, to, step float64, o Options) {
	for v := from; v <= to+step/2; v += step {
		y := a.py(v)
		if y > a.y+1 {
			p.stroke(0.3, Ink, 0.6, 2)
			p.line(point{a.x, y}, point{a.x + a.w, y})
		}
		p.stroke(0.7, Ink)
		p.line(point{a.x - 3.5, y}, point{a.x, y})
		p.text(a.x-6, y-2.5, o.number(v, quantity.One, places(step)), small, false, right)
	}
}

// bottom draws the x axis with its ticks and title.
func (p *pen) bottom(a axes, step float64, title string, labels func(float64) string) {
	p.stroke(0.7, Ink)
	p.line(point{a.x, a.y}, point{a.x + a.w, a.y})
	for i := 0; ; i++ {
		v := math.Ceil(a.x0/step-1e-9)*step + float64(i)*step
		if v > a.x1+1e-9 || i > 60 {
			break
		}
		x := a.px(v)
		p.stroke(0.7, Ink)
		p.line(point{x, a.y}, point{x, a.y - 2.5})
		s := labels(v)
		p.text(math.Min(x, a.x+a.w+7-face.Width(s, false)*small/2), a.y-9.5, s, small, false, centre)
	}
	p.text(a.x+a.w, a.y-19, title, small, false, right)
}
