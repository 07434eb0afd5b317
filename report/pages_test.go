package report

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"unicode/utf8"

	pictures "dryhold/analysis/picture"
	"dryhold/analysis/record"
	"dryhold/report/seal"
	"dryhold/templates"
)

var notFinite = regexp.MustCompile(`NaN|[+-]Inf\b`)

var update = flag.Bool("update", false, "write the golden pages anew")

// text is one text that was drawn.
type text struct {
	page    int
	x, y, w float64
	s       string
}

func drawn(t *testing.T, r *record.Record, o Options) (*Drawn, []text) {
	t.Helper()
	var all []text
	o.watch = func(page int, x, y, w float64, s string) {
		one := text{page, x, y, w, s}
		if len(all) > 0 && one == all[0] {
			all = nil // drawn again, with all letters
		}
		all = append(all, one)
	}
	d, err := Pages(r, o)
	if err != nil {
		t.Fatal(err)
	}
	return d, all
}

// each renders a record in every audience, language and paper.
func each(t *testing.T, r *record.Record, visit func(t *testing.T, o Options, d *Drawn, all []text)) {
	for _, a := range templates.Audiences {
		for _, v := range variants {
			t.Run(strings.Join([]string{a, v.lang, v.units, v.paper}, "-"), func(t *testing.T) {
				o := testOptions(a)
				o.Language, o.Units, o.Paper = v.lang, v.units, v.paper
				d, all := drawn(t, r, o)
				visit(t, o, d, all)
			})
		}
	}
}

// inside fails where a text leaves the measure or the page's text area.
func inside(t *testing.T, o Options, all []text) {
	t.Helper()
	size := paperSize[o.Paper]
	left, right := size[2]*mm, size[2]*mm+measureWidth
	for _, x := range all {
		if x.x < left-0.5 || x.x+x.w > right+0.5 {
			t.Errorf("page %d: %q runs from %.1f to %.1f, the measure from %.1f to %.1f", x.page+1, x.s, x.x, x.x+x.w, left, right)
		}
		if x.y < 10*mm || x.y > (size[1]-8)*mm {
			t.Errorf("page %d: %q lies at %.1f", x.page+1, x.s, x.y)
		}
		if foot := (size[1] - 18) * mm; x.y > (size[1]-20)*mm && x.y < foot+5 {
			t.Errorf("page %d: %q runs into the foot", x.page+1, x.s)
		}
	}
}

func sound(t *testing.T, o Options, all []text) {
	t.Helper()
	for _, x := range all {
		if strings.Contains(x.s, "?") && !strings.Contains(x.s, "¿") && strings.Contains(x.s, ".") && !strings.Contains(x.s, " ") {
			t.Errorf("a key without text: %q", x.s)
		}
		if strings.ContainsAny(x.s, "{}") || notFinite.MatchString(x.s) {
			t.Errorf("page %d: %q", x.page+1, x.s)
		}
		if w := templates.Forbidden(o.Language, x.s); w != "" {
			t.Errorf("page %d says %q in %q", x.page+1, w, x.s)
		}
		for _, r := range x.s {
			if !HasGlyph(r) {
				t.Errorf("page %d: no glyph for %q in %q", x.page+1, r, x.s)
			}
		}
	}
}

func TestEveryPage(t *testing.T) {
	each(t, testRecord(), func(t *testing.T, o Options, d *Drawn, all []text) {
		inside(t, o, all)
		sound(t, o, all)
		archived, err := seal.Archive(seal.Document{PDF: d.PDF, Title: d.Title, Language: d.Language, Created: d.Created})
		if err != nil {
			t.Fatal(err)
		}
		if len(archived) > 190<<10 { // 32 kB of it are the place for the signature
			t.Errorf("%d bytes", len(archived))
		}
		if d.CustomerField == nil {
			t.Error("no field for the customer")
		}
	})
}

