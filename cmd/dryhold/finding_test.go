package main

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// A record that says it was signed next year: what holds is told, and the doubt.
func TestSignedInTheFuture(t *testing.T) {
	dir := t.TempDir()
	t.Setenv("DRYHOLD_CONFIG", filepath.Join(dir, "config"))
	var out, errs bytes.Buffer
	if code := run([]string{"make", "../../samples/slow-leak", "--out", dir}, nil, &out, &errs); code != 0 {
		t.Fatalf("exit code %d\n%s", code, errs.String())
	}
	for back, want := range map[time.Duration]bool{time.Hour: false, 365 * 24 * time.Hour: true} {
		v, err := (&app{now: func() time.Time { return time.Now().Add(-back) }}).verifier(nil)
		if err != nil {
			t.Fatal(err)
		}
		f := v.guarded(filepath.Join(dir, "2031-0533.warranty.pdf"))
		out.Reset()
		f.print(&out)
		if !f.Verified || strings.Contains(out.String(), "still to come") != want {
			t.Errorf("a clock %v behind:\n%s", back, out.String())
		}
	}
}
