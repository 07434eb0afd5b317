package report

import (
	"image/color"
	"math"
	"strconv"

	"dryhold/report/face"
)

// Operators of a page's content (ISO 32000-1, annex A), in the page's own coordinates.

// num writes a length to a hundredth of a point, in a fifth of the time that a general number takes.
func (s *sheet) num(x float64) {
	n := int64(math.Round(x * 100))
	if n < 0 {
		s.buf = append(s.buf, '-')
		n = -n
	}
	s.buf = strconv.AppendInt(s.buf, n/100, 10)
	if n %= 100; n > 0 {
		s.buf = append(s.buf, '.', byte('0'+n/10))
		if n%10 > 0 {
			s.buf = append(s.buf, byte('0'+n%10))
		}
	}
	s.buf = append(s.buf, ' ')
}

func (s *sheet) colour(c color.NRGBA, op string) {
	for _, v := range []uint8{c.R, c.G, c.B} {
		s.buf = append(strconv.AppendFloat(s.buf, float64(v)/255, 'f', 3, 64), ' ')
	}
	s.buf = append(s.buf, op...)
	s.buf = append(s.buf, ' ')
}

// op writes an operator as it is.
func (s *sheet) op(text string) { s.buf = append(s.buf, text...) }

// flush gives fpdf what was drawn; it is due before fpdf writes anything by itself.
func (s *sheet) flush() {
	if len(s.buf) == 0 {
		return
	}
	s.read.Reset(s.buf)
	s.pdf.RawWriteBuf(&s.read)
	s.buf = s.buf[:0]
}

// in draws in a colour, and leaves ink behind; op sets the colour of fills and text, rg,
// or of strokes, RG.
func (s *sheet) in(c color.NRGBA, op string, draw func()) {
	if c != ink {
		s.colour(c, op)
	}
	draw()
	if c != ink {
		s.colour(ink, op)
	}
	s.op("\n")
}

// rule draws a horizontal rule.
func (s *sheet) rule(x, y, w, width float64) {
	s.artifact(func() {
		s.num(width)
		s.op("w [] 0 d ")
		s.num(x)
		s.num(s.h - y)
		s.op("m ")
		s.num(x + w)
		s.num(s.h - y)
		s.op("l S\n")
	})
}

func (s *sheet) fill(x, y, w, h float64, c color.NRGBA) {
	s.artifact(func() {
		s.in(c, "rg", func() {
			s.rect(x, y, w, h)
			s.op("f ")
		})
	})
}

func (s *sheet) rect(x, y, w, h float64) {
	s.num(x)
	s.num(s.h - y - h)
	s.num(w)
	s.num(h)
	s.op("re ")
}

// frame strokes a rectangle, dashed where dash is above 0.
func (s *sheet) frame(x, y, w, h, width, dash float64) {
	s.artifact(func() {
		s.num(width)
		s.op("w [")
		if dash > 0 {
			s.num(dash)
		}
		s.op("] 0 d ")
		s.rect(x, y, w, h)
		s.op("S [] 0 d\n")
	})
}

// coded writes a text in the codes of the prepared fonts, in a third of the time that
// fpdf takes.
func (s *sheet) coded(x, y float64, text string) {
	codes, ok := face.Encode(text)
	s.rare = s.rare || !ok
	s.op("BT ")
	s.num(x)
	s.num(s.h - y)
	s.op("Td (")
	for i := range len(codes) {
		if c := codes[i]; c == '(' || c == ')' || c == '\\' {
			s.buf = append(s.buf, '\\')
		}
		s.buf = append(s.buf, codes[i])
	}
	s.op(") Tj ET\n")
}
