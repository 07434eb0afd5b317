package report

import (
	"math"
	"strings"

	"dryhold/analysis/record"
	"dryhold/report/plot"
	"dryhold/templates"
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
	return plot.Options{Units: b.p.sys, Thousands: b.p.sep, Word: b.w, Plain: b.t.Audience == "homeowner"}
}

// letterhead is the firm at the left and the kind of record at the right.
func (b *builder) letterhead() block {
	c := b.rec.Job.Company
	name, small := style{9.5, 12, true}, style{8, 10.5, false}
	address := []string{clean(c.Address), clean(c.Phone), labelled(b.w("licence"), clean(c.Licence))}
	right := b.w("running.job", "job", b.rec.Job.Number)
	if b.rec.Job.Revision > 1 {
		right += " · " + b.w("revision", "number", b.p.count(b.rec.Job.Revision), "amends", clean(b.rec.Job.Amends))
	}
	logo := b.pics[c.Logo]
	lw, lh := 0.0, 0.0
	if logo != nil {
		lw, lh = logo.fit(40*mm, 11*mm)
	}
	lx := lw
	if lx > 0 {
		lx += 3 * mm
	}
	rightW := math.Min(math.Max(width(b.w("audience.title"), name), width(right, small)), measureWidth*0.42)
	leftW := measureWidth - rightW - 6*mm - lx
	firm := wrap(clean(or(c.Name, b.w("missing.given"))), name, leftW)
	addr := wrap(byItem(address, small, leftW), small, leftW)
	kind := wrap(b.w("audience.title"), name, rightW)
	job := wrap(right, small, rightW)
	lh2 := func(a, b []line) float64 { return float64(len(a))*name.lead + float64(len(b))*small.lead }
	h := math.Max(math.Max(lh2(firm, addr), lh2(kind, job)), lh) + 4
	return custom{h: func(float64) float64 { return h }, paint: func(s *sheet, x, y, w float64) {
		if logo != nil {
			n := s.mark("Figure", func() { s.image(logo, x, y, lw, lh) })
			n.Alt = b.w("alt.logo")
		}
		s.mark("P", func() {
			s.lines(x+lx, y, leftW, firm, name, 'l')
			s.lines(x+lx, y+float64(len(firm))*name.lead, leftW, addr, small, 'l')
		})
		s.mark("P", func() {
			s.lines(x+w-rightW, y, rightW, kind, name, 'r')
			s.lines(x+w-rightW, y+float64(len(kind))*name.lead, rightW, job, small, 'r')
		})
		s.rule(x, y+h, w, 0.5)
	}}
}

// byItem sets items beside each other, parted by dots, and breaks lines between
// them rather than within one.
func byItem(items []string, st style, w float64) string {
	out, last := "", ""
	for _, x := range items {
		switch {
		case x == "":
		case last == "":
			out, last = x, x
		case width(last+" · "+x, st) <= w:
			out, last = out+" · "+x, last+" · "+x
		default:
			out, last = out+"\n"+x, x
		}
	}
	return out
}

// cell of the strip; most is the number of lines after which it is cut, for
// texts that stand whole further down.
type cell struct {
	label, text string
	most        int
}

const uncut = 30 // lines of a text that stands in the strip alone

