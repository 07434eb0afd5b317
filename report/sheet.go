package report

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"io"
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
	buf    []byte       // what was drawn and fpdf has not yet
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

// output ends the document and writes it.
func (s *sheet) output(w io.Writer) error {
	s.flush()
	return s.pdf.Output(w)
}

func (s *sheet) addPage() {
	s.flush()
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
	s.buf = append(strconv.AppendInt(s.buf, int64(id), 10), ">> BDC\n"...)
	s.marked = true
	draw()
	s.marked = false
	s.op("EMC\n")
}

// artifact draws what is no part of the text: rules, frames, head and foot.
func (s *sheet) artifact(draw func()) {
	if s.marked {
		draw()
		return
	}
	s.op("/Artifact BMC\n")
	draw()
	s.op("EMC\n")
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
	s.flush()
	s.pdf.SetFont(face.Family, st, size)
}

// line writes one line with its baseline at y. A blank at its end parts it from
// the next when the text is read out or copied.
func (s *sheet) line(x, y float64, l line, st style) {
	if whole := l.actual(); whole != "" {
		s.op("/Span <</ActualText <" + whole + ">>> BDC\n")
		defer s.op("EMC\n")
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
		s.flush()
		s.pdf.Text(x, y, text)
	} else {
		s.coded(x, y, text)
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
