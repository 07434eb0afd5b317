package readings

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"errors"
	"io"
	"testing"
	"time"
)

const benchRows = 86400

func BenchmarkBook(b *testing.B) {
	data := makeBook(b, benchRows)
	b.Run("inflate", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
			check(b, err)
			for _, f := range z.File {
				r, err := f.Open()
				check(b, err)
				_, err = io.Copy(io.Discard, r)
				check(b, err)
			}
		}
	})
	b.Run("read", func(b *testing.B) { benchRead(b, File{"a.xlsx", data}) })
}

func BenchmarkText(b *testing.B) {
	data := makeText(benchRows)
	b.Run("csv", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			r := csv.NewReader(bytes.NewReader(data))
			r.ReuseRecord = true
			for {
				if _, err := r.Read(); errors.Is(err, io.EOF) {
					break
				} else if err != nil {
					b.Fatal(err)
				}
			}
		}
	})
	b.Run("read", func(b *testing.B) { benchRead(b, File{"a.csv", data}) })
}

func benchRead(b *testing.B, f File) {
	b.ReportAllocs()
	for b.Loop() {
		s, l := Read([]File{f}, Options{Zone: time.UTC, RangeHigh: 3333})
		if len(l) > 0 || s.Len() != benchRows {
			b.Fatal(l)
		}
	}
}