// lines sets a caller's texts below each other.
func lines(parts ...string) string {
	for i := range parts {
		parts[i] = clean(parts[i])
	}
	return join("\n", parts...)
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
		rows[i] = wrap(c.text, text, w)
		if most := c.most; len(rows[i]) > most {
			rows[i] = wrap(c.text, text, w-width(" …", text))[:most]
			last := &rows[i][most-1]
			last.add(word{runs: []run{{text: " …", w: width(" …", text)}}, w: width(" …", text)}, 0)
		}
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

func (b *builder) identity() []cell {
	j := b.rec.Job
	missing := b.w("missing.given")
	site := or(lines(j.Site.Name, j.Site.Address), missing)
	permit := ""
	if j.Site.Permit != "" {
		permit = b.w("permit") + " " + clean(j.Site.Permit)
	}
	kind := or(b.wordOr("kind."+j.Kind, ""), missing)
	date := missing
	if j.Date != "" {
		date = b.p.day(j.Date)
	}
	by := or(lines(j.Technician.Name, j.Technician.Certification), missing)
	system := join("\n", join(", ", clean(j.System.Refrigerant), b.volumeText()), kind)
	var units []string
	for _, e := range j.Equipment {
		units = append(units, join(" · ", or(clean(e.Model), b.term(e.Role)), clean(e.Serial)))
	}
	place := []string{}
	if j.Barometer.Finite() {
		place = append(place, b.w("barometer", "pressure", b.p.point(j.Barometer, b.p.sys.Atmosphere)))
	}
	if j.Altitude != "" {
		place = append(place, b.w("altitude", "length", clean(j.Altitude)))
	}
	place = append(place, b.w("timezone", "zone", clean(or(j.Timezone, missing))))
	switch b.t.Audience {
	case "homeowner":
		what := missing
		if len(j.Equipment) > 0 {
			what = lines(b.term(j.Equipment[0].Role), join(" ", j.Equipment[0].Maker, j.Equipment[0].Model))
		}
		return []cell{{b.w("strip.site"), site, uncut}, {b.w("strip.equipment"), what, 4}, {b.w("strip.work"), kind + "\n" + date, uncut}, {b.w("strip.by"), by, uncut}}
	case "warranty":
		start := b.w("missing.recorded")
		if b.rec.Startup != nil {
			start = b.w("strip.startup_recorded")
		}
		label := b.w("strip.startup")
		if permit != "" {
			label = b.w("strip.startup_permit")
		}
		return []cell{{b.w("strip.site"), site, uncut}, {b.w("strip.work"), kind + "\n" + date, uncut}, {b.w("strip.installer"), by, uncut}, {label, join("\n", start, permit), uncut}}
	}
	circuit := b.w("strip.system")
	if j.System.Circuit != "" {
		circuit = b.w("strip.circuit", "circuit", clean(j.System.Circuit))
	}
	return []cell{{b.w("strip.site_permit"), join("\n", site, permit), uncut}, {circuit, or(system, missing), uncut}, {b.w("strip.units"), or(strings.Join(units, "\n"), missing), 4}, {b.w("strip.place"), strings.Join(place, "\n"), uncut}}
}

func (b *builder) volumeText() string {
	if !b.rec.Job.System.Volume.Finite() {
		return b.w("volume.missing")
	}
	return b.p.volume(b.rec.Job.System.Volume)
}

// result is label, headline and the three answers of equal size.
func (b *builder) result() block {
	headline := balanced(b.headline(), b.sc.head, measureWidth, 3)
	head := b.sc.head
	if len(headline) > 3 {
		head.size, head.lead = head.size-2, head.lead-2.5
		headline = wrap(b.headline(), head, measureWidth)
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

// balanced wraps a headline so that its last line is no single short word.
func balanced(text string, st style, w float64, most int) []line {
	ls := wrap(text, st, w)
	if first, rest, ok := strings.Cut(text, ". "); ok { // a sentence a line where that takes no more lines
		if parts := append(wrap(first+".", st, w), wrap(rest, st, w)...); len(parts) <= len(ls) {
			return parts
		}
	}
	if n := len(ls); n < 2 || n > most || ls[n-1].w >= w*0.2 {
		return ls
	}
	for narrow := w; narrow > w*0.5; narrow -= 6 {
		if got := wrap(text, st, narrow); len(got) == len(ls) && got[len(got)-1].w >= w*0.2 {
			return got
		} else if len(got) > len(ls) {
			break
		}
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

func (b *builder) wordOr(key, fallback string) string {
	if b.t.Has(key) {
		return b.w(key)
	}
	return fallback
}

func or(s, fallback string) string {
	if s == "" {
		return fallback
	}
	return s
}

func labelled(label, s string) string {
	if s == "" {
		return ""
	}
	return label + nb + s
}

// join joins what is not empty.
func join(sep string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, sep)
}

// term is a text of the analysis in the reader's language.
func (b *builder) term(s string) string { return templates.Term(b.opt.Language, clean(s)) }

// note is the text of a coded statement in the reader's language.
func (b *builder) note(n *record.Note, fallback string) string {
	if n == nil {
		return clean(fallback)
	}
	if text, ok := noteText(b, n.Code, n); ok {
		return text
	}
	return clean(or(n.Text, fallback))
}

// settle is what would settle an open point. For cause and decision it depends on
// why they are open.
func (b *builder) settle(n *record.Note) string {
	key := n.Code + ".settle"
	if h := b.rec.Hold; h != nil {
		why, facts := "", []string(nil)
		switch {
		case n.Code == "cause" && h.LongerHold.Finite():
			why, facts = "longer", []string{"duration", b.p.duration(h.LongerHold)}
		case n.Code == "cause" && h.CauseNote != nil:
			why = h.CauseNote.Code
		case n.Code == "decision" && h.Criterion == nil:
			why = "no-criterion"
		case n.Code == "decision" && h.DecisionNote != nil:
			why = h.DecisionNote.Code
		}
		if text, ok := noteText(b, key+"."+why, n, facts...); ok {
			return text
		}
	}
	if text, ok := noteText(b, key, n); ok {
		return text
	}
	return clean(n.Settle)
}
