package readings

import (
	"bytes"
	"compress/gzip"
	"math/rand/v2"
	"slices"
	"testing"
	"time"
)

// sameReadings compares what a damaged file gave with what the whole one gives.
func sameReadings(a, b *Series) bool {
	return a.Start.Equal(b.Start) && slices.Equal(a.T, b.T) && slices.Equal(a.P, b.P) && slices.Equal(a.Ambient, b.Ambient) && slices.Equal(a.Row, b.Row)
}

// TestDamage: a damaged workbook or gzip file is refused, or read whole and equal.
func TestDamage(t *testing.T) {
	var zipped bytes.Buffer
	z := gzip.NewWriter(&zipped)
	_, err := z.Write(makeText(3000))
	check(t, err)
	check(t, z.Close())
	for _, f := range []File{{"a.xlsx", makeBook(t, 3000)}, {"a.csv.gz", zipped.Bytes()}} {
		o := Options{Zone: time.UTC}
		whole, l := Read([]File{f}, o)
		if len(l) > 0 || whole.Len() != 3000 {
			t.Fatal(f.Name, l)
		}
		refused := 0
		try := func(what string, k int, data []byte) {
			s, l := Read([]File{{f.Name, data}}, o)
			switch {
			case s == nil && l.Stops():
				refused++
			case s == nil || l.Stops():
				t.Errorf("%s, %s %d: neither refused nor read: %v", f.Name, what, k, l)
			case !sameReadings(s, whole):
				t.Errorf("%s, %s %d: read with %d rows of %d or other values", f.Name, what, k, s.Len(), whole.Len())
			}
		}
		for k := range 100 {
			try("cut at percent", k, f.Data[:len(f.Data)*k/100])
		}
		if refused != 100 {
			t.Errorf("%s: %d of 100 truncated files were refused", f.Name, refused)
		}
		r := rand.New(rand.NewPCG(3, 1))
		for range 500 {
			data := bytes.Clone(f.Data)
			bit := r.IntN(8 * len(data))
			data[bit/8] ^= 1 << (bit % 8)
			try("flipped bit", bit, data)
		}
		// The directory at the end is small, so hit it on purpose.
		for bit := 8 * max(0, len(f.Data)-1200); bit < 8*len(f.Data); bit += 3 {
			data := bytes.Clone(f.Data)
			data[bit/8] ^= 1 << (bit % 8)
			try("flipped bit near the end", bit, data)
		}
		if refused < 400 {
			t.Errorf("%s: only %d refused", f.Name, refused)
		}
	}
}
