package report

import (
	"math"
	"strings"

	"dryhold/analysis/record"
	"dryhold/report/plot"

	"gonum.org/v1/plot/vg"
)

// Comparison draws two records side by side on one page: an aid to reading them,
// which says itself that it is not signed. The same records give the same bytes.
func Comparison(old, new Compared, opt Options) (*Drawn, error) {
	c, err := newComparison(old, new, opt)
	if err != nil {
		return nil, err
	}
	doc := c.document()
	doc.title, doc.created, doc.foot = c.w("compare.title")+": "+c.name(c.old)+"; "+c.name(c.builder), c.created(), c.footer
	return doc.output(c.onePage(doc.size))
}

// Heights of the figure: as it should be, and where room is short.
const tall, short = 60 * plot.MM, 46 * plot.MM

// maxRows bounds what is tried on the page; a record has some thirty.
const maxRows = 60

// onePage lays everything out, and leaves rows for the terminal where a page
// cannot hold them all.
func (c *comparison) onePage(size [3]float64) *flow {
	most := min(len(c.rows), maxRows)
	f := c.layout(size, tall, most)
	for ; f.page > 0 && most >= 0; most-- {
		f = c.layout(size, short, most)
	}
	return f
}

func (c *comparison) layout(size [3]float64, figure vg.Length, most int) *flow {
	f := &flow{sc: c.sc, left: size[2] * mm, top: 22 * mm, bottom: (size[1] - 21) * mm, continued: c.w("continued"), y: 12 * mm, gap: c.sc.gap - 1}
	f.add(section{wide: true, blocks: c.front()})
	left := most
	add := func(key string, findings ...record.Finding) {
		rows := c.found(findings...)
		n := min(len(rows), left)
		left -= n
		if n > 0 {
			f.add(section{title: c.w("compare.part." + key), note: c.w("compare.note." + key), blocks: []block{c.table(rows[:n])}})
		}
	}
	add("beyond", record.Beyond)
	if fig := c.figure(figure); fig != nil {
		f.add(section{title: c.w("compare.part.holds"), note: c.w("compare.note.holds"), blocks: []block{picture{f: fig}}})
	}
	add("differs", record.Differs, record.OneOnly)
	add("within", record.Within)
	f.add(section{title: c.w("compare.part.same"), blocks: []block{para{text: c.same(), st: c.sc.note}}})
	if n := len(c.rows) - len(c.found(record.Same)) - most; n > 0 {
		f.add(section{wide: true, blocks: []block{para{text: bold(c.w("compare.left_out", "count", c.p.count(n))), st: c.sc.note}}})
	}
	return f
}

// front is title, what the page is, headline, and the two records.
func (c *comparison) front() []block {
	blocks := []block{c.titles(), para{text: c.w("compare.evidence"), st: c.sc.fixed},
		custom{h: func(float64) float64 { return 2 }, paint: func(s *sheet, x, y, w float64) { s.rule(x, y, w, 2.2) }},
		para{text: c.headline(), st: c.sc.head, kind: "H1"}, c.records()}
	if care := c.care(); care != "" {
		blocks = append(blocks, c.boxed(c.w("compare.care_title"), care))
	}
	return append(blocks, para{text: bold(c.w("fixed.holds")) + " " + c.w("fixed.criterion") + " " + c.w("fixed.deference"), st: c.sc.fixed})
}

func (c *comparison) titles() block {
	title, small := style{9.5, 12, true}, style{8, 10.5, true}
	return custom{h: func(float64) float64 { return title.lead + 3 }, paint: func(s *sheet, x, y, w float64) {
		s.mark("P", func() { s.lines(x, y, w, wrap(c.w("compare.title"), title, w), title, 'l') })
		s.mark("P", func() { s.lines(x, y+1, w, wrap(c.w("compare.unsigned"), small, w), small, 'r') })
		s.rule(x, y+title.lead+2, w, 0.5)
	}}
}

// records are the two records with what each of them says, and whether it verifies.
func (c *comparison) records() block {
	const between = 6 * mm
	w := (measureWidth - between) / 2
	var cells [2]answer
	h := 0.0
	for i, b := range []*builder{c.old, c.builder} {
		cells[i] = c.cell(b, c.side[i])
		h = math.Max(h, cells[i].height(c.sc, w))
	}
	return custom{h: func(float64) float64 { return h + 2 }, paint: func(s *sheet, x, y, _ float64) {
		for i, a := range cells {
			a.draw(s, c.sc, x+float64(i)*(w+between), y, w)
		}
	}}
}

func (c *comparison) cell(b *builder, from Compared) answer {
	checked := bold(c.w("compare.verified"))
	if from.Fault != "" {
		checked = bold(c.w("compare.not_verified", "reason", brief(clean(from.Fault))))
	}
	signed := c.w("compare.signed", "time", c.p.moment(from.SignedAt), "signer", brief(clean(from.Signer)), "fingerprint", fours(from.Fingerprint[:min(16, len(from.Fingerprint))]))
	return answer{label: bold(c.name(b)) + " · " + brief(clean(from.File)), text: b.headline(),
		evidence: checked + " " + signed + "\n" + c.w("compare.digest", "digest", strings.ReplaceAll(fours(from.Digest), nb, " "))}
}

func (c *comparison) table(rows []Row) block {
	t := table{cols: []column{{"", 'l'}, {c.name(c.old), 'l'}, {c.name(c.builder), 'l'}}}
	for _, r := range rows {
		t.rows = append(t.rows, []string{r.What, r.Old, r.New})
	}
	const room = mainWidth - 2*colGap // the columns of all tables below each other
	return fixedTable{t, []float64{0.3 * room, 0.35 * room, 0.35 * room}}
}

// same is a paragraph of what both records have alike.
func (c *comparison) same() string {
	var parts []string
	for _, r := range c.found(record.Same) {
		parts = append(parts, bold(r.What)+" "+r.New)
	}
	return or(strings.Join(parts, "; "), "–")
}

func (c *comparison) figure(height vg.Length) *plot.Figure {
	o := c.plots()
	o.Height = height
	return plot.Pair(plot.Side{Record: c.old.rec, Name: c.name(c.old)}, plot.Side{Record: c.rec, Name: c.name(c.builder)}, o)
}

func (c *comparison) footer(s *sheet, f *flow) {
	y := s.h - 18*mm
	s.rule(f.left, y, measureWidth, 0.5)
	s.artifact(func() {
		s.lines(f.left, y+2.5, measureWidth, wrap(c.w("compare.foot"), foot, measureWidth), foot, 'l')
		if c.old.rec.Job.Sample || c.rec.Job.Sample {
			s.lines(f.left, y+12, measureWidth, wrap(c.w("foot.sample"), foot, measureWidth), foot, 'l')
		}
	})
}
