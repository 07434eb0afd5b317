package report

// placed is a block with its place.
type placed struct {
	page int
	x, y float64
	w    float64
	b    block
	rule bool   // a section's rule above it
	mark string // bookmark
	sect int    // number of the section, for the structure
}

// flow places sections one after the other.
type flow struct {
	sc          scale
	left        float64
	top, bottom float64 // of the text on pages after the first
	page        int
	y           float64
	out         []placed
	gap, apart  float64 // between sections, between blocks
	dense       bool    // tables smaller and nearer
	continued   string
	sections    int
	margin      float64 // where what stands in the margin ends
}

func (f *flow) newPage() {
	f.page++
	f.y = f.top
}

func (f *flow) put(p placed) {
	p.page, p.sect = f.page, f.sections
	f.out = append(f.out, p)
}

// titleHeight of the margin column.
func (f *flow) marginHeight(sec section) float64 {
	h := para{text: sec.title, st: f.sc.section}.height(marginWidth)
	if sec.note != "" {
		h += 2 + para{text: sec.note, st: f.sc.note}.height(marginWidth)
	}
	return h
}

func (f *flow) mainHeight(sec section, w float64) float64 {
	h := 0.0
	for i, b := range sec.blocks {
		if i > 0 {
			h += f.apart
		}
		h += b.height(w)
	}
	return h
}

// shortPart of a page is what a section may have not to be cut.
const shortPart = 0.1

const ruleSpace = 3.5 // between a section's rule and its text

// add places one section, on as many pages as it needs.
func (f *flow) add(sec section) {
	f.sections++
	x, w := f.left, measureWidth
	lead := 0.0
	if !sec.wide {
		x, w, lead = f.left+marginWidth+gutter, mainWidth, ruleSpace
	}
	for i, b := range sec.blocks {
		if t, ok := b.(table); ok && f.dense {
			t.dense = true
			b = t
		}
		sec.blocks[i] = set(b, w)
	}
	margin := 0.0
	if !sec.wide {
		margin = f.marginHeight(sec)
	}
	total := lead + max(f.mainHeight(sec, w), margin)
	avail := f.bottom - f.y
	fresh := f.y <= f.top+0.1
	if sec.fresh && !fresh || total > avail && !fresh && ((sec.together || total <= shortPart*(f.bottom-f.top)) && total <= f.bottom-f.top || !f.startsHere(sec, w, avail-lead, margin)) {
		f.newPage()
	}
	f.head(sec, false)
	f.body(sec, x, w)
	f.y = max(f.y, f.margin) + f.gap
}

// head draws rule, title and note.
func (f *flow) head(sec section, again bool) {
	f.margin = 0
	if sec.wide {
		return
	}
	p := placed{x: f.left, y: f.y, w: measureWidth, rule: true}
	title, note := sec.title, sec.note
	st := f.sc.section
	if again {
		title, note = title+" "+f.continued, ""
		st.bold = false
	} else {
		p.mark = sec.title
	}
	p.b = custom{h: func(float64) float64 { return 0 }, paint: func(s *sheet, x, y, _ float64) {
		kind := "H2"
		if again {
			s.artifact(func() { s.lines(x, y, marginWidth, wrap(title, st, marginWidth), st, 'l') })
			return
		}
		h := s.paragraph(kind, x, y, marginWidth, title, st)
		if note != "" {
			s.paragraph("P", x, y+h+2, marginWidth, note, f.sc.note)
		}
	}}
	f.y += ruleSpace
	f.margin = f.y + f.marginHeight(section{title: title, note: note})
	p.y = f.y
	f.put(p)
}

// startsHere reports whether enough of a section fits to begin it here.
func (f *flow) startsHere(sec section, w, avail, margin float64) bool {
	if len(sec.blocks) == 0 || avail < margin {
		return false
	}
	if need(sec.blocks, 0, w) <= avail {
		return avail >= 3*f.sc.body.lead
	}
	first := sec.blocks[0]
	a, _ := first.split(w, min(avail, first.height(w)-1))
	return a != nil
}

// need is the room that block i asks for with what has to stay beside it: the
// caption under it, or the block that it heads.
func need(blocks []block, i int, w float64) float64 {
	h := blocks[i].height(w)
	if i+1 == len(blocks) {
		return h
	}
	next := blocks[i+1]
	if _, ok := next.(caption); ok {
		return h + blockGap + next.height(w)
	}
	if _, ok := blocks[i].(keep); ok {
		return h + blockGap + min(next.height(w), 60)
	}
	return h
}

func (f *flow) body(sec section, x, w float64) {
	for i := 0; i < len(sec.blocks); i++ {
		b := sec.blocks[i]
		if i > 0 {
			f.y += f.apart
		}
		if f.y+need(sec.blocks, i, w) <= f.bottom+0.1 {
			f.put(placed{x: x, y: f.y, w: w, b: b})
			f.y += b.height(w)
			continue
		}
		first, rest := b.split(w, min(f.bottom-f.y, b.height(w)-1))
		if first == nil {
			if f.y <= f.top+ruleSpace+0.1 { // taller than a page: nothing can be done
				f.put(placed{x: x, y: f.y, w: w, b: b})
				f.y += b.height(w)
				continue
			}
			f.newPage()
			f.head(sec, true)
			i--
			if f.y > f.top+60 {
				return
			}
			continue
		}
		f.put(placed{x: x, y: f.y, w: w, b: first})
		f.newPage()
		f.head(sec, true)
		sec.blocks = append([]block{}, sec.blocks...)
		sec.blocks[i] = rest
		i--
	}
}

// caption stays with the block above it.
type caption struct{ block }

func (c caption) set(w float64) block { return caption{set(c.block, w)} }

// keep holds a block on the page of the next one.
type keep struct{ block }

func (k keep) set(w float64) block { return keep{set(k.block, w)} }
