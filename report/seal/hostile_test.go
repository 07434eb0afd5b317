package seal_test

import (
	"bytes"
	"context"
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/go-pdf/fpdf"

	"dryhold/report/seal"
)

// everyChangeShows changes bytes one at a time, and cuts the record short.
func everyChangeShows(t *testing.T, record []byte, changes, cuts int) {
	t.Helper()
	r := rand.New(rand.NewPCG(7, 16)) // any fixed seed
	known := func(err error) bool {
		return errors.Is(err, seal.ErrNotSealed) || errors.Is(err, seal.ErrAltered) || errors.Is(err, seal.ErrAppended)
	}
	for range changes {
		data := bytes.Clone(record)
		at, by := r.IntN(len(data)), byte(1+r.IntN(255))
		data[at] ^= by
		if got, err := seal.Open(data); !known(err) || got != nil {
			t.Errorf("byte %d changed by %#x: %v", at, by, err)
		}
	}
	for range cuts {
		n := r.IntN(len(record))
		if got, err := seal.Open(record[:n]); !known(err) || got != nil {
			t.Errorf("cut to %d bytes: %v", n, err)
		}
	}
}

func TestEveryChangeShows(t *testing.T) {
	_, record := sealed(t, newKey(t), nil)
	everyChangeShows(t, record, 2000, 200)
	// The signature itself is the part that no signature covers: every byte of it.
	from := bytes.Index(record, []byte("/Contents <")) + len("/Contents <")
	used := len(bytes.TrimRight(record[from:from+32<<10], "0>"))
	for at := from; at < from+used+100; at++ {
		data := bytes.Clone(record)
		for _, by := range []byte{0x01, 0x02, 0x04, 0x20} { // other digits; the other case
			data[at] = record[at] ^ by
			if _, err := seal.Open(data); err == nil {
				t.Errorf("byte %d of the signature changed by %#x, and nothing was said", at-from, by)
			}
		}
	}
}

func FuzzOpen(f *testing.F) {
	key := newKey(f)
	archived, record := sealed(f, key, nil)
	f.Add(record)
	f.Add(archived)
	f.Add(append(bytes.Clone(record), "1 0 obj\n<</A [1 2 R]>>\nendobj\nxref\n0 1\n0000000000 65535 f \ntrailer\n<</Size 2>>\nstartxref\n9\n%%EOF\n"...))
	f.Fuzz(func(t *testing.T, data []byte) {
		if got, err := seal.Open(data); (got == nil) == (err == nil) {
			t.Error("neither a record nor an error, or both")
		} else if err == nil && !bytes.Equal(got.Unsigned, archived) {
			t.Error("another record than the one that was made")
		}
	})
}

// FuzzSigned has a hostile hand sign whatever follows the signature's place.
func FuzzSigned(f *testing.F) {
	key := newKey(f)
	small := document(f)
	small.PDF, small.Structure, small.Attachments[1].Data = blank(f), nil, nil
	archived, err := seal.Archive(small)
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seal.Body(archived))
	f.Fuzz(func(t *testing.T, body []byte) {
		record, err := seal.Sign(context.Background(), seal.Forge(archived, body), key, signed, nil)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := seal.Open(record); (got == nil) == (err == nil) {
			t.Error("neither a record nor an error, or both")
		}
	})
}

// A signer can be hostile too: attachments that inflate without end are refused.
func TestInflateBomb(t *testing.T) {
	half := make([]byte, seal.MaxAttached/2+1)
	doc := document(t)
	doc.Attachments = seal.Pack([]seal.Attachment{{Name: "a", MIME: "text/plain", Relationship: seal.Data, Data: half}, {Name: "b", MIME: "text/plain", Relationship: seal.Data, Data: half}})
	if _, err := seal.Archive(doc); err == nil {
		t.Error("more was attached than is read")
	}
	for i := range doc.Attachments { // one says that it is small
		doc.Attachments[i].Data = nil
	}
	archived, err := seal.Archive(doc)
	if err != nil {
		t.Fatal(err)
	}
	record, err := seal.Sign(context.Background(), archived, newKey(t), signed, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := seal.Open(record); err == nil || !strings.Contains(err.Error(), "inflate to more") || len(record) > 10<<20 {
		t.Errorf("%d bytes inflated to more than is read: %v", len(record), err)
	}
}

// blank is a document of two pages without a font, small enough to be fuzzed.
func blank(t testing.TB) []byte {
	t.Helper()
	p := fpdf.New("P", "pt", "Letter", "")
	p.SetCatalogSort(true)
	p.SetCreationDate(created)
	p.SetModificationDate(created)
	p.AddPage()
	p.AddPage()
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}
