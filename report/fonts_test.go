package report

import (
	"bytes"
	"regexp"
	"testing"

	"dryhold/report/face"
)

var fontName = regexp.MustCompile(`F[0-9a-f]{40}( \d+ 0 R)?`)

// The font with few runes gives the same document as the whole one, byte for
// byte but for the fonts' names inside it, and a record with letters beyond them is made from the whole one.
func TestCommonFont(t *testing.T) {
	for _, c := range []struct {
		site string
		rare bool
	}{{"1 Ångström Lane, Łódź", false}, {"1 улица Лесная", true}} {
		rec := testRecord()
		rec.Job.Site.Address = c.site
		made := func(font func(bool) []byte) ([]byte, bool) {
			b, err := newBuilder(rec, testOptions("inspector"))
			if err != nil {
				t.Fatal(err)
			}
			d := b.document()
			s := d.paint(b.layout(d.size), font)
			var out bytes.Buffer
			if err := s.pdf.Output(&out); err != nil {
				t.Fatal(err)
			}
			return fontName.ReplaceAll(out.Bytes(), nil), s.rare
		}
		whole, _ := made(face.TTF)
		common, rare := made(face.Common)
		if rare != c.rare || bytes.Equal(whole, common) == c.rare {
			t.Errorf("%s: rare %v, the same %v", c.site, rare, bytes.Equal(whole, common))
		}
		d, err := Pages(rec, testOptions("inspector"))
		if err != nil || !bytes.Equal(fontName.ReplaceAll(d.PDF, nil), whole) {
			t.Errorf("%s: the record is not that of the whole font: %v", c.site, err)
		}
	}
}
