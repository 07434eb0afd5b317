package report

import (
	"strings"

	"dryhold/report/plot"
)

// block is a piece of a page that knows its height for a width. split cuts off
// a first part of at most avail, or returns nil where it cannot be cut there.
type block interface {
	height(w float64) float64
	draw(s *sheet, x, y, w float64)
	split(w, avail float64) (first, rest block)
}

// settable is a block whose lines can be broken once, for the width in which it stands.
type settable interface{ set(w float64) block }

func set(b block, w float64) block {
	if s, ok := b.(settable); ok {
		return s.set(w)
	}
	return b
}

// whole is a block that is never cut.
type whole struct{}

func (whole) split(float64, float64) (block, block) { return nil, nil }

// para is wrapped text.
type para struct {
	text string
	st   style
	kind string // element of the structure; P when empty
}

func (p para) height(w float64) float64              { return p.set(w).height(w) }
func (p para) draw(s *sheet, x, y, w float64)        { p.set(w).draw(s, x, y, w) }
func (p para) split(w, avail float64) (block, block) { return p.set(w).split(w, avail) }
func (p para) set(w float64) block                   { return linesBlock{wrap(p.text, p.st, w), p.st, p.kind} }

// itemList is short texts below each other, each after a dot; a page ends between
// two of them. Its head stays with the first.
type itemList struct {
	head string
	list []string
	st   style
}

const itemDot = "· "

// item is the height of one text.
func (b itemList) item(i int, w float64) float64 {
	return (para{text: b.list[i], st: b.st}).height(w - width(itemDot, b.st))
}

func (b itemList) headHeight(w float64) float64 {
	if b.head == "" {
		return 0
	}
	return (para{text: b.head, st: b.st}).height(w)
}

func (b itemList) height(w float64) float64 {
	h := b.headHeight(w)
	for i := range b.list {
		h += b.item(i, w)
	}
	return h
}

func (b itemList) draw(s *sheet, x, y, w float64) {
	if b.head != "" {
		y += s.paragraph("P", x, y, w, b.head, b.st)
	}
	in := width(itemDot, b.st)
	for i, text := range b.list {
		s.mark("P", func() {
			s.lines(x, y, in, wrap(strings.TrimSpace(itemDot), b.st, w), b.st, 'l')
			s.lines(x+in, y, w-in, wrap(text, b.st, w-in), b.st, 'l')
		})
		y += b.item(i, w)
	}
}

func (b itemList) split(w, avail float64) (block, block) {
	n, h := 0, b.headHeight(w)
	for n < len(b.list) {
		if h += b.item(n, w); h > avail {
			break
		}
		n++
	}
	if n = min(n, len(b.list)-2); n < 1 || n < 2 && b.head == "" {
		return nil, nil
	}
	return itemList{b.head, b.list[:n], b.st}, itemList{"", b.list[n:], b.st}
}

// linesBlock is text that has been wrapped already.
type linesBlock struct {
	ls   []line
	st   style
	kind string
}

func (b linesBlock) height(float64) float64 { return float64(len(b.ls)) * b.st.lead }
func (b linesBlock) draw(s *sheet, x, y, w float64) {
	kind := b.kind
	if kind == "" {
		kind = "P"
	}
	if len(b.ls) > 0 {
		s.mark(kind, func() { s.lines(x, y, w, b.ls, b.st, 'l') })
	}
}

// split keeps at least two lines on each side.
func (b linesBlock) split(w, avail float64) (block, block) {
	n := min(int(avail/b.st.lead), len(b.ls)-2)
	if n < 2 {
		return nil, nil
	}
	return linesBlock{b.ls[:n], b.st, b.kind}, linesBlock{b.ls[n:], b.st, b.kind}
}

// gap is empty space.
type gap float64

func (g gap) height(float64) float64                     { return float64(g) }
func (g gap) draw(*sheet, float64, float64, float64)     {}
func (g gap) split(float64, float64) (first, rest block) { return nil, nil }

// picture is a figure.
type picture struct {
	whole
	f *plot.Figure
}

func (p picture) height(float64) float64         { return float64(p.f.Height) + 1 }
func (p picture) draw(s *sheet, x, y, _ float64) { s.figure(p.f, x, y) }

// custom is a block drawn by a function; it is never cut.
type custom struct {
	whole
	h     func(w float64) float64
	paint func(s *sheet, x, y, w float64)
}

func (c custom) height(w float64) float64       { return c.h(w) }
func (c custom) draw(s *sheet, x, y, w float64) { c.paint(s, x, y, w) }

// listItem is a block that stands in a list with those beside it.
type listItem struct{ custom }

// section is a title and notes in the margin column beside blocks in the main
// column, or the blocks over the full width where wide is set.
type section struct {
	title, note string
	blocks      []block
	wide        bool // no rule, no title, both columns
	together    bool // not cut unless longer than a page
	fresh       bool // begins a page
}

// Columns of the page.
const (
	measureWidth = 180 * mm
	marginWidth  = 37 * mm
	gutter       = 4 * mm
	mainWidth    = measureWidth - marginWidth - gutter
	blockGap     = 4.0
)
