package report

import (
	"image"
	"image/color"
	"math"

	"dryhold/report/plot"

	"gonum.org/v1/plot/font"
	"gonum.org/v1/plot/vg"
)

// inkwell is a vg.Canvas over a sheet: figures are written into the same page
// as the text, with the same fonts. It keeps its own transformation and never
// saves the page's graphics state, which would hide a change of font from the
// document. Text is not turned and there are no bitmaps in figures.
type inkwell struct {
	s     *sheet
	x, y  float64 // origin on the page, y from the top
	state inkState
	saved []inkState
}

type inkState struct {
	a, b, c, d, e, f float64
	width            float64
	dash             []vg.Length
	offset           vg.Length
	col              color.NRGBA
}

// newInkwell puts the canvas's origin at x and y, which counts from the top.
func newInkwell(s *sheet, x, y float64) *inkwell {
	return &inkwell{s: s, x: x, y: y, state: inkState{a: 1, d: 1, width: 1, col: ink}}
}

func (k *inkwell) SetLineWidth(w vg.Length)               { k.state.width = float64(w) }
func (k *inkwell) SetLineDash(d []vg.Length, o vg.Length) { k.state.dash, k.state.offset = d, o }
func (k *inkwell) SetColor(c color.Color) {
	if c == nil {
		c = color.Black
	}
	k.state.col = color.NRGBAModel.Convert(c).(color.NRGBA)
}
func (k *inkwell) Push() { k.saved = append(k.saved, k.state) }
func (k *inkwell) Pop() {
	k.state = k.saved[len(k.saved)-1]
	k.saved = k.saved[:len(k.saved)-1]
}
func (k *inkwell) Rotate(rad float64) {
	sin, cos := math.Sincos(rad)
	t := k.state
	k.state.a, k.state.b = cos*t.a+sin*t.c, cos*t.b+sin*t.d
	k.state.c, k.state.d = cos*t.c-sin*t.a, cos*t.d-sin*t.b
}
func (k *inkwell) Translate(p vg.Point) {
	x, y := float64(p.X), float64(p.Y)
	k.state.e += k.state.a*x + k.state.c*y
	k.state.f += k.state.b*x + k.state.d*y
}
func (k *inkwell) Scale(x, y float64) {
	k.state.a, k.state.b = k.state.a*x, k.state.b*x
	k.state.c, k.state.d = k.state.c*y, k.state.d*y
}

// to is a point in the page's coordinates, y upward.
func (k *inkwell) to(p vg.Point) (x, y float64) {
	t := &k.state
	x = t.a*float64(p.X) + t.c*float64(p.Y) + t.e
	y = t.b*float64(p.X) + t.d*float64(p.Y) + t.f
	return k.x + x, k.s.h - k.y + y
}

func (k *inkwell) pair(p vg.Point) {
	x, y := k.to(p)
	k.s.num(x)
	k.s.num(y)
}

func (k *inkwell) op(s string) { k.s.op(s) }

func (k *inkwell) path(p vg.Path) {
	for _, c := range p {
		switch c.Type {
		case vg.MoveComp:
			k.pair(c.Pos)
			k.op("m\n")
		case vg.LineComp:
			k.pair(c.Pos)
			k.op("l\n")
		case vg.CurveComp:
			k.curve(c)
		case vg.ArcComp:
			k.arc(c)
		case vg.CloseComp:
			k.op("h\n")
		}
	}
}

func (k *inkwell) curve(c vg.PathComp) {
	for _, q := range c.Control {
		k.pair(q)
	}
	if len(c.Control) == 1 { // a quadratic curve is written with its control point twice
		k.pair(c.Control[0])
	}
	k.pair(c.Pos)
	k.op("c\n")
}

// arc writes quarter turns as cubic curves.
func (k *inkwell) arc(c vg.PathComp) {
	n := max(1, int(math.Ceil(math.Abs(c.Angle)/(math.Pi/2)-1e-9)))
	step := c.Angle / float64(n)
	h := 4.0 / 3 * math.Tan(step/4)
	r := float64(c.Radius)
	at := func(a, along float64) vg.Point {
		sin, cos := math.Sincos(a)
		return vg.Point{X: c.Pos.X + vg.Length(r*(cos-along*sin)), Y: c.Pos.Y + vg.Length(r*(sin+along*cos))}
	}
	for i := range n {
		a, b := c.Start+float64(i)*step, c.Start+float64(i+1)*step
		k.pair(at(a, h))
		k.pair(at(b, -h))
		k.pair(at(b, 0))
		k.op("c\n")
	}
}

func (k *inkwell) Stroke(p vg.Path) {
	if len(p) == 0 || k.state.width <= 0 {
		return
	}
	k.s.in(k.state.col, "RG", func() {
		k.s.num(k.state.width)
		k.op("w [")
		for _, d := range k.state.dash {
			k.s.num(float64(d))
		}
		k.op("] ")
		k.s.num(float64(k.state.offset))
		k.op("d\n")
		k.path(p)
		k.op("S ")
	})
}

func (k *inkwell) Fill(p vg.Path) {
	if len(p) == 0 {
		return
	}
	k.s.in(k.state.col, "rg", func() {
		k.path(p)
		k.op("f ")
	})
}

// FillSquares fills squares of one size, as a figure's dots are.
func (k *inkwell) FillSquares(centres []vg.Point, side vg.Length) {
	k.s.in(k.state.col, "rg", func() {
		for _, c := range centres {
			k.pair(vg.Point{X: c.X - side/2, Y: c.Y - side/2})
			k.s.num(float64(side))
			k.s.num(float64(side))
			k.op("re\n")
		}
		k.op("f ")
	})
}

func (k *inkwell) FillString(f font.Face, p vg.Point, text string) {
	if text == "" {
		return
	}
	x, y := k.to(p)
	k.s.in(k.state.col, "rg", func() { k.s.write(x, k.s.h-y, text+" ", f.Font.Weight > 0, float64(f.Font.Size)) })
}

// DrawImage is part of vg.Canvas; figures hold no bitmaps.
func (k *inkwell) DrawImage(vg.Rectangle, image.Image) {}

// figure draws a figure whose top left corner is at x and y.
func (s *sheet) figure(f *plot.Figure, x, y float64) {
	n := s.mark("Figure", func() { f.Draw(newInkwell(s, x, y+float64(f.Height))) })
	n.Alt = f.Alt
}
