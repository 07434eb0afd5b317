package main

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"
)

// TestReleasedRecords keeps the promise that records of every released version
// verify with this one. With -update it adds the records of this version.
func TestReleasedRecords(t *testing.T) {
	dir := filepath.Join("testdata", "records", version)
	t.Setenv("DRYHOLD_CONFIG", t.TempDir())
	var out, errs bytes.Buffer
	if *update {
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
		for _, sample := range []string{"slow-leak", "wet-hold"} {
			if code := run([]string{"make", filepath.Join("../../samples", sample), "--out", dir}, nil, &out, &errs); code != 0 {
				t.Fatalf("exit code %d\n%s", code, errs.String())
			}
		}
	}
	records, err := filepath.Glob("testdata/records/*/*.pdf")
	if err != nil {
		t.Fatal(err)
	}
	if len(records) == 0 {
		t.Skip("no version was released yet; go test ./cmd/dryhold -run Released -update keeps the records of one")
	}
	out.Reset()
	if code := run(append([]string{"verify"}, records...), nil, &out, &errs); code != 0 {
		t.Errorf("exit code %d\n%s%s", code, out.String(), errs.String())
	}
}
