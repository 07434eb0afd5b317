package seal_test

import (
	"bytes"
	"errors"
	"math/rand/v2"
	"testing"

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
	for at := from; at < from+4000; at++ {
		data := bytes.Clone(record)
		for _, by := range []byte{0x01, 0x20} { // another digit; the other case
			if data[at] = record[at] ^ by; data[at] == record[at] {
				continue
			}
			if _, err := seal.Open(data); err == nil {
				t.Fatalf("byte %d of the signature changed by %#x, and nothing was said", at-from, by)
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
		} else if err == nil && !bytes.Equal(data, record) && got.Customer == nil {
			t.Error("another record than the one that was made")
		}
	})
}
