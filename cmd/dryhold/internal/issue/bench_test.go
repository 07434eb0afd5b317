package issue

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/go-pdf/fpdf"

	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/place"
	"dryhold/report/face"
	"dryhold/report/seal"
)

// The stages of one job, each alone and then all together, within a process that
// is already warm. The job is a sample; DRYHOLD_BENCH_JOB names another folder.

type bench struct {
	source Source
	root   *os.Root
	firm   Firm
	key    *seal.Key
}

const benchAudience = "inspector"

func newBench(b *testing.B) *bench {
	b.Helper()
	dir := os.Getenv("DRYHOLD_BENCH_JOB")
	if dir == "" {
		dir = "../../../../samples/slow-leak"
	}
	jobs, _, err := Find(dir)
	if err != nil || len(jobs) != 1 {
		b.Fatal(len(jobs), "jobs", err)
	}
	t := &bench{source: jobs[0]}
	if t.root, err = os.OpenRoot(t.source.Dir); err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { t.root.Close() })
	if t.firm, err = Nearest(t.source.Dir); err != nil {
		b.Fatal(err)
	}
	if t.key, err = seal.NewKey("Invented", time.Now().Add(-time.Hour), time.Now().Add(time.Hour)); err != nil {
		b.Fatal(err)
	}
	b.ReportAllocs()
	return t
}

func (t *bench) load(b *testing.B) *Work {
	w, faults := Load(t.root.FS(), t.firm)
	if faults.Stops() {
		b.Fatal(faults)
	}
	return w
}

func (t *bench) done(b *testing.B) *Work {
	w := t.load(b)
	if faults := w.run(record.Software{Name: "dryhold", Version: "0"}, 1); faults.Stops() {
		b.Fatal(faults)
	}
	return w
}

func (t *bench) archive(b *testing.B, w *Work) []byte {
	archived, _, err := w.Archive(benchAudience, SignerOf(t.key.Certificate()))
	if err != nil {
		b.Fatal(err)
	}
	return archived
}

// BenchmarkLoad reads the job and its readings, and packs the files for the record.
func BenchmarkLoad(b *testing.B) {
	t := newBench(b)
	for b.Loop() {
		t.load(b)
	}
}

// BenchmarkAnalyse works the job out and writes results.json.
func BenchmarkAnalyse(b *testing.B) {
	t := newBench(b)
	w := t.load(b)
	for b.Loop() {
		if faults := w.run(record.Software{Name: "dryhold", Version: "0"}, 1); faults.Stops() {
			b.Fatal(faults)
		}
	}
}

// BenchmarkArchive lays out and draws one record and makes it archival.
func BenchmarkArchive(b *testing.B) {
	t := newBench(b)
	w := t.done(b)
	for b.Loop() {
		t.archive(b, w)
	}
}

// BenchmarkSeal signs the record and reads it back.
func BenchmarkSeal(b *testing.B) {
	t := newBench(b)
	archived := t.archive(b, t.done(b))
	i := &Issuer{Now: time.Now}
	for b.Loop() {
		if _, err := i.seal(context.Background(), archived, t.key); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkVerify opens a sealed record and computes and draws it again.
func BenchmarkVerify(b *testing.B) {
	t := newBench(b)
	i := &Issuer{Now: time.Now}
	signed, err := i.seal(context.Background(), t.archive(b, t.done(b)), t.key)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s, err := seal.Open(signed)
		if err != nil {
			b.Fatal(err)
		}
		if c := Recompute(s, record.Software{Name: "dryhold", Version: "0"}, benchAudience); c.Err != nil || !c.Identical {
			b.Fatal(c.Err)
		}
	}
}

// BenchmarkFloors is what no program of this kind can leave out: a document with
// two fonts, one signature, and a file that is on the disk for certain.
func BenchmarkFloors(b *testing.B) {
	b.Run("fonts", func(b *testing.B) {
		for b.Loop() {
			p := fpdf.New("P", "pt", "A4", "")
			face.Prepared(p)
			p.AddPage()
			p.SetFont(face.Family, "", 9)
			p.Text(50, 50, "The quick brown fox jumps over the lazy dog 0123456789")
			p.SetFont(face.Family, "B", 9)
			p.Text(50, 70, "The quick brown fox jumps over the lazy dog 0123456789")
			if err := p.Output(io.Discard); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("signature", func(b *testing.B) {
		key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
		if err != nil {
			b.Fatal(err)
		}
		digest := sha256.Sum256([]byte("a record"))
		for b.Loop() {
			if _, err := ecdsa.SignASN1(rand.Reader, key, digest[:]); err != nil {
				b.Fatal(err)
			}
		}
	})
	b.Run("disk", func(b *testing.B) {
		data := make([]byte, 200<<10)
		for b.Loop() {
			f, err := os.Create(filepath.Join(b.TempDir(), "record"))
			if err != nil {
				b.Fatal(err)
			}
			_, err = f.Write(data)
			if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
				b.Fatal(err)
			}
		}
	})
}

// BenchmarkIssue is the whole of one job, from its folder to files on the disk.
func BenchmarkIssue(b *testing.B) {
	t := newBench(b)
	dir := b.TempDir()
	for n := 0; b.Loop(); n++ {
		out, err := place.Open(filepath.Join(dir, fmt.Sprint(n)))
		if err != nil {
			b.Fatal(err)
		}
		i := &Issuer{Software: record.Software{Name: "dryhold", Version: "0"}, Out: out, Now: time.Now,
			Key: func(string, string) (*seal.Key, error) { return t.key, nil }}
		if o := i.Issue(context.Background(), t.source); o.State != Issued {
			b.Fatal(o.State, o.Err, o.Faults)
		}
		out.Close()
	}
}
