package seal_test

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"
	"gonum.org/v1/gonum/mat"

	"dryhold/report/seal"
)

func TestArchiveRefuses(t *testing.T) {
	core := fpdf.New("P", "pt", "Letter", "")
	core.AddPage()
	core.SetFont("Helvetica", "", 12)
	core.Cell(10, 10, "x")
	var coreFont bytes.Buffer
	if err := core.Output(&coreFont); err != nil {
		t.Fatal(err)
	}
	one := func(e seal.Element) func(*seal.Document) {
		return func(d *seal.Document) { d.Structure = []seal.Element{e} }
	}
	file := func(a seal.Attachment) func(*seal.Document) {
		return func(d *seal.Document) { d.Attachments = []seal.Attachment{a, a} }
	}
	good := seal.Attachment{Name: "a", MIME: "text/csv", Relationship: seal.Data}
	with := func(edit func(*seal.Attachment)) seal.Attachment { a := good; edit(&a); return a }
	marks := func(m ...seal.Marked) seal.Element { return seal.Element{Kind: "P", Content: m} }
	for _, test := range []struct {
		name string
		edit func(*seal.Document)
		want string
	}{
		{"no title", func(d *seal.Document) { d.Title = "" }, "title"},
		{"no date", func(d *seal.Document) { d.Created = time.Time{} }, "date"},
		{"not a PDF", func(d *seal.Document) { d.PDF = []byte("x") }, "not a PDF"},
		{"font not embedded", func(d *seal.Document) { d.PDF = coreFont.Bytes(); d.CustomerField, d.Structure = nil, nil }, "not embedded"},
		{"field off the pages", func(d *seal.Document) { d.CustomerField.Page = 2 }, "no area"},
		{"field without area", func(d *seal.Document) { d.CustomerField.Rect = [4]float64{9, 9, 9, 9} }, "no area"},
		{"unknown kind", one(seal.Element{Kind: "Heading"}), `"Heading"`},
		{"figure without words", one(seal.Element{Kind: "Figure"}), "in words"},
		{"content off the pages", one(marks(seal.Marked{Page: 2})), "no marked content"},
		{"content with two owners", one(marks(seal.Marked{}, seal.Marked{})), "two owners"},
		{"same name twice", file(good), "twice"},
		{"path out of the folder", file(with(func(a *seal.Attachment) { a.Name = "../a" })), "folder"},
		{"backslash", file(with(func(a *seal.Attachment) { a.Name = `a\b` })), "backslash"},
		{"media type", file(with(func(a *seal.Attachment) { a.MIME = "csv" })), "media type"},
		{"relationship", file(with(func(a *seal.Attachment) { a.Relationship = "Friend" })), "relationship"},
	} {
		doc := document(t)
		test.edit(&doc)
		if got, err := seal.Archive(doc); err == nil || got != nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: got %v, expected %q", test.name, err, test.want)
		}
	}
}

// A document without a place for a signature shows none, and is no record.
func TestUnsigned(t *testing.T) {
	data := unsigned(t)
	if bytes.Contains(data, []byte("/Sig")) || bytes.Contains(data, []byte("/AcroForm")) || !bytes.Equal(data, unsigned(t)) {
		t.Error("it has a signature, or two runs differ")
	}
	if _, err := seal.Open(data); !errors.Is(err, seal.ErrNotSealed) {
		t.Errorf("opened as a record: %v", err)
	}
	if _, err := seal.Sign(context.Background(), data, newKey(t), signed, nil); err == nil {
		t.Error("signed")
	}
}

func TestSignRefuses(t *testing.T) {
	key := newKey(t)
	archived, record := sealed(t, key, nil)
	for name, data := range map[string][]byte{"signed already": record, "not an archive": draw(t), "longer": append(bytes.Clone(archived), ' '), "nothing": nil} {
		if _, err := seal.Sign(context.Background(), data, key, signed, nil); err == nil {
			t.Errorf("%s: signed", name)
		}
	}
	if _, err := seal.Sign(context.Background(), archived, key, signed.AddDate(20, 0, 0), nil); err == nil {
		t.Error("signed outside the certificate's period")
	}
}

