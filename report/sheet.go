package report

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image/color"
	"math"
	"strconv"
	"strings"
	"unicode/utf16"

	"dryhold/report/face"
	"dryhold/report/seal"

	"github.com/go-pdf/fpdf"
)

// sheet draws on the pages of one document. y counts down from the top edge.
// Everything is drawn either inside an element of the structure (mark) or as an
// artifact.
type sheet struct {
	pdf    *fpdf.Fpdf
	w, h   float64
	page   int // from 0
	tags   []*node
	root   node
	marked bool
	mcid   []int
	buf    []byte       // what is drawn next
	read   bytes.Reader // of buf
	face   fontKey
	whole  bool                                         // the fonts are the whole ones; otherwise those of face.Encode
	rare   bool                                         // a text has letters that the prepared fonts lack
	watch  func(page int, x, y, w float64, text string) // sees every text that is drawn; for tests
}

type fontKey struct {
	bold bool
	size float64
}

// node is a seal.Element under construction.
type node struct {
	seal.Element
	kids []*node
}

func (n *node) element() seal.Element {
	e := n.Element
	for _, k := range n.kids {
		e.Children = append(e.Children, k.element())
	}
	return e
}

// newSheet is an empty document that writes with the prepared fonts or the whole ones.
func newSheet(w, h float64, whole bool) *sheet {
	p := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: w, Ht: h}})
	p.SetCatalogSort(true)
	p.SetAutoPageBreak(false, 0)
	p.SetMargins(0, 0, 0)
	p.SetCompression(false) // seal.Archive compresses the pages
	if whole {
		face.Whole(p)
	} else {
		face.Prepared(p)
	}
	for _, set := range []func(r, g, b int){p.SetTextColor, p.SetFillColor, p.SetDrawColor} {
		set(int(ink.R), int(ink.G), int(ink.B)) // where text and fill are of one colour, fpdf writes it once a page
	}
	s := &sheet{pdf: p, w: w, h: h, page: -1, whole: whole}
	s.tags = []*node{&s.root}
	return s
}

func (s *sheet) addPage() {
	s.pdf.AddPage()
	s.page++
	s.mcid = append(s.mcid, 0)
	s.face = fontKey{}
}

// open starts an element of the structure; it ends with shut.
func (s *sheet) open(kind string) *node {
	n := &node{}
	n.Kind = kind
	top := s.tags[len(s.tags)-1]
	top.kids = append(top.kids, n)
	s.tags = append(s.tags, n)
	return n
}

func (s *sheet) shut() { s.tags = s.tags[:len(s.tags)-1] }

// mark draws content that belongs to a new element of that kind.
func (s *sheet) mark(kind string, draw func()) *node {
	n := s.open(kind)
	s.own(draw)
	s.shut()
	return n
}

// own draws content that belongs to the element that is open.
func (s *sheet) own(draw func()) {
	n := s.tags[len(s.tags)-1]
	id := s.mcid[s.page]
	s.mcid[s.page]++
	n.Content = append(n.Content, seal.Marked{Page: s.page, MCID: id})
	s.buf = append(append(append(s.buf, '/'), n.Kind...), " <</MCID "...)
	s.buf = append(strconv.AppendInt(s.buf, int64(id), 10), ">> BDC"...)
	s.flush()
	s.marked = true
	draw()
	s.marked = false
	s.pdf.RawWriteStr("EMC")
}

// artifact draws what is no part of the text: rules, frames, head and foot.
func (s *sheet) artifact(draw func()) {
	if s.marked {
		draw()
		return
	}
	s.pdf.RawWriteStr("/Artifact BMC")
	draw()
	s.pdf.RawWriteStr("EMC")
}

func (s *sheet) setFont(bold bool, size float64) {
	k := fontKey{bold, size}
	if s.face == k {
		return
	}
	s.face = k
	st := ""
	if bold {
		st = "B"
	}
	s.pdf.SetFont(face.Family, st, size)
}

// line writes one line with its baseline at y. A blank at its end parts it from
// the next when the text is read out or copied.
func (s *sheet) line(x, y float64, l line, st style) {
	if whole := l.actual(); whole != "" {
		s.pdf.RawWriteStr("/Span <</ActualText <" + whole + ">>> BDC")
		defer s.pdf.RawWriteStr("EMC")
	}
	for i, r := range l.runs {
		size, dy := st.size, 0.0
		if r.shift > 0 {
			size, dy = st.size*small, -0.36*st.size
		} else if r.shift < 0 {
			size, dy = st.size*small, 0.15*st.size
		}
		text := r.text
		if i == len(l.runs)-1 {
			text += " "
		}
		s.write(x, y+dy, text, r.bold, size)
		x += r.w
	}
}

