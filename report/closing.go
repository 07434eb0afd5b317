package report

import (
	"math"
	"sort"
	"strings"

	"dryhold/analysis/record"
	"dryhold/report/seal"
	"dryhold/templates"
)

// most cautions that an audience reads; danger to people comes first.
var mostCautions = map[string]int{"homeowner": 3, "inspector": 6, "warranty": 3}

func (b *builder) cautions() []section {
	home := b.t.Audience == "homeowner"
	type item struct {
		c    templates.Caution
		code record.Caution
	}
	var items []item
	for _, c := range b.rec.Cautions {
		t, ok := templates.CautionFor(c.Code)
		if ok && (!home || t.Plain != nil) {
			items = append(items, item{t, c})
		}
	}
	sort.SliceStable(items, func(i, j int) bool { return items[i].c.Rank < items[j].c.Rank })
	var rest []item
	if n := mostCautions[b.t.Audience]; len(items) > n {
		items, rest = items[:n], items[n:]
	}
	var blocks []block
	more := ""
	for i, it := range items {
		var facts []string
		for _, k := range sortedKeys(it.code.Facts) {
			facts = append(facts, k, b.p.any(it.code.Facts[k]))
		}
		facts = append(facts, "refrigerant", clean(b.rec.Job.System.Refrigerant))
		blocks = append(blocks, b.caution(i+1, it.c.In(b.opt.Language, home, facts...), b.term(it.c.Source)))
	}
	if len(rest) > 0 && b.t.Audience == "inspector" {
		var leads []string
		for _, it := range rest {
			leads = append(leads, lead(it.c.In(b.opt.Language, home))+" ["+b.term(it.c.Source)+"]")
		}
		blocks = append(blocks, itemList{bold(b.w("cautions.also")), leads, b.sc.note})
	} else if len(rest) > 0 {
		more = b.w("cautions.more", "count", b.p.count(len(rest)))
	}
	if b.t.Audience == "homeowner" {
		blocks = append(blocks, b.caption(b.w("fixed.deference")))
	}
	if len(blocks) == 0 {
		blocks = append(blocks, b.text(b.w("cautions.none")))
	}
	sec := b.titled("cautions", blocks...)
	sec.note = join("\n", sec.note, more)
	return []section{sec}
}

// lead is the bold first sentence of a caution.
func lead(text string) string {
	parts := strings.SplitN(text, string(boldMark), 3)
	if len(parts) < 3 {
		return text
	}
	return parts[1]
}

// caution is one numbered item behind a black bar; its first sentence is bold.
func (b *builder) caution(n int, text, source string) block {
	const bar, num = 1.6 * mm, 20.0
	src := style{7, 9.5, false}
	height := func(w float64) (lines, srcLines []line, after bool) {
		tw := w - bar - num - 8
		lines = wrap(text, b.sc.body, tw)
		srcLines = wrap("["+source+"]", src, tw)
		after = len(lines) > 0 && len(srcLines) == 1 && lines[len(lines)-1].w+4+srcLines[0].w <= tw
		return lines, srcLines, after
	}
	h := func(w float64) float64 {
		ls, sl, after := height(w)
		v := float64(len(ls)) * b.sc.body.lead
		if !after {
			v += float64(len(sl)) * src.lead
		}
		return v
	}
	return listItem{custom{h: h, paint: func(s *sheet, x, y, w float64) {
		ls, sl, after := height(w)
		s.fill(x, y-blockGap/2, bar, h(w)+blockGap, ink)
		s.open("LI")
		s.mark("Lbl", func() { s.lines(x+bar+8, y, num, wrap(bold(b.p.count(n)), b.sc.body, num), b.sc.body, 'l') })
		s.mark("LBody", func() {
			tx := x + bar + num
			s.lines(tx, y, w, ls, b.sc.body, 'l')
			last := len(ls) - 1
			if after {
				s.line(tx+ls[last].w+4, baseline(y+float64(last)*b.sc.body.lead, b.sc.body), sl[0], src)
			} else {
				s.lines(tx, y+float64(len(ls))*b.sc.body.lead, w, sl, src, 'l')
			}
		})
		s.shut()
	}}}
}

