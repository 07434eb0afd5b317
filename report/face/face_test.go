package face

import (
	"testing"
	"unicode"
)

// Every letter with a code can be drawn in both fonts, comes back from its code, and is as wide as the font says.
func TestCodes(t *testing.T) {
	seen := map[rune]bool{}
	for i, r := range Letters() {
		codes, ok := Encode(string(r))
		if !ok || len(codes) != 1 || codes[0] != byte(i+firstCode) {
			t.Errorf("%q: code % x, want %x", r, codes, i+firstCode)
		}
		if seen[r] || unicode.IsControl(r) {
			t.Errorf("%q has two codes, or is none to draw", r)
		}
		seen[r] = true
		for _, bold := range []bool{false, true} {
			if of(bold).lookUp(nil, r) == 0 {
				t.Errorf("%q has no glyph, bold %v", r, bold)
			}
		}
	}
	if _, ok := Encode("Łódź"); ok {
		t.Error("a letter without a code was written")
	}
}

// The measures are those that the font's own tables give: Liberation Sans 2, em of 2048 units, read with fc-scan and otfinfo.
func TestDescription(t *testing.T) {
	d := of(false).description()
	if d.Ascent != 905 || d.Descent != -212 || d.Flags != 32 {
		t.Errorf("%+v", d)
	}
	if w := Width("Aé−", false); w != 0.667+0.556+0.584 {
		t.Errorf("width %v", w)
	}
}
