package report

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

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