// The profile's colorants, worked out from the definition of sRGB: primaries and
// D65 white point of IEC 61966-2-1 (x, y), adapted to D50 with the Bradford matrix
// (Lam 1985; figures from memory). ICC profiles are exact to 1/65536;
// published figures for sRGB differ among themselves by 2e-4, from the rounding
// of the white point.
func TestProfile(t *testing.T) {
	column := func(x, y float64) []float64 { return []float64{x / y, 1, (1 - x - y) / y} }
	primaries := mat.NewDense(3, 3, nil)
	for j, c := range [][]float64{column(0.64, 0.33), column(0.30, 0.60), column(0.15, 0.06)} {
		primaries.SetCol(j, c)
	}
	d65, d50 := mat.NewVecDense(3, column(0.3127, 0.3290)), mat.NewVecDense(3, []float64{0.9642, 1, 0.8249})
	var scale, cone65, cone50 mat.VecDense
	if err := scale.SolveVec(primaries, d65); err != nil {
		t.Fatal(err)
	}
	bradford := mat.NewDense(3, 3, []float64{0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296})
	cone65.MulVec(bradford, d65)
	cone50.MulVec(bradford, d50)
	var toCone, fromCone, want mat.Dense
	toCone.Mul(bradford, primaries)
	toCone.Apply(func(i, j int, v float64) float64 { return v * scale.AtVec(j) * cone50.AtVec(i) / cone65.AtVec(i) }, &toCone)
	if err := fromCone.Inverse(bradford); err != nil {
		t.Fatal(err)
	}
	want.Mul(&fromCone, &toCone)

	profile := seal.SRGB()
	if n := binary.BigEndian.Uint32(profile); int(n) != len(profile) || string(profile[36:40]) != "acsp" {
		t.Fatalf("%d bytes, the header says %d", len(profile), n)
	}
	element := func(signature string) []byte {
		at := bytes.Index(profile[128:], []byte(signature)) + 128
		from, n := binary.BigEndian.Uint32(profile[at+4:]), binary.BigEndian.Uint32(profile[at+8:])
		return profile[from:][:n]
	}
	for j, signature := range []string{"rXYZ", "gXYZ", "bXYZ"} {
		for i := range 3 {
			got := float64(int32(binary.BigEndian.Uint32(element(signature)[8+4*i:]))) / 65536
			if math.Abs(got-want.At(i, j)) > 2e-4 {
				t.Errorf("%s[%d] = %.5f, expected %.5f", signature, i, got, want.At(i, j))
			}
		}
	}
	// sRGB 0.5 is 0.2140 of full light (IEC 61966-2-1); the curve has no point
	// there, so between 127/255 and 128/255.
	curve := element("gTRC")[12:]
	low, high := binary.BigEndian.Uint16(curve[2*127:]), binary.BigEndian.Uint16(curve[2*128:])
	if got := float64(low+high) / 2 / 65535; math.Abs(got-0.2140) > 1e-4 {
		t.Errorf("curve at 0.5: %.4f", got)
	}
}

// Attachments packed once serve several records, and give the same bytes.
func TestPack(t *testing.T) {
	doc := document(t)
	want, err := seal.Archive(doc)
	if err != nil {
		t.Fatal(err)
	}
	doc.Attachments = seal.Pack(doc.Attachments)
	if got, err := seal.Archive(doc); err != nil || !bytes.Equal(got, want) {
		t.Errorf("packed attachments gave another record: %v", err)
	}
}

// TestDeflate: a compressor that was used before gives the bytes of a new one, and
// Go's own reader finds in them what was written.
func TestDeflate(t *testing.T) {
	noise := rand.New(rand.NewPCG(1, 2))
	var texts, first [][]byte
	for _, size := range []int{0, 1, 300, 70_000, 500_000} {
		var text []byte
		for i := 0; len(text) < size; i++ {
			text = fmt.Appendf(text, "2031-04-09 12:%02d:%02d,%d,%.1f\n", i/60%60, i%60, 500+noise.IntN(40), 20+noise.Float64())
		}
		texts = append(texts, text)
		first = append(first, seal.Deflate(text))
	}
	for i := range 20 {
		k := noise.IntN(len(texts))
		got := seal.Deflate(texts[k])
		if !bytes.Equal(got, first[k]) {
			t.Fatalf("%d: %d bytes were compressed otherwise than the first time", i, len(texts[k]))
		}
		if back, err := seal.Inflate(got, len(texts[k]), 1<<20); err != nil || !bytes.Equal(back, texts[k]) {
			t.Fatalf("%d bytes: %v, or another text", len(texts[k]), err)
		}
	}
	if _, err := seal.Inflate(first[4], 1, 499_999); err == nil {
		t.Error("more than the limit was taken")
	}
}

func BenchmarkArchiveAndSign(b *testing.B) {
	doc, key := document(b), newKey(b)
	doc.Attachments = seal.Pack(doc.Attachments)
	b.ReportAllocs()
	for b.Loop() {
		archived, err := seal.Archive(doc)
		if err != nil {
			b.Fatal(err)
		}
		if _, err := seal.Sign(context.Background(), archived, key, signed, nil); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkOpen(b *testing.B) {
	_, record := sealed(b, newKey(b), nil)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := seal.Open(record); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkPack(b *testing.B) {
	list := document(b).Attachments
	for b.Loop() {
		seal.Pack(list)
	}
}