// actual is the text of a line that has a word in groups, as UTF-16 in
// hexadecimal: who copies it gets the word in one piece (ISO 32000-1, 14.9.4).
func (l line) actual() string {
	text, parts := "", false
	for _, r := range l.runs {
		text, parts = text+r.text, parts || r.parts
	}
	if !parts {
		return ""
	}
	out := "FEFF"
	for _, u := range utf16.Encode([]rune(text + " ")) {
		out += fmt.Sprintf("%04X", u)
	}
	return out
}

// write puts a text of one face on a baseline.
func (s *sheet) write(x, y float64, text string, bold bool, size float64) {
	s.setFont(bold, size)
	if s.whole {
		s.pdf.Text(x, y, text)
	} else {
		codes, ok := face.Encode(text)
		s.pdf.Text(x, y, codes)
		s.rare = s.rare || !ok
	}
	if s.watch != nil {
		text = strings.TrimSuffix(text, " ")
		s.watch(s.page, x, y, face.Width(text, bold)*size, text)
	}
}

// bookmark leads to a place on the page.
func (s *sheet) bookmark(text string, y float64) {
	s.setFont(false, 8)
	if !s.whole { // fpdf takes the text as it is
		units := append([]uint16{0xFEFF}, utf16.Encode([]rune(text))...)
		b := make([]byte, 0, 2*len(units))
		for _, u := range units {
			b = binary.BigEndian.AppendUint16(b, u)
		}
		text = string(b)
	}
	s.pdf.Bookmark(text, 0, y)
}

// lines writes a block of lines whose first line's top is y; align is 'l', 'c' or 'r'.
func (s *sheet) lines(x, y, w float64, ls []line, st style, align byte) {
	for i, l := range ls {
		lx := x
		switch align {
		case 'c':
			lx += (w - l.w) / 2
		case 'r':
			lx += w - l.w
		}
		s.line(lx, baseline(y+float64(i)*st.lead, st), l, st)
	}
}

// baseline of a line whose top is y.
func baseline(y float64, st style) float64 { return y + (st.lead-st.size)/2 + 0.80*st.size }

// paragraph writes wrapped text and returns its height.
func (s *sheet) paragraph(kind string, x, y, w float64, text string, st style) float64 {
	ls := wrap(text, st, w)
	if len(ls) > 0 {
		s.mark(kind, func() { s.lines(x, y, w, ls, st, 'l') })
	}
	return float64(len(ls)) * st.lead
}

// Raw drawing, in the page's own coordinates.

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

func (s *sheet) flush() {
	s.read.Reset(s.buf)
	s.pdf.RawWriteBuf(&s.read)
	s.buf = s.buf[:0]
}

// in draws in a colour, and leaves ink behind; op sets the colour of fills or strokes.
func (s *sheet) in(c color.NRGBA, op string, draw func()) {
	if c != ink {
		s.colour(c, op)
		defer s.colour(ink, op)
	}
	draw()
}

// rule draws a horizontal rule.
func (s *sheet) rule(x, y, w, width float64) {
	s.artifact(func() {
		s.num(width)
		s.buf = append(s.buf, "w [] 0 d "...)
		s.num(x)
		s.num(s.h - y)
		s.buf = append(s.buf, "m "...)
		s.num(x + w)
		s.num(s.h - y)
		s.buf = append(s.buf, "l S"...)
		s.flush()
	})
}

func (s *sheet) fill(x, y, w, h float64, c color.NRGBA) {
	s.artifact(func() {
		s.in(c, "rg", func() {
			s.rect(x, y, w, h)
			s.buf = append(s.buf, "f "...)
		})
		s.flush()
	})
}

func (s *sheet) rect(x, y, w, h float64) {
	s.num(x)
	s.num(s.h - y - h)
	s.num(w)
	s.num(h)
	s.buf = append(s.buf, "re "...)
}

// frame strokes a rectangle, dashed where dash is above 0.
func (s *sheet) frame(x, y, w, h, width, dash float64) {
	s.artifact(func() {
		s.num(width)
		s.buf = append(s.buf, "w "...)
		if dash > 0 {
			s.buf = append(s.buf, '[')
			s.num(dash)
			s.buf = append(s.buf, "] 0 d "...)
		} else {
			s.buf = append(s.buf, "[] 0 d "...)
		}
		s.rect(x, y, w, h)
		s.buf = append(s.buf, "S [] 0 d"...)
		s.flush()
	})
}
