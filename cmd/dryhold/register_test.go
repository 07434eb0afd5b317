package main

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
)

// BenchmarkRegister makes the register of a thousand records of a sample's size.
func BenchmarkRegister(b *testing.B) {
	dir := b.TempDir()
	b.Setenv("DRYHOLD_CONFIG", b.TempDir())
	if code := run([]string{"make", "../../samples/wet-hold", "--out", filepath.Join(dir, "one")}, nil, io.Discard, io.Discard); code != 0 {
		b.Fatal(code)
	}
	names, err := filepath.Glob(filepath.Join(dir, "one", "*.results.json"))
	if err != nil || len(names) != 1 {
		b.Fatal(names, err)
	}
	data, err := os.ReadFile(names[0])
	if err != nil {
		b.Fatal(err)
	}
	many := filepath.Join(dir, "many")
	if err := os.Mkdir(many, 0o777); err != nil {
		b.Fatal(err)
	}
	for i := range 1000 {
		if err := os.WriteFile(filepath.Join(many, fmt.Sprintf("N-%04d.results.json", i)), data, 0o666); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		var out bytes.Buffer
		if code := run([]string{"register", many}, nil, &out, io.Discard); code != 0 {
			b.Fatal(code, out.String())
		}
	}
}