// TestBareRecord draws records of which almost nothing is known.
func TestBareRecord(t *testing.T) {
	const micron = 0.133322387415
	bare := &record.Record{Format: 1, Job: record.Job{Number: "B-1"}}
	hold := &record.Record{Format: 1, Job: record.Job{Number: "B-2"}, Hold: &record.Hold{Start: "2031-04-09T10:00:00-06:00", End: "2031-04-09T10:10:00-06:00", Found: "stated", Decision: "not determined", Cause: "not determined",
		StartPressure: record.Plain(30, "Pa"), EndPressure: record.Plain(31, "Pa"), Rise: record.Plain(1, "Pa")}, Charge: &record.Charge{}, Startup: &record.Startup{}, Pressure: &record.Pressure{Kind: "tightness", Decision: "not determined"}, PullDown: &record.PullDown{}, Recovery: &record.Recovery{}, PumpCheck: &record.PumpCheck{Result: "not judged"}}
	odd := testRecord()
	odd.Traces.Vacuum = &record.Trace{T: []float64{0, 60, 120}, Y: []float64{0, -3, 100 * micron}}
	odd.Traces.Hold = &record.Trace{T: []float64{7920, 7980}, Y: []float64{0, 0}}
	odd.Traces.Fit = &record.Band{T: []float64{1}}
	odd.Traces.Pressure = &record.Trace{T: []float64{5}, Y: []float64{5}}
	odd.Job.Barometer = nil
	for name, r := range map[string]*record.Record{"nothing": bare, "a hold without more": hold, "odd traces": odd} {
		t.Run(name, func(t *testing.T) {
			each(t, r, func(t *testing.T, o Options, d *Drawn, all []text) {
				inside(t, o, all)
				sound(t, o, all)
				if bytes.Contains(d.PDF, []byte("NaN")) {
					t.Error("NaN in the document")
				}
			})
		})
	}
}

// stressed is a record with names of extreme length, forty instruments, units and attempts.
func stressed() *record.Record {
	r := testRecord()
	long := strings.Repeat("Extraordinarily long name of an invented firm ", 6)
	unbroken := strings.Repeat("UNBROKEN", 30)
	j := &r.Job
	j.Number = strings.Repeat("JOB-", 12) + "1"
	j.Company.Name, j.Company.Address, j.Technician.Name, j.Site.Address = long, unbroken, long, long+unbroken
	j.Boundary.Included = append(j.Boundary.Included, unbroken, long)
	for i := range 40 {
		j.Equipment = append(j.Equipment, record.Equipment{Role: "indoor unit", Maker: long, Model: unbroken[:40], Serial: fmt.Sprintf("00471180SERIAL%024d", i)})
		x := r.Instruments[0]
		x.ID, x.Serial = fmt.Sprintf("V-%02d", i), unbroken[:60]
		r.Instruments = append(r.Instruments, x)
		r.Warnings = append(r.Warnings, record.Note{Code: "x", Text: long})
		r.Attempts = append(r.Attempts, r.Attempts[0])
	}
	for _, s := range []string{"image", "digital", "typed by office"} {
		r.Signoffs = append(r.Signoffs, record.Signoff{Role: long, Name: unbroken, Method: s})
	}
	return r
}

// TestStress draws what is long and what is many.
func TestStress(t *testing.T) {
	r := stressed()
	each(t, r, func(t *testing.T, o Options, d *Drawn, all []text) {
		inside(t, o, all)
		var whole strings.Builder
		for _, x := range all {
			whole.WriteString(x.s)
		}
		for i := range 40 {
			if s := fmt.Sprintf("00471180SERIAL%024d", i); !strings.Contains(whole.String(), s) {
				t.Errorf("the serial %s is nowhere whole", s)
			}
		}
	})
}

