package issue

import (
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/place"
	"dryhold/report/seal"
)

// benchJob is a sample; DRYHOLD_BENCH_JOB names another folder.
func benchJob(b *testing.B) Source {
	b.Helper()
	dir := os.Getenv("DRYHOLD_BENCH_JOB")
	if dir == "" {
		dir = "../../../../samples/slow-leak"
	}
	jobs, _, err := Find(dir)
	if err != nil || len(jobs) != 1 {
		b.Fatal(len(jobs), "jobs", err)
	}
	return jobs[0]
}

func benchKey(b *testing.B) *seal.Key {
	b.Helper()
	k, err := seal.NewKey("Invented", time.Now().Add(-time.Hour), time.Now().Add(time.Hour))
	if err != nil {
		b.Fatal(err)
	}
	return k
}

// BenchmarkIssue is the whole of one job, from its folder to the files on the
// disk, within a process that is already warm.
func BenchmarkIssue(b *testing.B) {
	s, k := benchJob(b), benchKey(b)
	dir := b.TempDir()
	b.ReportAllocs()
	for n := 0; b.Loop(); n++ {
		out, err := place.Open(filepath.Join(dir, fmt.Sprint(n)))
		if err != nil {
			b.Fatal(err)
		}
		i := &Issuer{Software: record.Software{Name: "dryhold", Version: "0"}, Out: out, Now: time.Now,
			Key: func(string, string) (*seal.Key, error) { return k, nil }}
		if o := i.Issue(b.Context(), s); o.State != Issued {
			b.Fatal(o.State, o.Err, o.Faults)
		}
		out.Close()
	}
}
