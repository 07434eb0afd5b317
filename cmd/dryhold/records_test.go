package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// kept of each released version: a record in each language, and a copy without the
// customer; three are enough, for their pages are in the repository for ever.
var kept = []string{"2031-0533.inspector.pdf", "2031-0533.warranty.withheld.pdf", "2031-0601.homeowner.pdf"}

// TestReleasedRecords keeps the promise that records of every released version
// verify with this one. With -update it adds the records of this version.
func TestReleasedRecords(t *testing.T) {
	t.Setenv("DRYHOLD_CONFIG", t.TempDir())
	var out, errs bytes.Buffer
	if *update {
		keepRecords(t, filepath.Join("testdata", "records", version))
	}
	records, err := filepath.Glob("testdata/records/*/*.pdf")
	if err != nil {
		t.Fatal(err)
	}
	if len(records) == 0 {
		t.Skip("no version was released yet; go test ./cmd/dryhold -run Released -update keeps the records of one")
	}
	if code := run(append([]string{"verify"}, records...), nil, &out, &errs); code != 0 {
		t.Errorf("exit code %d\n%s%s", code, out.String(), errs.String())
	}
	if n := strings.Count(out.String(), "finding      verified\n"); n != len(records) {
		t.Errorf("%d of %d records verify", n, len(records))
	}
}

func keepRecords(t *testing.T, dir string) {
	made := t.TempDir()
	var out, errs bytes.Buffer
	if code := run([]string{"make", "../../samples/slow-leak", "../../samples/wet-hold", "--withhold", "customer", "--out", made}, nil, &out, &errs); code != 0 {
		t.Fatalf("exit code %d\n%s", code, errs.String())
	}
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	for _, name := range kept {
		data, err := os.ReadFile(filepath.Join(made, name))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(dir, name), data)
	}
}