// TestLongerWords draws every text 1.35 times as long.
func TestLongerWords(t *testing.T) {
	for _, a := range templates.Audiences {
		base, err := templates.Load(a, nil)
		if err != nil {
			t.Fatal(err)
		}
		longer := &templates.Template{Audience: a, Sections: base.Sections, Words: map[string]templates.Text{}}
		for _, k := range templates.Keys() {
			s := base.Word("es", k)
			n := utf8.RuneCountInString(s) * 35 / 100
			if n > 0 && !strings.HasPrefix(k, "month.") {
				s += " " + strings.Repeat("lorem ", n/6) + strings.Repeat("x", n%6)
			}
			longer.Words[k] = templates.Text{"es": s}
		}
		t.Run(a, func(t *testing.T) {
			o := testOptions(a)
			o.Language, o.Template = "es", longer
			_, all := drawn(t, testRecord(), o)
			inside(t, o, all)
		})
	}
}

// TestWarrantyIsOnePage holds for a job with two units that passed at once.
func TestWarrantyIsOnePage(t *testing.T) {
	r := testRecord()
	r.Attempts = nil
	r.Hold.Cause, r.Hold.Inflow = "none", false
	for _, v := range []struct{ lang, units, paper string }{{"en", "us", "letter"}, {"es", "si", "a4"}} {
		o := testOptions("warranty")
		o.Language, o.Units, o.Paper = v.lang, v.units, v.paper
		if d, _ := drawn(t, r, o); d.Pages != 1 {
			t.Errorf("%s: %d pages", v.lang, d.Pages)
		}
	}
}

func TestSameBytes(t *testing.T) {
	for _, a := range templates.Audiences {
		one, _ := drawn(t, testRecord(), testOptions(a))
		two, _ := drawn(t, testRecord(), testOptions(a))
		if !bytes.Equal(one.PDF, two.PDF) {
			t.Errorf("%s: two drawings differ", a)
		}
	}
}

// TestGolden holds the text of every page with its place.
func TestGolden(t *testing.T) {
	each(t, testRecord(), func(t *testing.T, o Options, d *Drawn, all []text) {
		var b strings.Builder
		for _, x := range all {
			fmt.Fprintf(&b, "%d %.0f %.0f %s\n", x.page+1, x.x, x.y, x.s)
		}
		name := filepath.Join("testdata", filepath.Base(t.Name())+".golden")
		if *update {
			if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
			return
		}
		want, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if string(want) != b.String() {
			t.Errorf("%s differs; look at the pages, then run the test with -update", name)
		}
	})
}

// headline of a record as it is drawn, its lines joined.
func headlineOf(t *testing.T, r *record.Record, audience string) string {
	b, err := newBuilder(r, testOptions(audience))
	if err != nil {
		t.Fatal(err)
	}
	return b.headline()
}

func TestHeadlines(t *testing.T) {
	for _, c := range []struct {
		decision, cause string
		inflow          bool
		want            string
	}{
		{"pass", "leak", true, "Criterion met, but the readings show a continuing inflow: find it"},
		{"conditional pass", "none", true, "Criterion met, but the readings show a continuing inflow: find it"},
		{"fail", "leak", true, "Criterion not met, and the readings show a continuing inflow: find it"},
		{"pass", "none", false, "Criterion met. No cause named; an inflow up to"},
		{"pass", "moisture", false, "Criterion met. The rise levels off: water, or gas leaving the oil"},
		{"pass", "not determined", false, "Criterion met. What caused the rise is not determined"},
		{"conditional pass", "moisture", false, "Criterion met, but by less than the uncertainty: not\u00a0proven. The rise levels off"},
		{"conditional fail", "not determined", false, "Criterion not met, but by less than the uncertainty."},
		{"fail", "moisture", false, "Criterion not met: 407\u00a0micron against a limit of 500\u00a0micron."},
		{"not determined", "none", false, "Not determined: "},
		{"not determined", "leak", true, "The readings show a continuing inflow: find it"},
	} {
		r := testRecord()
		r.Hold.Decision, r.Hold.Cause, r.Hold.Inflow = c.decision, c.cause, c.inflow
		for _, a := range templates.Audiences {
			if got := headlineOf(t, r, a); !strings.Contains(got, c.want) {
				t.Errorf("%s: %s and %s: %q", a, c.decision, c.cause, got)
			}
		}
	}
}

