package form

import (
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/job"
)

// Known is what a form is filled with when it is made.
type Known struct {
	Instruments []job.Instrument // the firm's
	Recordings  []job.Recording  // found in the job's folder
	Criteria    []string         // the names that hold.acceptance takes
	Units       string           // the firm's, "us" or "si"; empty is "us"

	Offers map[string][]string // by key: what a cell offers beside what else may be written
}

// value is what stands in a single cell at first, "" for nothing.
func (k Known) value(path string) string {
	switch path {
	case "evacuation.readings", "hold.readings":
		return job.LastOf("vacuum", k.Recordings).ID
	case "pressure_test.readings":
		return job.LastOf("pressure", k.Recordings).ID
	}
	return ""
}

// exampleDay stands in examples where no day of the job is known.
const exampleDay = "2031-04-09"

// day is that of the first reading, for examples.
func (k Known) day() string {
	if day := job.Begun(k.Recordings); !day.IsZero() {
		return day.Format(time.DateOnly)
	}
	return exampleDay
}

// remark stands beside a cell that the recordings say something about. The date
// is not written into the cell: an instrument's clock may be wrong.
func (k Known) remark(path string) string {
	if path == "job.date" && !job.Begun(k.Recordings).IsZero() {
		return "the readings begin on " + k.day()
	}
	return ""
}

// instruments fills the sheet with those of company.toml.
func (b *builder) instruments() {
	for i, in := range b.known.Instruments {
		values := map[string]any{"id": in.ID, "measures": in.Measures, "principle": in.Principle, "range": in.Range.Text, "maker": in.Maker,
			"model": in.Model, "serial": in.Serial, "certificate": in.Certificate, "check": in.Check, "accuracy": in.Accuracy.Text,
			"resolution": in.Resolution.Text, "zero_stability": in.ZeroStability.Text}
		if in.Calibrated.Given() {
			values["calibrated"] = in.Calibrated.Format(time.DateOnly)
		}
		if in.Due.Given() {
			values["due"] = in.Due.Format(time.DateOnly)
		}
		b.row("instrument", i, values)
	}
}

// recordings lists the exports that lie beside the form, and behind the last
// column what was understood of each.
func (b *builder) recordings() {
	sheet := sheetOf("readings")
	last, _ := excelize.ColumnNumberToName(len(job.Keys("readings")) + 1)
	for i, r := range b.known.Recordings {
		b.row("readings", i, map[string]any{"id": r.ID, "file": strings.Join(r.Files, "; "), "sheet": r.Sheet, "instrument": r.Instrument})
		found := "not understood yet; dryhold check says why"
		if r.Columns != "" {
			found = strings.TrimPrefix(r.Span()+"; "+r.Columns, "; ")
		}
		b.set(sheet, at(last, headRow), "Found in the file", b.head)
		b.set(sheet, at(last, firstRow+i), found, b.lead)
		b.do(b.f.SetColWidth(sheet, last, last, 90))
	}
}

// row fills the cells of row i of a list, by key.
func (b *builder) row(table string, i int, values map[string]any) {
	for n, k := range job.Keys(table) {
		column, _ := excelize.ColumnNumberToName(n + 1)
		if v, ok := values[strings.TrimPrefix(k.Path, table+".")]; ok && v != "" {
			b.do(b.f.SetCellValue(sheetOf(table), at(column, firstRow+i), v))
		}
	}
}

// sheetOf is the sheet of a list.
func sheetOf(table string) string {
	for _, l := range lists {
		if l.table == table {
			return l.sheet
		}
	}
	return ""
}
