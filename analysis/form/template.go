package form

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/job"
)

// Template makes a job form, filled with what is known. The same facts give the
// same bytes.
func Template(k Known) ([]byte, error) {
	b := &builder{f: excelize.NewFile(), known: k}
	defer b.f.Close()
	b.styles()
	b.do(b.f.SetSheetName("Sheet1", mainSheet))
	b.main()
	for _, l := range lists {
		b.list(l)
	}
	b.instruments()
	b.recordings()
	for _, sheet := range b.f.GetSheetList() {
		b.paper(sheet)
	}
	b.do(b.f.SetDocProps(&excelize.DocProperties{Title: "Job form", Created: "2000-01-01T00:00:00Z", Modified: "2000-01-01T00:00:00Z"}))
	if b.err != nil {
		return nil, fmt.Errorf("job form: %w", b.err)
	}
	var out bytes.Buffer
	if err := b.f.Write(&out); err != nil {
		return nil, fmt.Errorf("job form: %w", err)
	}
	return out.Bytes(), nil
}

// font is one that spreadsheet programs have or replace by a like one.
const font = "Arial"

// builder keeps the first error, so that the steps read as a list.
type builder struct {
	known                                                             Known
	f                                                                 *excelize.File
	err                                                               error
	title, lead, free, name, required, note, head, text, day, instant int
}

func (b *builder) do(err error) {
	if b.err == nil {
		b.err = err
	}
}

func (b *builder) styles() {
	make := func(s excelize.Style) int {
		id, err := b.f.NewStyle(&s)
		b.do(err)
		return id
	}
	grid := []excelize.Border{}
	for _, side := range []string{"left", "right", "top", "bottom"} {
		grid = append(grid, excelize.Border{Type: side, Color: "A0A0A0", Style: 1})
	}
	box := func(format string) int {
		return make(excelize.Style{Font: &excelize.Font{Family: font}, Border: grid, CustomNumFmt: &format, Alignment: &excelize.Alignment{Horizontal: "left", WrapText: true, Vertical: "top"}})
	}
	top := &excelize.Alignment{Vertical: "top", WrapText: true}
	b.title = make(excelize.Style{Font: &excelize.Font{Family: font, Bold: true, Size: 13}})
	b.name = make(excelize.Style{Font: &excelize.Font{Family: font}, Alignment: top})
	b.required = make(excelize.Style{Font: &excelize.Font{Family: font, Bold: true}, Alignment: top})
	b.lead = make(excelize.Style{Font: &excelize.Font{Family: font, Italic: true, Color: "606060"}})
	b.note = make(excelize.Style{Font: &excelize.Font{Family: font, Italic: true, Color: "606060"}, Alignment: top})
	b.head = make(excelize.Style{Font: &excelize.Font{Family: font, Bold: true}, Alignment: top, Border: grid})
	asText := "@"
	b.free = make(excelize.Style{Font: &excelize.Font{Family: font}, CustomNumFmt: &asText})
	b.text, b.day, b.instant = box("@"), box("yyyy-mm-dd"), box("yyyy-mm-dd hh:mm:ss")
}

// paper makes a sheet print on pages of its own width.
func (b *builder) paper(sheet string) {
	yes, landscape, wide, tall := true, "landscape", 1, 0
	b.do(b.f.SetSheetProps(sheet, &excelize.SheetPropsOptions{FitToPage: &yes}))
	b.do(b.f.SetPageLayout(sheet, &excelize.PageLayoutOptions{Orientation: &landscape, FitToWidth: &wide, FitToHeight: &tall}))
}

func (b *builder) set(sheet, cell string, v any, style int) {
	b.do(b.f.SetCellValue(sheet, cell, v))
	b.do(b.f.SetCellStyle(sheet, cell, cell, style))
}

// main lays out the sheet of single values: label, value, unit, remark, key.
func (b *builder) main() {
	b.set(mainSheet, "A1", "Job form", b.title)
	b.set(mainSheet, "A2", "Fill column B. Fields with * are required. Save this file as job.xlsx in the folder with the exports of the instruments.", b.lead)
	row := 3
	for _, s := range sections {
		row++
		b.set(mainSheet, at("A", row), s.title, b.title)
		b.set(mainSheet, at("D", row), s.note, b.lead)
		row++
		for _, k := range job.Keys(s.table) {
			b.line(row, k)
			row++
		}
	}
	for column, width := range map[string]float64{"A": 32, "B": 42, "C": 11, "D": 62} {
		b.do(b.f.SetColWidth(mainSheet, column, column, width))
	}
	b.do(b.f.SetColVisible(mainSheet, keyColumn, false))
	b.do(b.f.SetPanes(mainSheet, &excelize.Panes{Freeze: true, YSplit: 2, TopLeftCell: "A3", ActivePane: "bottomLeft"}))
}

