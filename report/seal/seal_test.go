package seal_test

import (
	"bytes"
	"context"
	"testing"
	"time"

	"codeberg.org/go-fonts/liberation/liberationsansregular"
	"github.com/go-pdf/fpdf"

	"dryhold/report/seal"
)

var (
	created = time.Date(2031, 4, 9, 10, 0, 0, 0, time.UTC)
	signed  = time.Date(2031, 4, 9, 10, 5, 7, 0, time.UTC)
)

// draw makes a tagged document of two pages, as a caller does.
func draw(t testing.TB) []byte {
	t.Helper()
	p := fpdf.New("P", "pt", "Letter", "")
	p.SetCatalogSort(true)
	p.SetCreationDate(created)
	p.SetModificationDate(created)
	p.AddUTF8FontFromBytes("body", "", liberationsansregular.TTF)
	mark := func(kind string, id string, text string) {
		p.RawWriteStr("/" + kind + " <</MCID " + id + ">> BDC")
		p.CellFormat(300, 20, text, "", 1, "", false, 0, "")
		p.RawWriteStr("EMC")
	}
	p.AddPage()
	p.SetFont("body", "", 18)
	mark("H1", "0", "Evacuation record")
	p.SetFont("body", "", 11)
	mark("P", "1", "Lowest reading 48 µm; Δ ≤ 3 µm")
	mark("TH", "2", "Time")
	mark("TD", "3", "10:42")
	p.RawWriteStr("/Figure <</MCID 4>> BDC")
	p.Line(100, 300, 300, 350)
	p.RawWriteStr("EMC")
	p.SetAlpha(0.5, "Normal")
	p.LinkString(100, 400, 100, 20, "https://example.org")
	p.Bookmark("Record", 0, -1)
	p.AddPage()
	mark("P", "0", "Second page")
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func document(t testing.TB) seal.Document {
	return seal.Document{
		PDF: draw(t), Title: "Evacuation record Ü 17", Language: "en", Producer: "dryhold test", Created: created,
		Attachments: []seal.Attachment{
			{Name: "results.json", MIME: "application/json", Description: "results", Relationship: seal.Data, Data: []byte(`{"format":1}`)},
			{Name: "readings/hold µ.csv", MIME: "text/csv", Relationship: seal.Source, Data: bytes.Repeat([]byte("10:42:00,48.1\n"), 5000)},
		},
		CustomerField: &seal.Field{Page: 1, Rect: [4]float64{72.10236220472441, 100.70787401574796, 272, 150}, Label: "Customer's signature"},
		Structure: []seal.Element{
			{Kind: "H1", Content: []seal.Marked{{Page: 0, MCID: 0}}},
			{Kind: "P", Content: []seal.Marked{{Page: 0, MCID: 1}, {Page: 1, MCID: 0}}},
			{Kind: "Table", Children: []seal.Element{{Kind: "TR", Children: []seal.Element{
				{Kind: "TH", Scope: "Column", Content: []seal.Marked{{Page: 0, MCID: 2}}},
				{Kind: "TD", ColSpan: 2, Content: []seal.Marked{{Page: 0, MCID: 3}}},
			}}}},
			{Kind: "Figure", Alt: "pressure against time", Content: []seal.Marked{{Page: 0, MCID: 4}}},
		},
	}
}

func newKey(t testing.TB) *seal.Key {
	t.Helper()
	key, err := seal.NewKey("Example Cooling (invented)", created.AddDate(-1, 0, 0), created.AddDate(9, 0, 0))
	if err != nil {
		t.Fatal(err)
	}
	return key
}

func sealed(t testing.TB, key *seal.Key, stamp seal.Stamper) (archived, record []byte) {
	t.Helper()
	archived, err := seal.Archive(document(t))
	if err != nil {
		t.Fatal(err)
	}
	record, err = seal.Sign(context.Background(), archived, key, signed, stamp)
	if err != nil {
		t.Fatal(err)
	}
	return archived, record
}

func TestRoundTrip(t *testing.T) {
	key := newKey(t)
	archived, record := sealed(t, key, nil)
	again, _ := seal.Archive(document(t))
	if !bytes.Equal(archived, again) {
		t.Error("the same document gave other bytes")
	}
	got, err := seal.Open(record)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got.Unsigned, archived) {
		t.Error("the bytes before signing do not come back")
	}
	s := got.Signature
	if !s.At.Equal(signed) || !s.SelfMade || s.Stamp != nil || !s.Certificate.Equal(key.Certificate()) || got.Customer != nil {
		t.Errorf("signature %+v", s)
	}
	want := document(t).Attachments
	for i, a := range got.Attachments {
		w := want[i]
		if a.Name != w.Name || a.MIME != w.MIME || a.Description != w.Description || a.Relationship != w.Relationship || !bytes.Equal(a.Data, w.Data) {
			t.Errorf("attachment %d: got %s %s", i, a.Name, a.MIME)
		}
	}
	if len(got.Attachments) != len(want) {
		t.Errorf("%d attachments", len(got.Attachments))
	}
}
