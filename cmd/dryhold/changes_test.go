package main

import (
	"bytes"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// Of a real record, 2,000 changes of a single byte and 200 cuts: verify reports each.
func TestEveryChangeOfARecordIsReported(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("DRYHOLD_CONFIG", filepath.Join(dir, "config"))
	var out, errs bytes.Buffer
	if code := run([]string{"make", "../../samples/slow-leak", "--out", dir}, nil, &out, &errs); code != 0 {
		t.Fatalf("exit code %d\n%s", code, errs.String())
	}
	whole, err := os.ReadFile(filepath.Join(dir, "2031-0533.inspector.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	v, err := (&app{now: time.Now}).verifier(nil)
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(dir, "changed.inspector.pdf")
	if write(t, path, whole); !v.guarded(path).Verified {
		t.Fatal("the record itself does not verify")
	}
	changes, cuts := 2000, 200
	if testing.Short() {
		changes, cuts = 100, 20
	}
	r := rand.New(rand.NewPCG(3, 7)) // any fixed seed
	for range changes {
		data, at := bytes.Clone(whole), r.IntN(len(whole))
		data[at] ^= byte(1 + r.IntN(255))
		write(t, path, data)
		if f := v.guarded(path); f.Verified || f.record != nil {
			t.Errorf("byte %d changed, and verify said nothing", at)
		}
	}
	for range cuts {
		n := r.IntN(len(whole))
		write(t, path, whole[:n])
		if f := v.guarded(path); f.Verified {
			t.Errorf("cut to %d bytes, and verify said nothing", n)
		}
	}
}
