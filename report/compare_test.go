package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/record"
	"dryhold/report/seal"
)

// twoRecords are the job of the other tests, and a callback a month later: another
// gauge, a longer hold without an inflow that shows.
func twoRecords() (old, new Compared) {
	const micron = 0.133322387415
	pa := func(x float64) *record.Value { return record.Plain(x*micron, "Pa") }
	a, b := testRecord(), testRecord()
	j := &b.Job
	j.Number, j.Date = "CB-2031-0602", "2031-05-21"
	j.Boundary.GaugeAt, j.System.Volume = "pump side", record.Between(0.0096, 0.00816, 0.01104, "m3")
	b.Instruments[0].Serial = "INV-V-0101"
	h := *b.Hold
	h.StartPressure, h.EndPressure, h.Rise, h.ReadingAtLimit = pa(198), pa(214), pa(16), pa(208)
	h.Decision, h.Cause, h.Inflow = "pass", "none", false
	h.LeakRise, h.LeakRate = record.Between(0, 0, 0.0003, "Pa/s"), record.Between(0, 0, 3e-6, "Pa m3/s")
	b.Hold, b.Holds, b.Attempts = &h, []record.Hold{h}, nil
	for i := range b.Traces.Hold.Y {
		b.Traces.Hold.Y[i] = (198 + 16*float64(i)/float64(len(b.Traces.Hold.Y))) * micron
	}
	b.Startup.Rows[0].Value = record.Plain(8.1, "K")
	digest := testOptions("inspector").Digest
	seen := Compared{Digest: digest, Signer: "Example Mechanical (invented)", Fingerprint: "5d1f82a06c39e7145d1f82a06c39e714", SignedAt: "2031-04-09T18:00:00Z"}
	old, new = seen, seen
	old.Record, old.File, new.Record, new.File = a, "old.pdf", b, "new.pdf"
	new.Fault = "computing again gives another decision"
	return old, new
}

func compared(t *testing.T, old, new Compared, o Options) (*Drawn, []text) {
	t.Helper()
	var all []text
	o.watch = func(page int, x, y, w float64, s string) {
		one := text{page, x, y, w, s}
		if len(all) > 0 && one == all[0] {
			all = nil
		}
		all = append(all, one)
	}
	d, err := Comparison(old, new, o)
	if err != nil {
		t.Fatal(err)
	}
	if d.Pages != 1 {
		t.Errorf("%d pages", d.Pages)
	}
	return d, all
}

