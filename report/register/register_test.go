package register

import (
	"bytes"
	"fmt"
	"iter"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/record"
)

// one is record n of an invented firm.
func one(n int) Entry {
	changed := n%4 == 0
	return Entry{Digest: strings.Repeat("ab", 32), Link: fmt.Sprintf("records/J %d.inspector.pdf", n), Record: &record.Record{
		Job: record.Job{Number: fmt.Sprintf("J-%d", n), Date: "2031-04-09", Customer: record.Party{Name: `=HYPERLINK("http://x","y")`},
			Equipment: []record.Equipment{{Serial: "000123"}}},
		Hold: &record.Hold{Decision: "pass", Cause: "leak", Inflow: true, ReadingAtLimit: record.Plain(66.661, "Pa"),
			LeakRate: record.Between(1e-4, 5e-5, 2e-4, "Pa m3/s")},
		PumpCheck:   &record.PumpCheck{Pump: "P1", Reading: record.Plain(2.6664, "Pa"), Result: "oil serves", OilChanged: &changed},
		Instruments: []record.Instrument{{ID: "gauge", Serial: "0007", Due: "2031-01-01", Overdue: true, UsedFor: []string{"readings"}}},
		Inputs:      []record.Input{{File: "a.csv", SHA256: fmt.Sprint(n / 2)}},
	}}
}

func some(n int) iter.Seq[Entry] {
	return func(yield func(Entry) bool) {
		for i := range n {
			if !yield(one(i)) {
				return
			}
		}
	}
}

func TestWrite(t *testing.T) {
	var b bytes.Buffer
	twice, err := Write(&b, some(6))
	if err != nil {
		t.Fatal(err)
	}
	if len(twice) != 3 || fmt.Sprint(twice[0].Jobs) != "[J-0 J-1]" {
		t.Errorf("files that serve two jobs: %v", twice)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	for cell, want := range map[string]string{
		"records!A2": "J-0", "records!C2": "2031-04-09", "records!D2": `=HYPERLINK("http://x","y")`, "records!H2": "pass", "records!I2": "leak",
		"records!J2": "criterion met, but the readings show a continuing inflow: find it",
		"records!K2": "499.998547074473", // 66.661 Pa / 0.1333224 Pa a micron (mercury at 0 °C, 133.322387415 Pa a mm; NIST SP 811, B.8), by hand
		"pumps!G2":   "0", "pumps!G4": "2", "pumps!G6": "0", "instruments!I2": "6", "instruments!J2": "6", "instruments!B2": "0007",
	} {
		sheet, at, _ := strings.Cut(cell, "!")
		got, err := f.GetCellValue(sheet, at)
		if err != nil {
			t.Fatal(err)
		}
		if got != want {
			t.Errorf("%s: got %q, want %q", cell, got, want)
		}
	}
	// What a customer is called must never be a formula; our link is one.
	if formula, _ := f.GetCellFormula("records", "D2"); formula != "" {
		t.Errorf("the customer's name became the formula %s", formula)
	}
	if kind, _ := f.GetCellType("records", "D2"); kind != excelize.CellTypeInlineString && kind != excelize.CellTypeSharedString {
		t.Errorf("the customer's name is stored as %v, not as a string", kind)
	}
	if formula, _ := f.GetCellFormula("records", "V2"); formula != `HYPERLINK("records/J%200.inspector.pdf","records/J 0.inspector.pdf")` {
		t.Errorf("link: %s", formula)
	}
}

func BenchmarkTenThousand(b *testing.B) {
	for b.Loop() {
		var out bytes.Buffer
		if _, err := Write(&out, some(10_000)); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportAllocs()
}
