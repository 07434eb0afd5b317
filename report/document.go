package report

import (
	"bytes"
	"fmt"
	"time"

	"dryhold/report/face"
)

// document is how laid out blocks become pages.
type document struct {
	size        [3]float64 // as in paperSize
	title, lang string
	created     time.Time
	watch       func(page int, x, y, w float64, text string)
	head, foot  func(s *sheet, f *flow) // of each page; the first has no head
}

func (b *builder) document() *document {
	return &document{size: paperSize[b.opt.Paper], title: b.title(), lang: b.opt.Language, created: b.created(), watch: b.opt.watch,
		head: b.runningHead, foot: b.foot}
}

func (d *document) output(f *flow) (*Drawn, error) {
	s := d.paint(f, false)
	if s.rare {
		s = d.paint(f, true)
	}
	var out bytes.Buffer
	if err := s.output(&out); err != nil {
		return nil, fmt.Errorf("drawing the pages: %w", err)
	}
	drawn := &Drawn{PDF: out.Bytes(), Pages: f.page + 1, Title: d.title, Language: d.lang, Created: d.created, ToUnicode: face.ToUnicode()}
	for _, k := range s.root.kids {
		drawn.Structure = append(drawn.Structure, k.element())
	}
	return drawn, nil
}

// paint draws what was laid out, with the prepared fonts or the whole ones.
func (d *document) paint(f *flow, whole bool) *sheet {
	s := newSheet(d.size[0]*mm, d.size[1]*mm, whole)
	s.watch = d.watch
	s.pdf.SetCreationDate(d.created)
	s.pdf.SetModificationDate(d.created)
	s.pdf.SetTitle(d.title, true)
	s.pdf.SetLang(d.lang)
	s.pdf.SetProducer("", true)
	d.draw(s, f)
	return s
}

// draw puts the placed blocks on their pages, head and foot last.
func (d *document) draw(s *sheet, f *flow) {
	page, sect, list := -1, -1, false
	for _, p := range f.out {
		for page < p.page {
			if page >= 0 {
				d.foot(s, f)
			}
			s.addPage()
			page++
			if page > 0 {
				d.head(s, f)
			}
		}
		_, item := p.b.(listItem)
		if list && (!item || p.sect != sect) {
			s.shut()
			list = false
		}
		if p.sect != sect { // one that goes on overleaf stays open
			if sect >= 0 {
				s.shut()
			}
			s.open("Sect")
			sect = p.sect
		}
		if item && !list {
			s.open("L")
			list = true
		}
		if p.rule {
			s.rule(f.left, p.y-ruleSpace, measureWidth, 0.5)
		}
		if p.mark != "" {
			s.bookmark(p.mark, p.y-ruleSpace)
		}
		p.b.draw(s, p.x, p.y, p.w)
	}
	if list {
		s.shut()
	}
	if sect >= 0 {
		s.shut()
	}
	d.foot(s, f)
}