func (b *builder) line(row int, k job.Key) {
	name, note := label(k)
	if more := b.known.remark(k.Path); more != "" {
		note = more
	}
	style := b.name
	if k.Required {
		style = b.required
	}
	b.set(mainSheet, at("A", row), name, style)
	b.cells(mainSheet, at("B", row), at("B", row), k)
	if v := b.known.value(k.Path); v != "" {
		b.do(b.f.SetCellValue(mainSheet, at("B", row), v))
	}
	b.set(mainSheet, at(keyColumn, row), k.Path, b.note)
	if choice := units[k.Dim]; k.Kind == job.Quantity && choice != nil {
		b.set(mainSheet, at("C", row), firstUnit(k, b.known.Units), b.text)
		b.choose(mainSheet, at("C", row), choice)
	} else if k.Kind == job.Quantity && note == "" {
		note = "with unit, for example " + strings.ReplaceAll(k.Example, `"`, "")
	}
	b.set(mainSheet, at("D", row), note, b.note)
}

// cells formats a range for a key and offers its words.
func (b *builder) cells(sheet, from, to string, k job.Key) {
	style, area := b.text, from+":"+to
	switch k.Kind {
	case job.Day:
		style = b.day
	case job.Instant:
		style = b.instant
	case job.YesNo:
		b.choose(sheet, area, []string{"yes", "no"})
	}
	b.do(b.f.SetCellStyle(sheet, from, to, style))
	switch {
	case k.Kind == job.List && len(k.Words) > 0:
		b.suggest(sheet, area, k.Words)
	case len(k.Words) > 0:
		b.choose(sheet, area, k.Words)
	case k.Path == "hold.acceptance" && len(b.known.Criteria) > 0:
		b.choose(sheet, area, b.known.Criteria)
	case len(b.known.Offers[k.Path]) > 0:
		b.offer(sheet, area, b.known.Offers[k.Path])
	case k.Ref != "":
		b.refer(sheet, area, k.Ref)
	}
}

func (b *builder) choose(sheet, area string, words []string) {
	v := excelize.NewDataValidation(true)
	v.SetSqref(area)
	b.do(v.SetDropList(words))
	v.SetError(excelize.DataValidationErrorStyleStop, "Not in the list", "Choose one of: "+strings.Join(words, ", "))
	b.do(b.f.AddDataValidation(sheet, v))
}

// suggest offers words and allows several, separated by ;.
func (b *builder) suggest(sheet, area string, words []string) {
	v := excelize.NewDataValidation(true)
	v.SetSqref(area)
	b.do(v.SetDropList(words))
	v.SetError(excelize.DataValidationErrorStyleInformation, "Several", "Several are separated by ;")
	b.do(b.f.AddDataValidation(sheet, v))
}

// maxList is what a spreadsheet program takes as a list in a cell, in characters.
const maxList = 255

// offer lists words, as many as go into a cell's list, and takes others too.
func (b *builder) offer(sheet, area string, words []string) {
	length := 0
	for i, w := range words {
		if length += len(w) + 1; length > maxList {
			words = words[:i]
			break
		}
	}
	v := excelize.NewDataValidation(true)
	v.SetSqref(area)
	b.do(v.SetDropList(words))
	v.ShowErrorMessage = false
	b.do(b.f.AddDataValidation(sheet, v))
}

// refer offers the ids on the sheet of instruments or of readings.
func (b *builder) refer(sheet, area, table string) {
	v := excelize.NewDataValidation(true)
	v.SetSqref(area)
	v.SetSqrefDropList(fmt.Sprintf("'%s'!$A$%d:$A$%d", sheetOf(table), firstRow, firstRow+rows-1))
	b.do(b.f.AddDataValidation(sheet, v))
}

// The rows of a list: its note, the headers, a remark on each, the keys
// (hidden), then the data.
const (
	headRow   = 2
	remarkRow = 3
	keyRow    = 4
	firstRow  = 5
)

func (b *builder) list(l list) {
	_, err := b.f.NewSheet(l.sheet)
	b.do(err)
	for i, k := range job.Keys(l.table) {
		column, _ := excelize.ColumnNumberToName(i + 1)
		if k.Kind != job.Day && k.Kind != job.Instant {
			b.do(b.f.SetColStyle(l.sheet, column, b.free)) // below the grid serials keep their zeros too
		}
		name, note := label(k)
		if note == "" && k.Kind == job.Quantity {
			note, _, _ = strings.Cut(strings.ReplaceAll(k.Example, `"`, ""), ",")
		}
		b.set(l.sheet, at(column, headRow), name, b.head)
		b.set(l.sheet, at(column, remarkRow), strings.Replace(note, exampleDay, b.known.day(), 1), b.note)
		b.set(l.sheet, at(column, keyRow), k.Path, b.note)
		b.cells(l.sheet, at(column, firstRow), at(column, firstRow+rows-1), k)
		b.do(b.f.SetColWidth(l.sheet, column, column, 22))
	}
	b.set(l.sheet, "A1", l.note, b.lead)
	b.do(b.f.SetRowHeight(l.sheet, remarkRow, 30))
	b.do(b.f.SetRowVisible(l.sheet, keyRow, false))
	b.do(b.f.SetPanes(l.sheet, &excelize.Panes{Freeze: true, YSplit: keyRow, TopLeftCell: at("A", firstRow), ActivePane: "bottomLeft"}))
}

func at(column string, row int) string { return fmt.Sprintf("%s%d", column, row) }
