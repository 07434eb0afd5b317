package report

import (
	"bytes"
	"regexp"
	"testing"

	"dryhold/report/plot"
)

// TestInk: text in a colour has it, with the prepared fonts and the whole ones, and what
// follows is in ink again. Brackets and backslashes are text.
func TestInk(t *testing.T) {
	for _, whole := range []bool{false, true} {
		s := newSheet(612, 792, whole)
		s.addPage()
		s.in(plot.White, "rg", func() { s.write(72, 72, `whi)t(e\ `, false, 9) })
		s.fill(72, 90, 20, 20, plot.Stone)
		s.write(72, 100, "dark", false, 9)
		var out bytes.Buffer
		if err := s.output(&out); err != nil {
			t.Fatal(err)
		}
		const inked = `0\.090 0\.098 0\.106 rg\s+`
		white, dark := `BT 72 720 Td \(whi\\\)t\\\(e\\\\ \) Tj ET\s+`, `BT 72 692 Td \(dark\) Tj ET`
		if whole { // its letters have two bytes
			white, dark = `BT 72\.00 720\.00 Td \(\x00w\x00h.* Tj ET\s+`, `BT 72\.00 692\.00 Td \(\x00d\x00a`
		}
		want := inked + `1\.000 1\.000 1\.000 rg\s+BT /F\S+ 9\.00 Tf ET\s+` + white + inked + `/Artifact BMC\s+0\.914 0\.898 0\.867 rg [^f]*f ` + inked + `EMC\s+` + dark
		if !regexp.MustCompile(want).Match(out.Bytes()) {
			t.Errorf("whole %v: the page is\n%.900s", whole, out.Bytes())
		}
	}
}
