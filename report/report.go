// Package report sets a record on pages: result first, then what was not
// determined, then the evidence, for one of three readers; or two records side
// by side on one page. It computes nothing; every number comes from the record
// and is only rounded here.
package report

import (
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
		} else if t, err := time.Parse(time.DateOnly, s); err == nil && t.After(last) {
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
