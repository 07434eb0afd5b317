package report

// fitted is the layout of a record: as close as saves a page, and with no page that begins with the sign-off, or
// with what the signature means, where the section before the sign-off can go there too.
func (b *builder) fitted(size [3]float64) *flow {
	f := b.drawnTogether(size)
	if b.before == "" {
		return f
	}
	b.turn = b.before // a page with nothing but the sign-off says little of what is signed
	if g := b.layout(size); g.page == f.page {
		return g
	}
	b.turn = ""
	return b.layout(size)
}

// drawnTogether draws a record that should be a single page together as far as that
// takes; where it can't be, it keeps its room. Others are drawn together a little
// where that saves a page.
func (b *builder) drawnTogether(size [3]float64) *flow {
	f := b.layout(size)
	if closest[b.t.Audience] == 0 {
		if f.page == 0 || f.y > size[1]*mm/2 { // a last page that is half full stays
			return f
		}
		roomy := *b
		b.close = 1
		if g := b.layout(size); g.page < f.page {
			return g
		}
		*b = roomy
		return f
	}
	for b.body > 0 && b.close < closest[b.t.Audience] {
		b.close++
		f = b.layout(size)
	}
	switch most := 18 * mm; {
	case b.body == 0:
		b.spare = min(max(f.bottom-b.end-4, 0), most)
	default:
		b.close = 0
	}
	return b.layout(size)
}

// layout measures everything and finds the place of each block.
func (b *builder) layout(size [3]float64) *flow {
	b.sc = scales[b.t.Audience].nearer(b.close)
	f := &flow{sc: b.sc, left: size[2] * mm, top: 22 * mm, bottom: (size[1] - 21) * mm, continued: b.w("continued"), y: 12 * mm, gap: b.sc.gap,
		apart: blockGap, dense: b.close > 1}
	if b.close > 0 {
		f.apart = 2.5
	}
	f.add(section{wide: true, blocks: b.front()})
	last, signed := "", ""
	b.before = ""
	for _, name := range b.t.Sections {
		for i, sec := range b.section(name) {
			sec.fresh = sec.fresh || i == 0 && name == b.turn
			page, n := f.page, len(f.out)
			f.add(sec)
			if name == "signoff" {
				signed = last
			}
			if (name == "signoff" || name == "signature") && f.out[n].page > page {
				b.before = signed
			}
			last = name
			if name == "signature" {
				b.sigs = f.page
			}
			if name != "photographs" {
				b.body, b.end = f.page, f.y
			}
		}
	}
	return f
}
