package register

import (
	"archive/zip"
	"bytes"
	"fmt"
	"io"
	"iter"
	"math"
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
		Hold: &record.Hold{Decision: "pass", Cause: "leak", Inflow: true, ReadingAtLimit: record.Plain(15.4701, "Pa"), StandardUncertainty: record.Plain(1.2, "Pa"),
			Limit:    record.Plain(66.6611937, "Pa"),
			LeakRate: record.Between(1e-4, 5e-5, 2e-4, "Pa m3/s")},
		Pressure:    &record.Pressure{Decision: "fail", DecisionReason: "it fell"},
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

// TestPaper reads back how the sheets print.
func TestPaper(t *testing.T) {
	var b bytes.Buffer
	if _, err := Write(&b, some(6)); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	titles := map[string]string{}
	for _, n := range f.GetDefinedName() {
		if n.Name == "_xlnm.Print_Titles" {
			titles[n.Scope] = n.RefersTo
		}
	}
	for name, wide := range map[string]int{"records": 3, "pumps": 1, "instruments": 1} {
		props, err := f.GetSheetProps(name)
		if err != nil || props.FitToPage == nil || !*props.FitToPage {
			t.Errorf("%s: not fitted to the page: %v", name, err)
		}
		layout, err := f.GetPageLayout(name)
		if err != nil || *layout.Orientation != "landscape" || *layout.FitToWidth != wide || *layout.FitToHeight != 0 {
			t.Errorf("%s: %s, %d pages wide: %v", name, *layout.Orientation, *layout.FitToWidth, err)
		}
		if want := name + "!$A:$A," + name + "!$1:$1"; titles[name] != want {
			t.Errorf("%s: titles %q", name, titles[name])
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
		"records!A2": "J-0", "records!D2": "2031-04-09", "records!E2": `=HYPERLINK("http://x","y")`, "records!I2": "pass", "records!J2": "leak",
		"records!K2": "criterion met, but the readings show a continuing inflow: find it; pressure test fail: it fell",
		// By hand, with 133.322387415 Pa a millimetre of mercury at 0 °C (NIST SP 811, B.8): 15.4701 Pa is 116.0353 micron, u = 1.2 Pa is 9.0007
		// micron, so one decimal is left; 66.6611937 Pa is 499.99999999 micron, to a tenth 500.
		"records!L2": "116", "records!M2": "500", "records!O2": "1.0E-04", "records!P2": "5.0E-05", "records!Q2": "2.0E-04",
		"pumps!G2": "0", "pumps!G4": "2", "pumps!G6": "0", "instruments!I2": "6", "instruments!J2": "6", "instruments!B2": "0007",
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
	if formula, _ := f.GetCellFormula("records", "E2"); formula != "" {
		t.Errorf("the customer's name became the formula %s", formula)
	}
	if kind, _ := f.GetCellType("records", "E2"); kind != excelize.CellTypeInlineString && kind != excelize.CellTypeSharedString {
		t.Errorf("the customer's name is stored as %v, not as a string", kind)
	}
	if formula, _ := f.GetCellFormula("records", "W2"); formula != `HYPERLINK("records/J%200.inspector.pdf","records/J 0.inspector.pdf")` {
		t.Errorf("link: %s", formula)
	}
}

// TestUnnamedPump: what no job names comes last and is not counted as one pump.
func TestUnnamedPump(t *testing.T) {
	var b bytes.Buffer
	_, err := Write(&b, func(yield func(Entry) bool) {
		for n := range 4 {
			e := one(n)
			if n < 2 {
				e.Record.PumpCheck.Pump = ""
			}
			if !yield(e) {
				return
			}
		}
	})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for cell, want := range map[string]string{"A2": "P1", "G2": "1", "A4": "not named in the job", "G4": "", "G5": ""} {
		if got, _ := f.GetCellValue("pumps", cell); got != want {
			t.Errorf("%s: got %q, want %q", cell, got, want)
		}
	}
}

// TestRounded: by hand, after the rule of JCGM 100:2008, 7.2.6.
func TestRounded(t *testing.T) {
	for _, c := range []struct {
		x, u    float64
		figures int
		want    any
	}{
		{115.999999698925, 9.0007, asRead, 116.0}, {100.02147, 0.00035, asRead, 100.02147}, {100.02147, 0.35, asRead, 100.02},
		{123456, 7800, asRead, 123500.0}, {499.999998547, 0, asRead, 500.0}, {6.998e-6, 0, rough, 7e-6}, {0.1 + 0.2, 0, asRead, 0.3}, {0, 0, asRead, 0.0},
		{2.94835, 0, asRead, 2.948}, {math.NaN(), 1, asRead, nil}, {1, math.Inf(1), asRead, 1.0},
	} {
		if got := rounded(c.x, c.u, c.figures); got != c.want {
			t.Errorf("%v with u = %v: got %v, want %v", c.x, c.u, got, c.want)
		}
	}
}

// TestRevisions: a job's revisions have a row each, and count once for pumps and instruments.
func TestRevisions(t *testing.T) {
	var b bytes.Buffer
	twice, err := Write(&b, func(yield func(Entry) bool) {
		for _, n := range []int{1, 1, 1, 4} {
			e := one(n)
			e.Record.Inputs[0].SHA256 = fmt.Sprint(n)
			if !yield(e) {
				return
			}
		}
	})
	if err != nil || len(twice) > 0 {
		t.Fatal(err, twice)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for sheet, want := range map[string]int{"records": 5, "pumps": 3, "instruments": 2} {
		rows, err := f.GetRows(sheet)
		if err != nil || len(rows) != want {
			t.Errorf("%s has %d rows, want %d (%v)", sheet, len(rows), want, err)
		}
	}
	if jobs, _ := f.GetCellValue("instruments", "I2"); jobs != "2" {
		t.Errorf("the gauge was used in %s jobs, want 2", jobs)
	}
}

// TestSheets: filters, frozen headers and the plot are in the file.
func TestSheets(t *testing.T) {
	var b bytes.Buffer
	if _, err := Write(&b, some(6)); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	for part, want := range map[string][]string{
		"xl/worksheets/sheet1.xml": {`<autoFilter ref="$A$1:$X$7">`, `state="frozen"`, `ySplit="1"`},
		"xl/worksheets/sheet2.xml": {`<autoFilter ref="$A$1:$G$7">`, `state="frozen"`, `<drawing `},
		"xl/worksheets/sheet3.xml": {`<autoFilter ref="$A$1:$J$2">`, `state="frozen"`},
		"xl/charts/chart1.xml":     {`pumps!$B$2:$B$7`, `pumps!$D$2:$D$7`},
	} {
		f, err := z.Open(part)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range want {
			if !strings.Contains(string(text), w) {
				t.Errorf("%s has no %s", part, w)
			}
		}
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

// A record that a later revision replaced is marked, in grey; the one that counts is not.
func TestReplaced(t *testing.T) {
	var b bytes.Buffer
	revisions := func(yield func(Entry) bool) {
		for i, r := range []int{0, 2, 4, 0} {
			e := one(i / 3)
			e.Record.Job.Revision, e.Digest = r, strings.Repeat(fmt.Sprint(i), 64)
			if !yield(e) {
				return
			}
		}
	}
	if _, err := Write(&b, revisions); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	for row, want := range map[int]string{2: "revision 2", 3: "revision 4", 4: "", 5: ""} {
		at := fmt.Sprintf("C%d", row)
		got, _ := f.GetCellValue("records", at)
		day, _ := f.GetCellValue("records", fmt.Sprintf("D%d", row))
		grey := true
		for _, column := range "ADEO" {
			id, _ := f.GetCellStyle("records", fmt.Sprintf("%c%d", column, row))
			style, err := f.GetStyle(id)
			grey = grey && err == nil && style.Font != nil && style.Font.Color == "767676"
		}
		leak, _ := f.GetCellValue("records", fmt.Sprintf("O%d", row))
		if got != want || grey != (want != "") || day != "2031-04-09" || leak != "1.0E-04" {
			t.Errorf("row %d: %q, grey %v, %s, leak %s; want %q", row, got, grey, day, leak, want)
		}
	}
}