// signoff are boxes in even rows that say how each sign-off was made.
func (b *builder) signoff() []section {
	var boxes []signBox
	for _, s := range b.rec.Signoffs {
		boxes = append(boxes, b.signBox(s))
	}
	if b.opt.KeyFingerprint != "" {
		fp := b.opt.KeyFingerprint
		if len(fp) > 32 {
			fp = fp[:32]
		}
		boxes = append(boxes, signBox{line: 1.4, title: b.w("sign.digital"), text: join("\n", clean(or(b.opt.Signer, b.rec.Job.Company.Name)), b.w("sign.key", "fingerprint", strings.ReplaceAll(fours(fp), nb, " ")))})
	}
	boxes = append(boxes, signBox{line: 0.6, title: b.w("sign.customer"), text: b.w("sign.customer_text"), customer: true})
	abreast := 3
	if b.t.Audience == "warranty" {
		abreast = 4
	}
	rows := (len(boxes) + abreast - 1) / abreast
	cols := max(2, (len(boxes)+rows-1)/rows)
	var blocks []block
	for len(boxes) > 0 {
		n := min(cols, len(boxes))
		blocks = append(blocks, b.signRow(boxes[:n], cols))
		boxes = boxes[n:]
	}
	return []section{b.titled("signoff", blocks...)}
}

type signBox struct {
	line, dash  float64
	title, text string
	image       *imageInfo
	customer    bool
}

func (b *builder) signBox(s record.Signoff) signBox {
	who := join("\n", join(": ", b.wordOr("role."+s.Role, clean(s.Role)), clean(s.Name)), join(" ", b.w("sign.date"), clean(or(s.Date, b.w("missing.given")))))
	switch s.Method {
	case "image":
		x := signBox{line: 0.6, dash: 2.5, title: b.w("sign.image"), text: who, image: b.pics[s.Image]}
		if x.image == nil {
			x.text = join("\n", who, b.w("missing.recorded"))
		}
		return x
	case "digital":
		return signBox{line: 1.4, title: b.w("sign.digital_of"), text: who}
	}
	return signBox{line: 0.6, dash: 2.5, title: b.w("sign.typed"), text: who}
}

func (b *builder) signRow(boxes []signBox, abreast int) block {
	apart, pad := 10.0, 7.0
	title, text := style{8, 10.5, true}, style{8, 10.5, false}
	if b.t.Audience == "warranty" {
		title, text = style{7.5, 9.5, true}, style{7.5, 9.5, false}
	}
	if b.close > 2 {
		title, text = style{7, 8.8, true}, style{7, 8.8, false}
	}
	if abreast > 3 {
		apart, pad = 6, 5
	}
	cols := float64(abreast)
	bw := func(w float64) float64 { return (w - apart*(cols-1)) / cols }
	one := func(x signBox, w float64) float64 {
		h := float64(len(wrap(x.title, title, w-2*pad)))*title.lead + float64(len(wrap(x.text, text, w-2*pad)))*text.lead + 2*pad
		if x.image != nil {
			_, ih := x.image.fit(w-2*pad, 12*mm)
			h += ih + 3
		}
		return h
	}
	height := func(w float64) float64 {
		h := 18 * mm
		for _, x := range boxes {
			h = math.Max(h, one(x, bw(w)))
		}
		return h
	}
	return custom{h: func(w float64) float64 { return height(w) + 3 }, paint: func(s *sheet, x, y, w float64) {
		h := height(w)
		for _, q := range boxes {
			cw := bw(w)
			s.frame(x, y, cw, h, q.line, q.dash)
			ty := y + pad - 1
			ty += s.paragraph("P", x+pad, ty, cw-2*pad, q.title, title)
			if q.image != nil {
				iw, ih := q.image.fit(cw-2*pad, 12*mm)
				n := s.mark("Figure", func() { s.image(q.image, x+pad, ty+1, iw, ih) })
				n.Alt = b.w("alt.signature")
				ty += ih + 3
			}
			ty += s.paragraph("P", x+pad, ty, cw-2*pad, q.text, text)
			if q.customer {
				b.cust = &seal.Field{Page: s.page, Rect: [4]float64{x + 2, s.h - (y + h - 2), x + cw - 2, s.h - y - 2}, Label: b.w("sign.customer_label")}
			}
			x += cw + apart
		}
	}}
}
