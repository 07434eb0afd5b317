package report

import (
	"math"
	"strings"

	"dryhold/analysis/record"
	"dryhold/report/plot"
)

// front is all that stands above the first section of page one.
func (b *builder) front() []block {
	out := []block{b.letterhead(), b.strip(), b.result()}
	if f := plot.Ruler(b.rec, b.plots()); f != nil && b.t.Audience == "inspector" {
		out = append(out, picture{f: f})
	}
	out = append(out, custom{h: func(float64) float64 { return 3 }, paint: func(s *sheet, x, y, w float64) { s.rule(x, y, w, 2.2) }})
	if todo := b.todo(); todo != nil {
		out = append(out, todo)
	}
	if len(b.rec.Attempts) > 0 {
		out = append(out, para{text: b.attemptLine(), st: b.sc.fixed})
	}
	if b.t.Audience == "inspector" {
		out = append(out, para{text: bold(b.w("fixed.hold")) + " " + b.w("fixed.criterion") + " " + b.w("fixed.deference"), st: b.sc.fixed})
	}
	return out
}

// Figures are the figures of a record, drawn for an audience.
func Figures(rec *record.Record, opt Options) ([]*plot.Figure, error) {
	b, err := newBuilder(rec, opt)
	if err != nil {
		return nil, err
	}
	return plot.All(rec, b.plots()), nil
}

func (b *builder) plots() plot.Options {
	o := plot.Options{Units: b.p.sys, Thousands: b.p.sep, Word: b.w, Plain: b.t.Audience == "homeowner"}
	if h := b.rec.Hold; h != nil && h.ReadingAtLimit.Finite() && h.StandardUncertainty.Finite() {
		o.Places, _ = b.apart(h.ReadingAtLimit, h.StandardUncertainty, h.Limit, h.GuardBand)
	}
	return o
}

// strip is the row of four cells that says where, what, when and by whom.
func (b *builder) strip() block {
	cells := b.identity()
	label, text := style{7, 9.5, false}, style{8.5, 11.5, false}
	if b.close > 2 {
		label, text = style{7, 9, false}, style{7.5, 9.8, false}
	}
	const n = 4
	w := measureWidth/n - 8
	rows := make([][]line, len(cells))
	h := 0.0
	for i, c := range cells {
		rows[i] = shortened(c.text, text, w, c.most)
		h = math.Max(h, float64(len(rows[i])))
	}
	h = label.lead + h*text.lead + 3
	return custom{h: func(float64) float64 { return h }, paint: func(s *sheet, x, y, _ float64) {
		for i, c := range cells {
			cx := x + float64(i)*measureWidth/n
			s.mark("P", func() {
				s.lines(cx, y, w, wrap(c.label, label, w), label, 'l')
				s.lines(cx, y+label.lead, w, rows[i], text, 'l')
			})
		}
		s.rule(x, y+h, measureWidth, 2.2)
	}}
}

// shortened wraps a text into at most so many lines; the last shows that it is cut.
func shortened(text string, st style, w float64, most int) []line {
	ls := wrap(text, st, w)
	if len(ls) > most {
		more := width(" …", st)
		ls = wrap(text, st, w-more)[:most]
		ls[most-1].add(word{runs: []run{{text: " …", w: more}}, w: more}, 0)
	}
	return ls
}

// result is label, headline and the three answers of equal size.
func (b *builder) result() block {
	headline := balanced(b.headline(), b.sc.head, measureWidth)
	head := b.sc.head
	if len(headline) > 3 {
		head.size, head.lead = head.size-2, head.lead-2.5
		headline = balanced(b.headline(), head, measureWidth)
	}
	label := style{7.5, 10, false}
	cells := b.answers()
	const cellGap = 4 * mm
	cw := (measureWidth - 2*cellGap) / 3
	ch := 0.0
	for _, c := range cells {
		ch = math.Max(ch, c.height(b.sc, cw))
	}
	top := label.lead + 1 + float64(len(headline))*head.lead + 5
	return custom{h: func(float64) float64 { return top + ch + 1 }, paint: func(s *sheet, x, y, w float64) {
		s.paragraph("P", x, y, w, b.resultLabel(), label)
		s.mark("H1", func() { s.lines(x, y+label.lead+1, w, headline, head, 'l') })
		for i, c := range cells {
			c.draw(s, b.sc, x+float64(i)*(cw+cellGap), y+top, cw)
		}
	}}
}

// balanced wraps a headline into lines of about one length, each sentence on lines
// of its own where that takes no more of them.
func balanced(text string, st style, w float64) []line {
	whole := even(text, st, w)
	if first, rest, ok := strings.Cut(text, ". "); ok {
		if parts := append(even(first+".", st, w), even(rest, st, w)...); len(parts) <= len(whole) {
			return parts
		}
	}
	return whole
}

// even wraps a text into as few lines as go into a width, and these as narrow as
// they can be.
func even(text string, st style, w float64) []line {
	ls := wrap(text, st, w)
	for narrow := w - 6; narrow > w/2; narrow -= 6 {
		got := wrap(text, st, narrow)
		if len(got) > len(ls) {
			break
		}
		ls = got
	}
	return ls
}

func (b *builder) resultLabel() string {
	h := b.rec.Hold
	if h == nil {
		return b.w("result.label")
	}
	if b.t.Audience == "homeowner" {
		return b.w("result.label_day", "day", b.p.day(h.Start))
	}
	return b.w("result.label_hold", "period", b.p.between(h.Start, h.End))
}

// answer is one of the three cells.
type answer struct{ label, text, evidence string }

func (a answer) height(sc scale, w float64) float64 {
	return 3 + para{text: a.label, st: sc.label}.height(w) + para{text: a.text, st: sc.answer}.height(w) + 1 + para{text: a.evidence, st: sc.evidence}.height(w)
}

func (a answer) draw(s *sheet, sc scale, x, y, w float64) {
	s.rule(x, y, w, 0.5)
	y += 3
	y += s.paragraph("P", x, y, w, a.label, sc.label)
	y += s.paragraph("P", x, y, w, a.text, sc.answer) + 1
	s.paragraph("P", x, y, w, a.evidence, sc.evidence)
}

// todo is the box with the act that follows, nil where there is none.
func (b *builder) todo() block {
	act := b.act()
	if act == "" {
		return nil
	}
	return b.boxed(b.w("todo.title"), act)
}

// boxed is a text in a frame with its title on black.
func (b *builder) boxed(heading, words string) block {
	label, text := style{9, 11.5, true}, style{9.5, 12.5, false}
	if b.t.Audience != "homeowner" {
		label, text = style{8, 10.5, true}, style{8.5, 11.5, false}
	}
	const lw = 32 * mm
	title := wrap(heading, label, lw-12)
	ls := wrap(words, text, measureWidth-lw-16)
	h := math.Max(float64(len(ls))*text.lead, float64(len(title))*label.lead) + 10 - 2*float64(b.close)
	return custom{h: func(float64) float64 { return h + 6 }, paint: func(s *sheet, x, y, w float64) {
		y += 4
		s.fill(x, y, lw, h, ink)
		s.frame(x, y, w, h, 1.2, 0)
		s.mark("P", func() {
			s.in(plot.White, "rg", func() { s.lines(x+8, y+(h-float64(len(title))*label.lead)/2, lw, title, label, 'l') })
		})
		s.mark("P", func() { s.lines(x+lw+8, y+(h-float64(len(ls))*text.lead)/2, w-lw-16, ls, text, 'l') })
	}}
}
