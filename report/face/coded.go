package face

import (
	"bytes"
	"compress/zlib"
	"encoding/json"
	"fmt"
	"strings"
	"sync"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font"
	"golang.org/x/image/math/fixed"
	"golang.org/x/text/encoding/charmap"
)

// A document whose letters are all in one page of codes takes the fonts in a form
// that is made once a process. Other documents take the whole fonts, and fpdf cuts
// them to what each uses, which costs a third of a record's time.

// free are the codes that Windows-1252 leaves free, and what they stand for here.
var free = map[byte]struct {
	r    rune
	name string // of the Adobe Glyph List
}{
	0x7F: {'−', "minus"}, 0x81: {'τ', "tau"}, 0x8D: {'₂', "twoinferior"},
	0x8F: {'≤', "lessequal"}, 0x90: {'≥', "greaterequal"}, 0x9D: {'≈', "approxequal"},
}

const firstCode = 0x20

// page is the codes and their letters, both ways.
type page struct {
	runes [256]rune
	codes [maxCoded + 1]byte // 0 for what has none
}

const maxCoded = '≥'

var coded = sync.OnceValue(func() *page {
	p := &page{}
	for c := firstCode; c < 256; c++ {
		r := charmap.Windows1252.DecodeByte(byte(c))
		if f, ok := free[byte(c)]; ok {
			r = f.r
		}
		p.runes[c], p.codes[r] = r, byte(c)
	}
	return p
})

// code is the letter's code, 0 for none.
func (p *page) code(r rune) byte {
	if r < 0 || r > maxCoded {
		return 0
	}
	return p.codes[r]
}

// Encode writes a text in the codes of the prepared fonts. It reports false where
// they lack a letter of it.
func Encode(text string) (string, bool) {
	p := coded()
	out := make([]byte, 0, len(text))
	for _, r := range text {
		c := p.code(r)
		if c == 0 {
			return "", false
		}
		out = append(out, c)
	}
	return string(out), true
}

// Prepared adds both fonts to a document that is written in the codes of Encode.
func Prepared(p *fpdf.Fpdf) {
	for i, style := range []string{"", "B"} {
		f := prepared[i]()
		p.AddFontFromBytes(Family, style, f.definition, f.packed)
	}
}

// Whole adds both fonts to a document that is written in UTF-8.
func Whole(p *fpdf.Fpdf) {
	p.AddUTF8FontFromBytes(Family, "", TTF(false))
	p.AddUTF8FontFromBytes(Family, "B", TTF(true))
}

// definition is what fpdf has to know of a font that it takes as it is.
type definition struct {
	Tp, Name     string
	Desc         fpdf.FontDescType
	Cw           []int
	Diff         string
	File         string
	OriginalSize int
}

type preparedFont struct{ definition, packed []byte }

var prepared = [2]func() preparedFont{
	sync.OnceValue(func() preparedFont { return prepare(false) }),
	sync.OnceValue(func() preparedFont { return prepare(true) }),
}

func prepare(bold bool) preparedFont {
	m, name, stem := of(bold), "LiberationSans", 87
	if bold {
		name, stem = "LiberationSans-Bold", 165
	}
	// The mark before the name says that the font was cut (ISO 32000-1, 9.6.4).
	d := definition{Tp: "TrueType", Name: "DRYHLD+" + name, Desc: m.description(), Cw: make([]int, 256), Diff: differences(), File: name + ".z"}
	d.Desc.StemV = stem // 50 + (weight/65)², common practice, no source
	var set strings.Builder
	for c, r := range coded().runes {
		if c >= firstCode {
			set.WriteRune(r)
			d.Cw[c] = int(m.width[c])
		}
	}
	file := fpdf.UTF8CutFont(TTF(bold), set.String())
	d.OriginalSize = len(file)
	text, err := json.Marshal(d)
	if err != nil {
		panic("face: the font's definition: " + err.Error()) // it holds nothing but numbers and words
	}
	var packed bytes.Buffer
	w := zlib.NewWriter(&packed)
	w.Write(file) // a bytes.Buffer takes everything
	w.Close()
	return preparedFont{text, packed.Bytes()}
}

// description is the font's measures, in thousandths of its size.
func (m *metrics) description() fpdf.FontDescType {
	const em = fixed.Int26_6(1000 << 6)
	size, err := m.font.Metrics(nil, em, font.HintingNone)
	box, err2 := m.font.Bounds(nil, em, font.HintingNone)
	if err != nil || err2 != nil {
		panic("face: the embedded font has no measures")
	}
	const nonsymbolic = 1 << 5 // ISO 32000-1, table 123
	d := fpdf.FontDescType{Ascent: size.Ascent.Round(), Descent: -size.Descent.Round(), CapHeight: size.CapHeight.Round(), Flags: nonsymbolic}
	d.FontBBox.Xmin, d.FontBBox.Xmax = box.Min.X.Floor(), box.Max.X.Ceil()
	d.FontBBox.Ymin, d.FontBBox.Ymax = -box.Max.Y.Ceil(), -box.Min.Y.Floor() // y counts down there
	return d
}

// differences names the codes that are not those of WinAnsiEncoding.
func differences() string {
	var b strings.Builder
	for c := range 256 {
		if f, ok := free[byte(c)]; ok {
			fmt.Fprintf(&b, "%d /%s ", c, f.name)
		}
	}
	return strings.TrimSpace(b.String())
}

// ToUnicode is the map from the codes to letters, for readers that copy or speak
// the text (ISO 32000-1, 9.10.3).
func ToUnicode() []byte {
	var b bytes.Buffer
	b.WriteString("/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n" +
		"/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def\n" +
		"/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n1 begincodespacerange\n<00> <FF>\nendcodespacerange\n")
	runes := coded().runes
	for c := firstCode; c < 256; c += 100 { // a block holds at most a hundred
		end := min(c+100, 256)
		fmt.Fprintf(&b, "%d beginbfchar\n", end-c)
		for i := c; i < end; i++ {
			fmt.Fprintf(&b, "<%02X> <%04X>\n", i, runes[i])
		}
		b.WriteString("endbfchar\n")
	}
	b.WriteString("endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n")
	return b.Bytes()
}

// Letters are those that have codes, in the order of these.
func Letters() []rune { return coded().runes[firstCode:] }
