// Package face holds the two fonts of the record, Liberation Sans regular and
// bold, and answers what a page has to know of them: which characters they
// have and how wide each is.
package face

import (
	"math"
	"sync"

	"codeberg.org/go-fonts/liberation/liberationsansbold"
	"codeberg.org/go-fonts/liberation/liberationsansregular"
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

type metrics struct {
	font  *opentype.Font
	width [256]uint16 // of a code, in thousandths of the size
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
	for c, r := range coded().runes {
		m.width[c] = m.lookUp(&b, r)
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
	return coded().code(r) > 0 || of(false).lookUp(nil, r) > 0
}

// Width is the width of s at a size of 1.
func Width(s string, bold bool) float64 {
	m, p, sum := of(bold), coded(), 0
	for _, r := range s {
		if c := p.code(r); c > 0 {
			sum += int(m.width[c])
		} else {
			sum += int(m.lookUp(nil, r))
		}
	}
	return float64(sum) / 1000
}

// OpenType returns the parsed font, for pictures.
func OpenType(bold bool) *opentype.Font { return of(bold).font }
