package report

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"dryhold/report/face"
	"dryhold/report/seal"
)

// A record whose letters all have codes takes the prepared fonts, another the whole ones.
func TestFontsOfRecord(t *testing.T) {
	for _, c := range []struct {
		site     string
		prepared bool
	}{{"1 Ångström Lane, Señor € “x” ≤ 3 −2", true}, {"1 улица Лесная", false}, {"Łódź", false}} {
		rec := testRecord()
		rec.Job.Site.Address = c.site
		d, err := Pages(rec, testOptions("inspector"))
		if err != nil {
			t.Fatal(err)
		}
		if got := bytes.Contains(d.PDF, []byte("/BaseFont /DRYHLD+LiberationSans\n")); got != c.prepared {
			t.Errorf("%s: prepared %v, want %v", c.site, got, c.prepared)
		}
	}
}

// Programs that are not ours see the same letters, and read the same text, whether
// they are written by codes and the prepared fonts or by the whole fonts.
func TestPreparedFontsOutside(t *testing.T) {
	texts := []string{}
	var row []rune
	for _, r := range face.Letters() {
		if row = append(row, r); len(row) == 16 {
			texts, row = append(texts, string(row)), nil
		}
	}
	dir := t.TempDir()
	draw := func(name string, whole bool) string {
		s := newSheet(400, 560, whole)
		s.addPage()
		s.artifact(func() {
			for i, text := range texts {
				s.write(20, 30+float64(i)*36, text, false, 12)
				s.write(20, 46+float64(i)*36, text, true, 12)
			}
		})
		s.bookmark("τ − ₂", 10)
		if s.rare {
			t.Fatal("a letter has no code")
		}
		day := time.Date(2031, 4, 9, 0, 0, 0, 0, time.UTC)
		s.pdf.SetCreationDate(day)
		s.pdf.SetModificationDate(day)
		var out bytes.Buffer
		if err := s.output(&out); err != nil {
			t.Fatal(err)
		}
		doc, err := seal.Archive(seal.Document{PDF: out.Bytes(), Title: "letters", Language: "en", Created: day, ToUnicode: face.ToUnicode()})
		if err != nil {
			t.Fatal(err)
		}
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, doc, 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	prepared, whole := draw("prepared.pdf", false), draw("whole.pdf", true)
	for _, tool := range [][]string{{"pdftoppm", "-r", "72"}, {"mutool", "draw", "-o", "-", "-F", "ppm", "-r", "72"}, {"pdftotext", "-layout"}, {"mutool", "draw", "-o", "-", "-F", "txt"}} {
		if _, err := exec.LookPath(tool[0]); err != nil {
			if os.Getenv("CI") == "true" {
				t.Error(err)
			}
			t.Log("left out:", err)
			continue
		}
		run := func(path string) []byte {
			args := append(tool[1:len(tool):len(tool)], path)
			if tool[0] == "pdftotext" {
				args = append(args, "-")
			}
			out, err := exec.Command(tool[0], args...).Output()
			if err != nil {
				t.Fatal(tool, err)
			}
			return out
		}
		a, b := run(prepared), run(whole)
		if len(a) < 200 || !bytes.Equal(a, b) {
			t.Errorf("%v: the prepared fonts give another result than the whole ones\n%.900s\n%.900s", tool, a, b)
		}
	}
}
