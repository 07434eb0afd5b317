package report

import (
	"image/color"
	"strings"

	"dryhold/report/face"
	"dryhold/report/plot"
)

// mm is a millimetre in points; all lengths of this package are points.
const mm = 72 / 25.4

// style is a size and leading of type.
type style struct {
	size, lead float64
	bold       bool
}

// scale is the type scale of one audience.
type scale struct {
	head, answer, evidence, body, section, label, note, fixed style
	gap                                                       float64 // between sections
}

var (
	tableText = style{8, 10.5, false}
	tableHead = style{7, 9, false}
	foot      = style{7, 9.5, false}
	scales    = map[string]scale{
		"homeowner": {style{19, 23, true}, style{12, 15, true}, style{9, 12, false}, style{9.5, 12.5, false},
			style{10, 13.5, true}, style{8, 10.5, false}, style{7.5, 10, false}, style{7.5, 10, false}, 2.4 * mm},
		"inspector": {style{15, 18.5, true}, style{10.5, 13, true}, style{8, 10.5, false}, style{8.5, 11.5, false},
			style{9, 11.5, true}, style{7, 9.5, false}, style{7.5, 10, false}, style{8, 10.5, false}, 2.4 * mm},
		"warranty": {style{13, 16, true}, style{10, 12.5, true}, style{7.5, 9.8, false}, style{8, 10.5, false},
			style{9, 11.5, true}, style{7, 9.5, false}, style{7, 9.5, false}, style{7, 9.5, false}, 1.4 * mm},
	}
)

// nearer is the scale for pages that are drawn together: first less room
// between sections, then smaller running text.
func (s scale) nearer(steps int) scale {
	if steps > 0 {
		s.gap = 0.9 * mm
	}
	if steps > 1 {
		s.body = style{7.5, 9.6, false}
	}
	if steps > 2 {
		s.answer, s.evidence, s.note = style{9.5, 11.5, true}, style{7.2, 9.2, false}, style{7, 9, false}
	}
	return s
}

// Marks inside a text that was set by a template, never by a caller.
const (
	boldMark = '\x01' // switches bold
	supMark  = '\x02' // starts a raised run
	subMark  = '\x03' // starts a lowered run
	endMark  = '\x04' // ends either
	partMark = '\x05' // a little room between groups of one word
)

func sup(s string) string  { return string(supMark) + s + string(endMark) }
func sub(s string) string  { return string(subMark) + s + string(endMark) }
func bold(s string) string { return string(boldMark) + s + string(boldMark) }

// clean takes control characters out of a caller's text, and what the font has no
// glyph for: a job's texts have been checked, a signer's or another record's not.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r < 0x20:
			return ' '
		case r > '~' && !face.HasGlyph(r):
			return '?'
		}
		return r
	}, s)
}

// run is text of one face and height.
type run struct {
	text  string
	bold  bool
	shift int8 // 1 raised, -1 lowered
	parts bool // room after it: its word goes on
	w     float64
}

// partGap is the room between groups of a word, in ems: seen on paper, and less
// than what programs that take text from pages hold for a blank (from 0.1 on).
const partGap = 0.098

type line struct {
	runs []run
	w    float64
}

const small = 0.7 // size of raised and lowered runs

// width of a text with marks, unbroken.
func width(s string, st style) float64 {
	if unmarked(s) {
		return face.Width(s, st.bold) * st.size
	}
	w := 0.0
	for _, r := range runsOf(s, st) {
		w += r.w
	}
	return w
}

func measure(r *run, st style) {
	size := st.size
	if r.shift != 0 {
		size *= small
	}
	r.w = face.Width(r.text, r.bold) * size
	if r.parts {
		r.w += partGap * size
	}
}

func runsOf(s string, st style) []run {
	var out []run
	cur := run{bold: st.bold}
	start := 0
	flush := func(i int) {
		if i > start {
			cur.text = s[start:i]
			measure(&cur, st)
			out = append(out, cur)
		}
	}
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c > partMark || c == 0 {
			continue
		}
		cur.parts = c == partMark
		flush(i)
		cur.parts = false
		start = i + 1
		switch c {
		case boldMark:
			cur.bold = !cur.bold
		case supMark:
			cur.shift = 1
		case subMark:
			cur.shift = -1
		case endMark:
			cur.shift = 0
		}
	}
	flush(len(s))
	return out
}

// word is an unbreakable sequence of runs and the width of the blank before it.
type word struct {
	runs  []run
	w     float64
	blank float64
	br    bool // a line ends before it
}

func words(s string, st style) []word {
	out := make([]word, 0, 1+strings.Count(s, " "))
	pieces := make([]run, 0, cap(out)+4) // of all words, one after another
	cur, first := word{}, 0
	begin := func(w word) {
		if n := len(pieces); n > first || cur.br {
			cur.runs = pieces[first:n:n]
			out = append(out, cur)
			first = n
		}
		cur = w
	}
	for _, r := range runsOf(s, st) {
		text := r.text
		for text != "" {
			switch text[0] {
			case ' ':
				text = strings.TrimLeft(text, " ")
				begin(word{blank: face.Width(" ", r.bold) * st.size})
				continue
			case '\n':
				text = text[1:]
				begin(word{br: true})
				continue
			}
			n := strings.IndexAny(text, " \n")
			if n < 0 {
				n = len(text)
			}
			piece := run{text: text[:n], bold: r.bold, shift: r.shift, parts: r.parts && n == len(text)}
			measure(&piece, st)
			pieces = append(pieces, piece)
			cur.w += piece.w
			text = text[n:]
		}
	}
	begin(word{})
	return out
}

// unmarked reports whether a text is words with single blanks between them, without marks.
func unmarked(s string) bool {
	blank := true
	for i := range len(s) {
		if s[i] < ' ' || s[i] == ' ' && blank {
			return false
		}
		blank = s[i] == ' '
	}
	return !blank
}

var (
	ink color.NRGBA = plot.Ink
)
