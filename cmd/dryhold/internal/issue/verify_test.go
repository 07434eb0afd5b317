package issue

import (
	"bytes"
	"context"
	"os"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/record"
	"dryhold/report/seal"
)

var now = record.Software{Name: "Dryhold", Version: "2.0.0"}

// sampleWork is a sample, worked out by a version.
func sampleWork(t *testing.T, sample, version string) *Work {
	t.Helper()
	dir := "../../../../samples/" + sample
	firm, err := Nearest(dir)
	if err != nil {
		t.Fatal(err)
	}
	w, faults := Load(os.DirFS(dir), firm)
	if !faults.Stops() {
		faults = w.run(record.Software{Name: now.Name, Version: version}, 0)
	}
	if faults.Stops() {
		t.Fatal(faults)
	}
	return w
}

// signedBy seals what the work says, true or not, with a good key.
func signedBy(t *testing.T, w *Work) *seal.Sealed {
	t.Helper()
	at := time.Date(2031, 6, 1, 12, 0, 0, 0, time.UTC)
	key, err := seal.NewKey("Invented", at.Add(-time.Hour), at.Add(time.Hour))
	if err != nil {
		t.Fatal(err)
	}
	archived, _, err := w.Archive("inspector", SignerOf(key.Certificate()))
	if err != nil {
		t.Fatal(err)
	}
	data, err := seal.Sign(context.Background(), archived, key, at, nil)
	if err != nil {
		t.Fatal(err)
	}
	sealed, err := seal.Open(data)
	if err != nil {
		t.Fatal(err)
	}
	return sealed
}

// rewrite changes what the results say, and what the pages are drawn from.
func (w *Work) rewrite(t *testing.T, old, new string) {
	t.Helper()
	if !bytes.Contains(w.Results, []byte(old)) {
		t.Fatalf("no %s in the results", old)
	}
	w.Results = bytes.Replace(w.Results, []byte(old), []byte(new), 1)
	var err error
	if w.Record, err = record.Parse(w.Results); err != nil {
		t.Fatal(err)
	}
}

// A holder of a key signs what the readings do not give; every signature holds.
func TestDoctored(t *testing.T) {
	for _, c := range []struct {
		name string
		edit func(w *Work)
		want string
	}{
		{"as it is", func(w *Work) {}, ""},
		{"another cause", func(w *Work) { w.rewrite(t, `"cause": "leak"`, `"cause": "none"`) }, "the same version computes other results"},
		{"another number of the site", func(w *Work) { w.rewrite(t, `27 Cooper`, `72 Cooper`) }, "the same version computes other results"},
		{"another page", func(w *Work) { w.Record.Hold.Cause = "none" }, "the pages are not those"},
		{"the readings of another record", func(w *Work) {
			other := sampleWork(t, "wet-hold", now.Version)
			for i := range w.Files {
				for _, f := range other.Files {
					if strings.HasSuffix(w.Files[i].Name, ".csv") && strings.HasSuffix(f.Name, ".csv") {
						w.Files[i].Data = f.Data
					}
				}
			}
			w.Files = seal.Pack(withoutPacks(w.Files))
		}, "the same version computes other results"},
		{"results without end", func(w *Work) { w.Results = append([]byte(`{"format":1,"x":[0`), bytes.Repeat([]byte(",0"), 10<<20)...) }, "more than the 16 that are read"},
		{"no results", func(w *Work) { w.Results = []byte("{}") }, "format 0"},
		{"no job", func(w *Work) { w.Files = w.Files[1:] }, "the attached job cannot be read"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := sampleWork(t, "slow-leak", now.Version)
			c.edit(w)
			got := Recompute(signedBy(t, w), now, "inspector")
			if c.want == "" && (got.Err != nil || !got.Identical || got.Audience != "inspector") {
				t.Errorf("refused: %v", got.Err)
			}
			if c.want != "" && (got.Err == nil || !strings.Contains(got.Err.Error(), c.want)) {
				t.Errorf("got %v, expected %q", got.Err, c.want)
			}
		})
	}
}

func withoutPacks(list []seal.Attachment) []seal.Attachment {
	var out []seal.Attachment
	for _, a := range list {
		out = append(out, seal.Attachment{Name: a.Name, MIME: a.MIME, Description: a.Description, Relationship: a.Relationship, Data: a.Data})
	}
	return out
}

// A record of an earlier version, whose numbers the present one has otherwise: what
// differs is named, and only a decision, a cause or a value outside its interval counts.
func TestEarlierVersion(t *testing.T) {
	for _, c := range []struct {
		name, old, new string
		differences    int
		want           string
	}{
		{"the same", `"version": "1.0.0"`, `"version": "1.0.0"`, 0, ""},
		{"a note in other words", `"text": "`, `"text": "formerly: `, 1, ""},
		{"another cause", `"cause": "leak"`, `"cause": "none"`, 1, "nothing has changed since it was signed, but version 2.0.0 computes another decision or cause"},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := sampleWork(t, "slow-leak", "1.0.0")
			w.rewrite(t, c.old, c.new)
			got := Recompute(signedBy(t, w), now, "inspector")
			if got.SameVersion || len(got.Differences) < c.differences || c.want == "" && got.Err != nil ||
				c.want != "" && (got.Err == nil || !strings.Contains(got.Err.Error(), c.want) || !strings.Contains(got.Err.Error(), "version 1.0.0 did")) {
				t.Errorf("%d differences, error %v", len(got.Differences), got.Err)
			}
		})
	}
}

// More than a record can carry is a fault before anything is worked out.
func TestTooLarge(t *testing.T) {
	w := &Work{}
	w.attach("a.csv", "readings", make([]byte, seal.MaxAttached/2))
	if f := w.tooLarge(); f != nil {
		t.Errorf("half of it: %v", f)
	}
	w.attach("b.csv", "readings", make([]byte, seal.MaxAttached/2))
	if f := w.tooLarge(); f == nil || !strings.Contains(f.Error(), "256 MB together") {
		t.Errorf("got %v", f)
	}
}
