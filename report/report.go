// Package report sets a record on pages: result first, then what was not
// determined, then the evidence, for one of three readers; or two records side
// by side on one page. It computes nothing; every number comes from the record
// and is only rounded here.
package report

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"sync"
	"time"

	"dryhold/analysis/record"
	"dryhold/report/face"
	"dryhold/report/seal"
	"dryhold/templates"

	"github.com/go-pdf/fpdf"
)

// Options say how a record is told.
type Options struct {
	Audience string // homeowner, inspector, warranty
	Language string // en, es
	Units    string // us, si
	Paper    string // letter, a4
	// Digest is the SHA-256 of results.json, 64 hexadecimal digits.
	Digest string
	// Template words the record; nil takes the audience's own.
	Template *templates.Template
	// Images holds the logo and the pictures of signatures by the names that the
	// record uses, as read from the job's folder: PNG or JPEG.
	Images map[string][]byte
	// Attachments are the names of the files inside the PDF, in order.
	Attachments []string
	// Signer and KeyFingerprint name the key that will sign; empty for none.
	Signer, KeyFingerprint string

	watch func(page int, x, y, w float64, text string)
}

// Drawn is a document ready to be archived and signed.
type Drawn struct {
	PDF             []byte
	Pages           int
	Title, Language string
	Created         time.Time
	// CustomerField is where the customer may sign; nil where the audience has none.
	CustomerField *seal.Field
	// Structure is the document in reading order.
	Structure []seal.Element
	// ToUnicode tells the letters of the fonts' codes.
	ToUnicode []byte
}

// HasGlyph reports whether the record's font can draw r.
func HasGlyph(r rune) bool { return face.HasGlyph(r) }

// paperSize in millimetres: width, height, left margin.
var paperSize = map[string][3]float64{"letter": {215.9, 279.4, 17.95}, "a4": {210, 297, 15}}

// builder turns one record into sections.
type builder struct {
	rec  *record.Record
	opt  Options
	t    *templates.Template
	p    *printer
	sc   scale
	pics map[string]*imageInfo
	cust *seal.Field // page and place of the customer's box, set while drawing
	sigs int         // page of the signature section, from 0
	// close is how near to each other things stand: 0 as designed, up to closest.
	close int
	spare float64 // height that a single page leaves for its figure
	// body is the last page of what is laid out without photographs, and end its height there.
	body int
	end  float64
	// turn is a section that begins a page; before is the one before the sign-off
	// where that begins one, else empty.
	turn, before string
}

// Prepare makes ready what every record needs, the fonts and the wording. Pages does
// it when it has to; a program that begins with something else gains by doing it
// meanwhile.
var Prepare = sync.OnceFunc(func() {
	face.Prepared(fpdf.New("P", "pt", "A4", ""))
	templates.Load(templates.Audiences[0], nil)
})

// closest is how far an audience's pages may be drawn together to be one page.
var closest = map[string]int{"warranty": 3}

// Pages draws a record. An error is about an option or an image; a record with
// missing parts is drawn with "not recorded" in their place.
func Pages(rec *record.Record, opt Options) (*Drawn, error) {
	b, err := newBuilder(rec, opt)
	if err != nil {
		return nil, err
	}
	doc := b.document()
	d, err := doc.output(b.fitted(doc.size))
	if err != nil {
		return nil, err
	}
	d.CustomerField = b.cust
	return d, nil
}

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

func (b *builder) title() string { return b.w("title", "job", b.rec.Job.Number) }

func newBuilder(rec *record.Record, opt Options) (*builder, error) {
	fallback := func(s *string, has []string, or string) {
		if !slices.Contains(has, *s) {
			*s = or
		}
	}
	fallback(&opt.Language, templates.Languages, "en")
	fallback(&opt.Units, []string{"us", "si"}, "us")
	fallback(&opt.Paper, []string{"letter", "a4"}, "letter")
	if opt.Template == nil {
		t, err := templates.Load(opt.Audience, nil)
		if err != nil {
			return nil, err
		}
		opt.Template = t
	}
	b := &builder{rec: rec, opt: opt, t: opt.Template, sc: scales[opt.Template.Audience]}
	b.p = &printer{sys: b.system(opt.Units), sep: ",", word: b.w, lang: opt.Language}
	if opt.Language == "es" {
		b.p.sep = nb
	}
	if rec.Job.Barometer.Finite() {
		b.p.atm = rec.Job.Barometer.V
	}
	b.p.step = gaugeStep(rec.Hold)
	return b, b.loadImages()
}

// gaugeStep is the resolution of the gauge that decides, from the uncertainty
// of a rectangle of its width (u = step / sqrt 12); 0 where it is not known.
func gaugeStep(h *record.Hold) float64 {
	if h == nil {
		return 0
	}
	for _, t := range h.Budget {
		if t.Name == "resolution" && t.U.Finite() {
			return t.U.V * math.Sqrt(12)
		}
	}
	return 0
}

func (b *builder) w(key string, facts ...string) string {
	return b.t.Word(b.opt.Language, key, facts...)
}

// created is the record's date: the last moment that it knows of.
func (b *builder) created() time.Time {
	last := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	take := func(s string) {
		if t, ok := parseTime(s); ok && t.After(last) {
			last = t
		} else if t, err := time.Parse("2006-01-02", s); err == nil && t.After(last) {
			last = t
		}
	}
	take(b.rec.Job.Date)
	for _, in := range b.rec.Inputs {
		take(in.Last)
	}
	if b.rec.Hold != nil {
		take(b.rec.Hold.End)
	}
	return last.UTC()
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

func (b *builder) runningHead(s *sheet, f *flow) {
	st := style{8, 10.5, false}
	s.artifact(func() {
		right := b.w("running", "job", b.rec.Job.Number)
		rw := width(right, st)
		name := wrap(clean(b.rec.Job.Company.Name), st, measureWidth-rw-10)
		s.lines(f.left, 15*mm-8, measureWidth-rw-10, name[:min(1, len(name))], st, 'l')
		s.lines(f.left, 15*mm-8, measureWidth, wrap(right, st, measureWidth), st, 'r')
	})
}

func (b *builder) foot(s *sheet, f *flow) {
	y := s.h - 18*mm
	s.rule(f.left, y, measureWidth, 0.5)
	one := func(x, y float64, text string, align byte) {
		ls := wrap(text, foot, measureWidth*0.45)
		if len(ls) > 0 {
			s.lines(x, y, measureWidth, ls[:1], foot, align)
		}
	}
	s.artifact(func() {
		one(f.left, y+2.5, b.w("foot.job", "job", b.rec.Job.Number), 'l')
		one(f.left, y+2.5, bold(b.w("foot.page", "page", b.p.count(s.page+1), "pages", b.p.count(f.page+1))), 'c')
		if d := b.opt.Digest; len(d) >= 16 {
			one(f.left, y+2.5, b.w("foot.digest", "digest", bold(firstFours(d))), 'r')
			one(f.left, y+12, b.w("foot.full", "page", b.p.count(b.sigs+1)), 'r')
		}
		if b.rec.Job.Sample {
			one(f.left, y+12, b.w("foot.sample"), 'l')
		}
	})
}

// firstFours is the beginning of a digest in groups of four, as in the foot of the
// record that has it.
func firstFours(digest string) string { return fours(digest[:min(16, len(digest))]) }

// fours sets a digest in groups of four.
func fours(s string) string {
	var out []byte
	for i := range len(s) {
		if i > 0 && i%4 == 0 {
			out = append(out, nb...)
		}
		out = append(out, s[i])
	}
	return string(out)
}