// TestDecidingPart: what failed is told by its own numbers, also without a limit.
func TestDecidingPart(t *testing.T) {
	const micron = 0.133322387415
	for _, c := range []struct{ what, want string }{
		{"reach", "Criterion not met: 450\u00a0micron reached, 300\u00a0micron asked for."},
		{"max_rise", "Criterion not met: a rise of 450\u00a0micron, 300\u00a0micron allowed."},
	} {
		r := testRecord()
		h := r.Hold
		h.Decision, h.Cause, h.Inflow = "fail", "moisture", false
		h.Criteria = []record.Criterion{{What: "limit", Limit: record.Plain(500*micron, "Pa"), Reading: record.Plain(407*micron, "Pa"), Decision: "pass"},
			{What: c.what, Limit: record.Plain(300*micron, "Pa"), Reading: record.Plain(450*micron, "Pa"), Decision: "fail"}}
		if got := headlineOf(t, r, "homeowner"); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s: %q", c.what, got)
		}
		h.Criteria, h.Limit = h.Criteria[1:], nil
		if got := headlineOf(t, r, "inspector"); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s without a limit: %q", c.what, got)
		}
	}
}

// TestStructure checks that every marked sequence belongs to one element and
// that figures have a text in their place.
func TestStructure(t *testing.T) {
	d, _ := drawn(t, testRecord(), testOptions("inspector"))
	seen := map[seal.Marked]bool{}
	kinds := map[string]int{}
	var walk func(e seal.Element)
	walk = func(e seal.Element) {
		kinds[e.Kind]++
		if e.Kind == "Figure" && e.Alt == "" {
			t.Error("a figure without a text in its place")
		}
		for _, m := range e.Content {
			if seen[m] {
				t.Errorf("%v belongs to two elements", m)
			}
			seen[m] = true
		}
		for _, c := range e.Children {
			walk(c)
		}
	}
	for _, e := range d.Structure {
		walk(e)
	}
	for _, k := range []string{"H1", "H2", "P", "Table", "TR", "TH", "TD", "Figure", "L"} {
		if kinds[k] == 0 {
			t.Errorf("no %s", k)
		}
	}
	if kinds["L"] != 1 || kinds["LI"] < 3 {
		t.Errorf("the cautions are %d items in %d lists", kinds["LI"], kinds["L"])
	}
	if kinds["H1"] != 1 {
		t.Errorf("%d headings of the first level", kinds["H1"])
	}
}

