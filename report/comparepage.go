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
	doc.title, doc.created, doc.foot = c.w("compare.title")+": "+c.names[0]+"; "+c.names[1], c.created(), c.footer
	return doc.output(c.onePage(doc.size))
}

// room is how much of the page parts may take: from what is wanted to what is
// left when much differs.
type room struct {
	figure vg.Length
	text   int // letters of a text as written
	rows   int
	dense  bool
}

// maxRows bounds what is tried on the page; a record has some thirty.
const maxRows = 60

// onePage lays everything out, and leaves rows for the terminal where a page
// cannot hold them all.
func (c *comparison) onePage(size [3]float64) *flow {
	most := min(len(c.rows), maxRows)
	tries := []room{{64 * plot.MM, longestText, most, false}, {50 * plot.MM, longestText, most, false}, {40 * plot.MM, longestText, most, true}}
	for n := most; n >= 0; n-- {
		tries = append(tries, room{40 * plot.MM, 60, n, true})
	}
	var f *flow
	for _, r := range tries {
		if f = c.layout(size, r); f.page == 0 {
			break
		}
	}
	return f
}

func (c *comparison) layout(size [3]float64, r room) *flow {
	f := &flow{sc: c.sc, left: size[2] * mm, top: 22 * mm, bottom: (size[1] - 20) * mm, continued: c.w("continued"), y: 12 * mm, gap: c.sc.gap - 1, apart: blockGap}
	f.add(section{wide: true, blocks: c.front()})
	missing := c.tabled() - r.rows
	rows := func(key string, setting bool, findings ...record.Finding) {
		list := c.found(setting, findings...)
		list = list[:min(len(list), r.rows)]
		r.rows -= len(list)
		if len(list) > 0 {
			f.add(section{wide: true, blocks: []block{c.table(key, list, r)}})
		}
	}
	rows("beyond", false, record.Beyond)
	if fig := c.figure(r.figure); fig != nil {
		f.add(section{wide: true, blocks: []block{picture{f: fig}}})
	}
	rows("differs", false, record.Differs)
	rows("setting", true, record.Beyond, record.Differs, record.Within, record.OneOnly)
	rows("within", false, record.Within)
	for _, text := range []string{c.only(0), c.only(1), c.same()} {
		if text != "" {
			f.add(section{wide: true, blocks: []block{para{text: text, st: c.sc.note}}})
		}
	}
	if missing > 0 {
		f.add(section{wide: true, blocks: []block{para{text: bold(c.w("compare.left_out", "count", c.p.count(missing))), st: c.sc.note}}})
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
	return append(blocks, para{text: bold(c.w("fixed.holds")) + " " + c.w("fixed.deference") + " " + c.w("compare.rule"), st: c.sc.fixed})
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
		cells[i] = c.cell(b, c.names[i], c.side[i])
		h = math.Max(h, cells[i].height(c.sc, w))
	}
	return custom{h: func(float64) float64 { return h + 2 }, paint: func(s *sheet, x, y, _ float64) {
		for i, a := range cells {
			a.draw(s, c.sc, x+float64(i)*(w+between), y, w)
		}
	}}
}

func (c *comparison) cell(b *builder, name string, from Compared) answer {
	checked := bold(c.w("compare.verified"))
	if from.Fault != "" {
		checked = bold(c.w("compare.not_verified", "reason", brief(clean(from.Fault), longestText)))
	}
	signed := c.w("compare.signed", "time", c.p.moment(from.SignedAt), "signer", brief(clean(from.Signer), 64), "fingerprint", firstFours(from.Fingerprint))
	return answer{label: bold(name) + " · " + brief(clean(from.File), 40), text: b.headline(),
		evidence: checked + " " + signed + "\n" + c.w("compare.digest", "digest", strings.ReplaceAll(fours(from.Digest), nb, " "))}
}

func (c *comparison) table(key string, rows []Row, r room) block {
	t := table{cols: []column{{bold(c.w("compare.part." + key)), 'l'}, {c.names[0], 'l'}, {c.names[1], 'l'}}, named: true, dense: r.dense}
	for _, row := range rows {
		old, new := row.Old, row.New
		if row.OldText+row.NewText != "" {
			old, new = brief(old, r.text), brief(new, r.text)
		}
		t.rows = append(t.rows, []string{row.What, old, new})
	}
	const width = measureWidth - 2*colGap
	return t.setIn([]float64{0.28 * width, 0.36 * width, 0.36 * width}) // the columns of all tables are alike
}

// same is a paragraph of what both records have alike, only of what one of them has.
func (c *comparison) same() string {
	return listed(c.w("compare.part.same"), append(c.found(true, record.Same), c.found(false, record.Same)...), func(r Row) string { return r.New })
}

func (c *comparison) only(side int) string {
	var list []Row
	for _, r := range c.found(false, record.OneOnly) {
		if (r.Pair.Old == nil && r.OldText == "") == (side == 1) {
			list = append(list, r)
		}
	}
	return listed(c.w("compare.part.only", "record", c.names[side]), list, func(r Row) string { return []string{r.Old, r.New}[side] })
}

// listed are rows in a paragraph, "" for none.
func listed(head string, rows []Row, value func(Row) string) string {
	var parts []string
	for _, r := range rows {
		parts = append(parts, lower(r.What)+nb+"· "+brief(value(r), 60))
	}
	if len(parts) == 0 {
		return ""
	}
	return bold(head+":") + " " + strings.Join(parts, "; ") + "."
}

// tabled is the number of rows that stand in tables.
func (c *comparison) tabled() int {
	return len(c.rows) - len(c.found(true, record.Same)) - len(c.found(false, record.Same, record.OneOnly))
}

func (c *comparison) figure(height vg.Length) *plot.Figure {
	o := c.plots()
	o.Width, o.Height = measureWidth, height
	return plot.Pair(plot.Side{Record: c.old.rec, Name: c.names[0]}, plot.Side{Record: c.rec, Name: c.names[1]}, o)
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