// TestComparison holds the text of the page with its place, in both languages.
func TestComparison(t *testing.T) {
	for _, o := range []Options{{Language: "en", Units: "us", Paper: "letter"}, {Language: "es", Units: "si", Paper: "a4"}} {
		old, new := twoRecords()
		d, all := compared(t, old, new, o)
		inside(t, o, all)
		sound(t, o, all)
		var b strings.Builder
		for _, x := range all {
			fmt.Fprintf(&b, "%.0f %.0f %s\n", x.x, x.y, x.s)
		}
		name := filepath.Join("testdata", "comparison-"+o.Language+".golden")
		if *update {
			if err := os.WriteFile(name, []byte(b.String()), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		if want, err := os.ReadFile(name); err != nil || string(want) != b.String() {
			t.Errorf("%s differs; look at the page, then run the test with -update: %v", name, err)
		}
		if n := rowHeads(d.Structure); n < 8 {
			t.Errorf("%d cells name their row", n)
		}
		again, _ := compared(t, old, new, o)
		if !bytes.Equal(d.PDF, again.PDF) {
			t.Error("two drawings differ")
		}
		if dir := os.Getenv("LOOK"); dir != "" {
			out, err := seal.Unsigned(seal.Document{PDF: d.PDF, Title: d.Title, Language: d.Language, Created: d.Created, Structure: d.Structure, ToUnicode: d.ToUnicode})
			if err != nil {
				t.Fatal(err)
			}
			os.WriteFile(filepath.Join(dir, "compare-"+o.Language+".pdf"), out, 0o644)
		}
	}
}

// rowHeads counts the cells that name a row for assistive technology.
func rowHeads(list []seal.Element) int {
	n := 0
	for _, e := range list {
		if e.Scope == "Row" {
			n++
		}
		n += rowHeads(e.Children)
	}
	return n
}

// TestComparisonOfWhatReadsTheSame has a pressure without an uncertainty that
// differs by less than the digits that are told, and one that differs by more.
func TestComparisonOfWhatReadsTheSame(t *testing.T) {
	old, new := twoRecords()
	a, b := *old.Record.Hold, new.Record.Hold
	old.Record.Hold = &a
	a.StartPressure, b.StartPressure = record.Plain(32.21, "Pa"), record.Plain(32.22, "Pa")
	a.EndPressure, b.EndPressure = record.Plain(34.21, "Pa"), record.Plain(34.42, "Pa")
	rows, err := Rows(old.Record, new.Record, Options{Language: "en", Units: "si"})
	if err != nil {
		t.Fatal(err)
	}
	found := map[string]record.Finding{}
	for _, r := range rows {
		found[r.Key] = r.Finding
	}
	if found["hold.start"] != record.Same || found["hold.end"] != record.Differs {
		t.Errorf("start %q, end %q", found["hold.start"], found["hold.end"])
	}
}

// A page holds any two records, and counts what it leaves out.
func TestComparisonOfAnything(t *testing.T) {
	old, new := twoRecords()
	bare := Compared{Record: &record.Record{Job: record.Job{Number: "B-1"}}, Digest: old.Digest}
	long := strings.Repeat("extraordinarily long and UNBROKEN", 30)
	stuffed := new
	r := testRecord()
	r.Job.Number, r.Job.Company.Name, r.Job.Boundary.Valves, r.Job.Boundary.Included = long, long, long, []string{long, long}
	for i := range 90 {
		r.Startup.Rows = append(r.Startup.Rows, record.Judged{Name: "current", Value: record.Plain(float64(i), "1"), U: record.Plain(0.01, "1")})
		r.Instruments = append(r.Instruments, r.Instruments[0])
	}
	stuffed.Record, stuffed.Signer, stuffed.File, stuffed.Fault = r, long, long, long
	twin := testRecord()
	twin.Startup.Rows = nil
	for i := range 90 {
		twin.Startup.Rows = append(twin.Startup.Rows, record.Judged{Name: "current", Value: record.Plain(float64(i+1), "1"), U: record.Plain(0.01, "1")})
	}
	other := old
	other.Record = twin
	for name, pair := range map[string][2]Compared{"bare": {bare, bare}, "one bare": {old, bare}, "stuffed": {other, stuffed}, "the same": {old, old}} {
		for _, o := range []Options{{Language: "en", Units: "us", Paper: "letter"}, {Language: "es", Units: "si", Paper: "a4"}} {
			t.Run(name+"-"+o.Language, func(t *testing.T) {
				_, all := compared(t, pair[0], pair[1], o)
				inside(t, o, all)
				sound(t, o, all)
				if counted := strings.Contains(joined(all), "Lines that do not fit") || strings.Contains(joined(all), "no caben"); counted != (name == "stuffed") {
					t.Errorf("lines left out: %v", counted)
				}
			})
		}
	}
}

func joined(all []text) string {
	var b strings.Builder
	for _, x := range all {
		b.WriteString(x.s + " ")
	}
	return b.String()
}

// absurd multiplies every number of a record's results, as a hostile signer might.
func absurd(t *testing.T, r *record.Record, by float64, behind string) *record.Record {
	t.Helper()
	data, err := r.JSON()
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]any
	if err := json.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	var walk func(v any) any
	walk = func(v any) any {
		switch v := v.(type) {
		case map[string]any:
			for k := range v {
				if k != "format" && k != "revision" && k != "confidence" && k != "readings" && k != "breaks" && k != "inputs" && k != "unit" {
					v[k] = walk(v[k])
				}
			}
		case []any:
			for i := range v {
				v[i] = walk(v[i])
			}
		case float64:
			return v * by
		case string:
			if _, err := time.Parse(time.RFC3339, v); err != nil && len(v) > 3 { // units and times stay
				return v + behind
			}
		}
		return v
	}
	data, err = json.Marshal(walk(all))
	if err != nil {
		t.Fatal(err)
	}
	out, err := record.Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestComparisonOfAbsurdNumbers(t *testing.T) {
	for by, behind := range map[float64]string{0: "", -1: "", 1e-300: "", 1e18: "", 1e299: "", -1e299: "", 1: "\u202e\U0001F600\x1b[31m漢\x00\u0085"} {
		old, new := twoRecords()
		new.Record = absurd(t, new.Record, by, behind)
		new.File, new.Signer, new.Fault = new.File+behind, new.Signer+behind, new.Fault+behind
		for _, pair := range [][2]Compared{{old, new}, {new, old}, {new, new}} {
			done := make(chan struct{})
			go func() {
				defer close(done)
				o := Options{Language: "en", Units: "us", Paper: "letter"}
				_, all := compared(t, pair[0], pair[1], o)
				inside(t, o, all)
				if behind != "" {
					for _, x := range all {
						if strings.ContainsFunc(x.s, func(r rune) bool { return !HasGlyph(r) }) {
							t.Errorf("%q cannot be drawn", x.s)
						}
					}
				} else {
					sound(t, o, all)
				}
			}()
			select {
			case <-done:
			case <-time.After(20 * time.Second):
				t.Fatalf("numbers times %g: no end", by)
			}
		}
	}
}

// FuzzComparison draws whatever can be read as results.
func FuzzComparison(f *testing.F) {
	old, new := twoRecords()
	for _, r := range []*record.Record{old.Record, new.Record, {Format: 1}} {
		if h := r.Traces.Hold; h != nil { // short, so that it is the rest that changes
			r.Traces = record.Traces{Start: r.Traces.Start, Hold: &record.Trace{T: h.T[:9], Y: h.Y[:9], Breaks: []int{4}}}
		}
		data, err := r.JSON()
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		r, err := record.Parse(data)
		if err != nil {
			return
		}
		other := old
		other.Record = r
		if d, err := Comparison(old, other, Options{Language: "en", Units: "us", Paper: "letter"}); err != nil || d.Pages != 1 {
			t.Errorf("%v, %v", d, err)
		}
	})
}
