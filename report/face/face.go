// Package face holds the two fonts of the record, Liberation Sans regular and
// bold, and answers what a page has to know of them: which characters they
// have and how wide each is.
package face

import (
	"math"
	"strings"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"github.com/go-pdf/fpdf"
	xfont "golang.org/x/image/font"
	"golang.org/x/image/font/opentype"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Family is the name under which the fonts are known in a document.
const Family = "Liberation Sans"

// TTF returns the font file.
func TTF(bold bool) []byte {
	if bold {
		return liberationsansbold.TTF
	}
	return liberationsansregular.TTF
}

// Common returns the font with none but the common runes. A document takes in
// every glyph of a font before it leaves out what it doesn't use: with these
// few it is done in half the time and memory, and the cut is made once.
func Common(bold bool) []byte {
	if bold {
		return cut[1]()
	}
	return cut[0]()
}

var cut = [2]func() []byte{
	sync.OnceValue(func() []byte { return fpdf.UTF8CutFont(TTF(false), commonRunes()) }),
	sync.OnceValue(func() []byte { return fpdf.UTF8CutFont(TTF(true), commonRunes()) }),
}

// IsCommon reports whether Common can draw the text.
func IsCommon(text string) bool { return !strings.ContainsFunc(text, rare) }

// rare is a rune beyond the Latin and Greek letters, punctuation, arrows and
// signs that records are made of.
func rare(r rune) bool {
	return r >= 0x180 && r < 0x370 || r >= 0x400 && r < 0x2000 || r >= tabled
}

func commonRunes() string {
	var b strings.Builder
	for r := rune(0x20); r < tabled; r++ {
		if !rare(r) && HasGlyph(r) {
			b.WriteRune(r)
		}
	}
	return b.String()
}

// tabled is the range of runes whose widths are kept; others are looked up.
const tabled = 0x2300

type metrics struct {
	font  *opentype.Font
	width [tabled]uint16 // thousandths of the size; 0 where there is no glyph
}

var loaded = [2]func() *metrics{
	sync.OnceValue(func() *metrics { return load(false) }),
	sync.OnceValue(func() *metrics { return load(true) }),
}

func of(bold bool) *metrics {
	if bold {
		return loaded[1]()
	}
	return loaded[0]()
}

func load(bold bool) *metrics {
	f, err := opentype.Parse(TTF(bold))
	if err != nil {
		panic("face: the embedded font does not parse: " + err.Error())
	}
	m := &metrics{font: f}
	var b sfnt.Buffer
	for r := rune(0x20); r < tabled; r++ {
		m.width[r] = m.lookUp(&b, r)
	}
	return m
}

// lookUp is the advance of r in thousandths, 0 without a glyph.
func (m *metrics) lookUp(b *sfnt.Buffer, r rune) uint16 {
	g, err := m.font.GlyphIndex(b, r)
	if err != nil || g == 0 {
		return 0
	}
	em := m.font.UnitsPerEm()
	adv, err := m.font.GlyphAdvance(b, g, fixed.Int26_6(em)<<6, xfont.HintingNone)
	if err != nil {
		return 0
	}
	return uint16(math.Round(float64(adv) / 64 * 1000 / float64(em)))
}

// HasGlyph reports whether the regular font can draw r. Control characters
// and runes beyond U+FFFF have none.
func HasGlyph(r rune) bool {
	if r < 0x20 || r > 0xFFFF {
		return false
	}
	m := of(false)
	if r < tabled {
		return m.width[r] > 0
	}
	var b sfnt.Buffer
	return m.lookUp(&b, r) > 0
}

// Width is the width of s at a size of 1.
func Width(s string, bold bool) float64 {
	m, sum := of(bold), 0
	for _, r := range s {
		if r < tabled {
			sum += int(m.width[r])
		} else {
			var b sfnt.Buffer
			sum += int(m.lookUp(&b, r))
		}
	}
	return float64(sum) / 1000
}

// OpenType returns the parsed font, for pictures.
func OpenType(bold bool) *opentype.Font { return of(bold).font }