func picture2(t *testing.T, kind string) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 300, 90))
	for x := range 300 {
		m.Set(x, 40, color.Black)
	}
	var b bytes.Buffer
	var err error
	if kind == "png" {
		err = png.Encode(&b, m)
	} else {
		err = jpeg.Encode(&b, m, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestImages(t *testing.T) {
	jpg := picture2(t, "jpeg")
	// An APP1 segment as cameras write it, with a place in it.
	marked := append(append(append([]byte{}, jpg[:2]...), 0xFF, 0xE1, 0, 22), append([]byte("Exif\x00\x00GPS 12.34 N .."), jpg[2:]...)...)
	r, o := testRecord(), testOptions("inspector")
	r.Job.Company.Logo = "logo.png"
	r.Signoffs = append(r.Signoffs, record.Signoff{Role: "customer", Name: "B. Example", Method: "image", Image: "sign.jpg"})
	o.Images = map[string][]byte{"logo.png": picture2(t, "png"), "sign.jpg": marked}
	d, all := drawn(t, r, o)
	inside(t, o, all)
	if bytes.Contains(d.PDF, []byte("GPS")) {
		t.Error("the picture's place is in the document")
	}
	for name, data := range map[string][]byte{"text": []byte("no picture"), "cut": jpg[:len(jpg)/4], "large": make([]byte, pictures.MaxBytes+1), "empty": nil} {
		_, err := reduced(name, data, false, map[int]bool{})
		var e *ImageError
		if !errors.As(err, &e) || e.Mend == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestPhotographs: photographs lie inside the page with their captions as texts in
// their place, leave the warranty desk's page as it is, and several pictures of one
// size give the same bytes.
func TestPhotographs(t *testing.T) {
	r := testRecord()
	r.Attempts, r.Hold.Cause, r.Hold.Inflow = nil, "none", false
	o := testOptions("warranty")
	o.Images = map[string][]byte{}
	for i, n := range []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg"} {
		m := image.NewGray(image.Rect(0, 0, 300, 200))
		m.SetGray(i, 10*i, color.Gray{255})
		var b bytes.Buffer
		if err := jpeg.Encode(&b, m, nil); err != nil {
			t.Fatal(err)
		}
		o.Images[n] = b.Bytes()
		r.Photographs = append(r.Photographs, record.Photograph{File: n, Caption: "flare " + n})
	}
	first, all := drawn(t, r, o)
	inside(t, o, all)
	if first.Pages != 2 {
		t.Errorf("%d pages", first.Pages)
	}
	seen := 0
	var walk func(e seal.Element)
	walk = func(e seal.Element) {
		if e.Kind == "Figure" && strings.HasPrefix(e.Alt, "flare ") {
			seen++
		}
		for _, c := range e.Children {
			walk(c)
		}
	}
	for _, e := range first.Structure {
		walk(e)
	}
	if seen != 5 {
		t.Errorf("%d of 5 photographs have a text in their place", seen)
	}
	for range 8 {
		if d, _ := drawn(t, r, o); !bytes.Equal(d.PDF, first.PDF) {
			t.Fatal("two drawings differ")
		}
	}
}

// TestSerials: a serial in groups is copied in one piece, leading zeros too, by
// programs that take text from pages.
func TestSerials(t *testing.T) {
	for serial, want := range map[string]string{"0047118OA3": "0047|118O|A3", "004711803": "0047|11803", "00471180": "0047|1180", "0047118": "0047118", "0047-1180-22": "0047-1180-22", "": "", "00Ñ471180": "00Ñ471180"} {
		if got := strings.ReplaceAll(grouped(serial), string(partMark), "|"); got != want {
			t.Errorf("%q is parted as %q", serial, got)
		}
	}
	r := testRecord()
	d, _ := drawn(t, r, testOptions("warranty"))
	doc, err := seal.Archive(seal.Document{PDF: d.PDF, Title: d.Title, Language: d.Language, Created: d.Created, Structure: d.Structure, ToUnicode: d.ToUnicode})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "serials.pdf")
	if err := os.WriteFile(path, doc, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, tool := range [][]string{{"pdftotext", path, "-"}, {"pdftotext", "-layout", path, "-"}, {"mutool", "draw", "-o", "-", "-F", "txt", path}} {
		out, err := exec.Command(tool[0], tool[1:]...).Output()
		if errors.Is(err, exec.ErrNotFound) && os.Getenv("CI") != "true" {
			t.Log("left out:", err)
			continue
		}
		if err != nil {
			t.Fatal(tool, err)
		}
		for _, e := range r.Job.Equipment {
			if !bytes.Contains(out, []byte(e.Serial)) {
				t.Errorf("%v: %s is not in one piece", tool[:len(tool)-1], e.Serial)
			}
		}
	}
}

func TestHasGlyph(t *testing.T) {
	for _, r := range "aÑ€µΩ≤²±τ−₂" {
		if !HasGlyph(r) {
			t.Errorf("%q has no glyph", r)
		}
	}
	for _, r := range "\n\u0000😀漢\ufeff" {
		if HasGlyph(r) {
			t.Errorf("%q has a glyph", r)
		}
	}
}
