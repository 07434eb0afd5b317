package plot

import (
	"image/color"
	"math"
	"slices"

	"dryhold/report/face"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// pen draws in points with the origin at the figure's lower left corner.
type pen struct {
	c    vg.Canvas
	path vg.Path // used again for every line, since a point of it takes 72 bytes
}

type point struct{ x, y float64 }

type align uint8

const (
	left align = iota
	centre
	right
)

// Sizes of text inside figures, in points.
const (
	small = 7.0
	named = 7.5
)

func faceOf(size float64, bold bool) font.Face {
	f := font.Font{Typeface: "Liberation", Variant: "Sans", Size: vg.Length(size)}
	if bold {
		f.Weight = 2 // semi-bold of x/image/font; the back ends ask the face for its outline
	}
	return font.Face{Font: f, Face: face.OpenType(bold)}
}

// text writes s on the baseline y and returns its width.
func (p *pen) text(x, y float64, s string, size float64, bold bool, a align) float64 {
	return p.coloured(x, y, s, size, bold, a, Ink)
}

func (p *pen) coloured(x, y float64, s string, size float64, bold bool, a align, c color.Color) float64 {
	w := face.Width(s, bold) * size
	switch a {
	case centre:
		x -= w / 2
	case right:
		x -= w
	}
	p.c.SetColor(c)
	p.c.FillString(faceOf(size, bold), vg.Point{X: vg.Length(x), Y: vg.Length(y)}, s)
	return w
}

// boxed writes s on white, so that a grid line does not run through it.
func (p *pen) boxed(x, y float64, s string, size float64, bold bool, a align) {
	w := face.Width(s, bold) * size
	x0 := x
	switch a {
	case centre:
		x0 -= w / 2
	case right:
		x0 -= w
	}
	p.fill(x0-1, y-0.25*size, w+2, 1.05*size, White)
	p.text(x, y, s, size, bold, a)
}

func (p *pen) stroke(width float64, c color.Color, dash ...float64) {
	p.c.SetLineWidth(vg.Length(width))
	p.c.SetColor(c)
	d := make([]vg.Length, len(dash))
	for i, x := range dash {
		d[i] = vg.Length(x)
	}
	p.c.SetLineDash(d, 0)
}

// line strokes one open polyline.
func (p *pen) line(pts ...point) {
	if len(pts) < 2 {
		return
	}
	p.trace(pts)
	p.c.Stroke(p.path)
}

// trace begins the pen's path anew with these points.
func (p *pen) trace(pts []point) {
	p.path = slices.Grow(p.path[:0], len(pts)+1)
	for i, q := range pts {
		if i == 0 {
			p.path.Move(at(q))
		} else {
			p.path.Line(at(q))
		}
	}
}

func at(q point) vg.Point { return vg.Point{X: vg.Length(q.x), Y: vg.Length(q.y)} }

func rectangle(x, y, w, h float64) vg.Path {
	path := make(vg.Path, 0, 5)
	path.Move(at(point{x, y}))
	path.Line(at(point{x + w, y}))
	path.Line(at(point{x + w, y + h}))
	path.Line(at(point{x, y + h}))
	path.Close()
	return path
}

func (p *pen) fill(x, y, w, h float64, c color.Color) {
	p.c.SetColor(c)
	p.c.Fill(rectangle(x, y, w, h))
}

func (p *pen) polygon(pts []point, c color.Color) {
	if len(pts) < 3 {
		return
	}
	p.trace(pts)
	p.path.Close()
	p.c.SetColor(c)
	p.c.Fill(p.path)
}

// box strokes a rectangle.
func (p *pen) box(x, y, w, h, width float64) {
	p.stroke(width, Ink)
	p.c.Stroke(rectangle(x, y, w, h))
}

// hatch fills a rectangle with lines at 45 degrees, step apart; slope +1 leans
// right, -1 left.
func (p *pen) hatch(x, y, w, h, step float64, slope float64) {
	if w <= 0 || h <= 0 {
		return
	}
	p.stroke(0.35, Ink)
	var path vg.Path
	d := step * math.Sqrt2
	for s := x - h + d/2; s < x+w; s += d {
		a, b := math.Max(s, x), math.Min(s+h, x+w)
		if b-a < 0.05 {
			continue
		}
		y1, y2 := y+(a-s), y+(b-s)
		if slope < 0 {
			y1, y2 = y+h-(a-s), y+h-(b-s)
		}
		path.Move(at(point{a, y1}))
		path.Line(at(point{b, y2}))
	}
	if len(path) > 0 {
		p.c.Stroke(path)
	}
}

// squares is a canvas that has a shorter way to fill squares than a path each.
type squares interface {
	FillSquares(centres []vg.Point, side vg.Length)
}

// dots draws each point as a square of side 2r: at this size it cannot be told from a
// disc and costs a tenth. Elsewhere it is a stroke as long as it is wide.
func (p *pen) dots(pts []point, r float64, c color.Color) {
	if len(pts) == 0 {
		return
	}
	if page, ok := p.c.(squares); ok {
		centres := make([]vg.Point, len(pts))
		for i, q := range pts {
			centres[i] = at(q)
		}
		p.c.SetColor(c)
		page.FillSquares(centres, vg.Length(2*r))
		return
	}
	p.path = slices.Grow(p.path[:0], 2*len(pts))
	for _, q := range pts {
		p.path.Move(at(point{q.x - r, q.y}))
		p.path.Line(at(point{q.x + r, q.y}))
	}
	p.stroke(2*r, c)
	p.c.Stroke(p.path)
}

// disc draws a dot with a rim.
func (p *pen) disc(x, y, r float64, inside color.Color) {
	var path vg.Path
	path.Move(at(point{x + r, y}))
	path.Arc(at(point{x, y}), vg.Length(r), 0, 2*math.Pi)
	path.Close()
	p.c.SetColor(inside)
	p.c.Fill(path)
	p.stroke(0.8, Ink)
	p.c.Stroke(path)
}

// bar is an interval with end marks; horizontal or upright by its ends.
func (p *pen) bar(a, b point, width, mark float64) {
	p.stroke(width, Ink)
	p.line(a, b)
	if a.y == b.y {
		p.line(point{a.x, a.y - mark}, point{a.x, a.y + mark})
		p.line(point{b.x, b.y - mark}, point{b.x, b.y + mark})
		return
	}
	p.line(point{a.x - mark, a.y}, point{a.x + mark, a.y})
	p.line(point{b.x - mark, b.y}, point{b.x + mark, b.y})
}
