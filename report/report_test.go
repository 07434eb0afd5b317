package report

import (
	"os"
	"path/filepath"
	"testing"
)

// TestLook writes the pages to the folder that LOOK names, to be looked at.
func TestLook(t *testing.T) {
	dir := os.Getenv("LOOK")
	if dir == "" {
		t.Skip("LOOK names no folder")
	}
	for _, a := range []string{"homeowner", "inspector", "warranty"} {
		for _, v := range []struct{ lang, units, paper string }{{"en", "us", "letter"}, {"es", "si", "a4"}} {
			o := testOptions(a)
			o.Language, o.Units, o.Paper = v.lang, v.units, v.paper
			d, err := Pages(testRecord(), o)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, a+"-"+v.lang+".pdf"), d.PDF, 0o644); err != nil {
				t.Fatal(err)
			}
			t.Log(a, v.lang, d.Pages, len(d.PDF))
			if d, err = Pages(stressed(), o); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(filepath.Join(dir, a+"-"+v.lang+"-long.pdf"), d.PDF, 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func BenchmarkInspector(b *testing.B) {
	r, o := testRecord(), testOptions("inspector")
	for b.Loop() {
		if _, err := Pages(r, o); err != nil {
			b.Fatal(err)
		}
	}
}
