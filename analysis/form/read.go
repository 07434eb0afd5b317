package form

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
)

// MaxFile is the greatest size of a form in bytes.
const MaxFile = 8 << 20

// maxUnzipped bounds what a form may unpack to, in bytes.
const maxUnzipped = 64 << 20

// maxRows bounds the rows of a list that are looked at.
const maxRows = 500

// jobName is what faults about the job file that a form makes are filed under.
const jobName = "job.toml"

// Filled is a form that was read.
type Filled struct {
	JobFile []byte     // the job file that it makes; nil where the workbook cannot be read
	Faults  fault.List // what the form itself shows to be wrong, by sheet and cell
	r       *reader
}

// Read turns a filled form into a job file, which is still to be checked as any
// other and to be used only where no fault stops it.
func Read(form job.File) *Filled {
	r := read(form)
	f := &Filled{Faults: r.faults, r: r}
	if r.w != nil {
		f.JobFile = r.w.bytes()
	}
	return f
}

// Cells moves what a later step found in the job file that the form made to the
// cells of the form. What the form has told of a cell is not told again.
func (f *Filled) Cells(list fault.List) fault.List {
	if f.JobFile == nil {
		return nil
	}
	var moved fault.List
	for _, one := range list {
		if one.File != jobName || !f.r.told(one) {
			moved = append(moved, f.r.moved(one))
		}
	}
	return moved
}

// All is what the form and a later step found, in the order of sheets and cells.
func (f *Filled) All(list fault.List) fault.List {
	all := append(slices.Clone(f.Faults), f.Cells(list)...)
	order := map[string]int{}
	for i, l := range lists {
		order[l.sheet] = i + 1
	}
	slices.SortStableFunc(all, func(a, b fault.Fault) int {
		ac, ar, _ := excelize.CellNameToCoordinates(a.Cell)
		bc, br, _ := excelize.CellNameToCoordinates(b.Cell)
		return cmp.Or(cmp.Compare(order[a.Sheet], order[b.Sheet]), cmp.Compare(ar, br), cmp.Compare(ac, bc))
	})
	all.Sort()
	return all
}

// read reads all sheets; w is nil where the workbook can't be read.
func read(form job.File) (r *reader) {
	r = &reader{name: form.Name, day: exampleDay}
	defer func() {
		if p := recover(); p != nil { // the workbook library on a damaged file
			r.w, r.faults = nil, fault.List{damaged(form.Name, "it cannot be read")}
		}
	}()
	if len(form.Data) > MaxFile {
		r.faults = fault.List{damaged(form.Name, "it is larger than 8 MiB")}
		return r
	}
	if why := broken(form.Data); why != "" {
		r.faults = fault.List{damaged(form.Name, why)}
		return r
	}
	f, err := excelize.OpenReader(bytes.NewReader(form.Data), excelize.Options{UnzipSizeLimit: maxUnzipped, UnzipXMLSizeLimit: maxUnzipped})
	if err != nil {
		r.faults = fault.List{damaged(form.Name, reason(err))}
		return r
	}
	defer f.Close()
	r.f, r.w = f, newWriter()
	r.main()
	for _, l := range lists {
		r.list(l)
	}
	r.renamed()
	return r
}

// renamed looks for sheets of the form under other names: what they hold would be
// passed over.
func (r *reader) renamed() {
	for _, sheet := range r.f.GetSheetList() {
		if sheet == mainSheet || slices.ContainsFunc(lists, func(l list) bool { return l.sheet == sheet }) {
			continue
		}
		all, _ := r.f.GetRows(sheet)
		for _, l := range lists {
			if columns, _ := r.header(l, all); columns != nil {
				r.add(sheet, "", "", fmt.Sprintf("a sheet of the form under another name: it was called %q", l.sheet), "the sheets under the names that they were made with")
				r.mend(fmt.Sprintf("%s as the name of the sheet", l.sheet))
			}
		}
	}
}

type reader struct {
	name   string
	f      *excelize.File
	w      *writer
	faults fault.List
	day    string // of the job, for examples
}

// main reads the sheet of single values: the key stands in the hidden column.
func (r *reader) main() {
	keys := map[string]job.Key{}
	for _, s := range sections {
		for _, k := range job.Keys(s.table) {
			keys[k.Path] = k
		}
	}
	all, err := r.f.GetRows(mainSheet)
	if err != nil {
		r.add(mainSheet, "", "", fmt.Sprintf("there is no sheet %q", mainSheet), "the sheets of the job form as they were made")
		r.faults[len(r.faults)-1].Mend = "if this is an export of an instrument, give it another name than " + r.name + "; a new form is made with: dryhold form FOLDER"
		return
	}
	found := map[string]string{}
	for i := range all {
		path, _ := r.f.GetCellValue(mainSheet, at(keyColumn, i+1))
		k, ok := keys[path]
		if !ok {
			continue
		}
		if _, twice := found[path]; twice {
			r.add(mainSheet, at("A", i+1), path, "this line stands twice on the form", "each line once")
			r.mend("everything into one of the two, and delete the other")
			continue
		}
		unit, _ := r.f.GetCellValue(mainSheet, at("C", i+1))
		found[path] = r.value(mainSheet, at("B", i+1), k, strings.TrimSpace(unit))
		r.w.places[path] = where{mainSheet, at("B", i+1)}
	}
	if len(found) == 0 {
		r.add(mainSheet, keyColumn+"1", "", "the hidden column with the keys is gone", "the sheet as the form was made")
		r.faults[len(r.faults)-1].Mend = anew
	}
	for _, s := range sections {
		r.w.table(s.table, job.Keys(s.table), found)
	}
}

// list reads an array of tables: the keys stand in the hidden row.
func (r *reader) list(l list) {
	all, err := r.f.GetRows(l.sheet)
	if err != nil || len(all) == 0 {
		return // a sheet that the office deleted holds nothing
	}
	columns, from := r.header(l, all)
	if columns == nil {
		if len(all) > 1 {
			r.add(l.sheet, "A1", "", "the hidden row with the keys is gone", "the sheet as the form was made")
			r.faults[len(r.faults)-1].Mend = anew
		}
		return
	}
	for row := from; row < len(all) && row < from+maxRows; row++ {
		values, places := map[string]string{}, map[string]where{}
		for column, k := range columns {
			cell := at(column, row+1)
			places[k.Path] = where{l.sheet, cell}
			values[k.Path] = r.value(l.sheet, cell, k, "")
		}
		r.w.element(l.table, job.Keys(l.table), values, places)
	}
	if len(all) > from+maxRows {
		r.add(l.sheet, at("A", from+maxRows+1), "", fmt.Sprintf("more than %d rows", maxRows), "a list of fewer rows")
		r.faults[len(r.faults)-1].Mend = "delete the rows that are not needed"
	}
}

// header finds the hidden row of keys: the columns, and the index of the first
// row behind it.
func (r *reader) header(l list, all [][]string) (columns map[string]job.Key, from int) {
	keys := map[string]job.Key{}
	for _, k := range job.Keys(l.table) {
		keys[k.Path] = k
	}
	for i := range min(len(all), 20) {
		for c, text := range all[i] {
			if k, ok := keys[text]; ok {
				if columns == nil {
					columns = map[string]job.Key{}
				}
				name, _ := excelize.ColumnNumberToName(c + 1)
				columns[name] = k
			}
		}
		if columns != nil {
			return columns, i + 1
		}
	}
	return nil, 0
}

func (r *reader) add(sheet, cell, key, found, expected string) {
	r.faults = append(r.faults, fault.Fault{Code: "form", File: r.name, Sheet: sheet, Cell: cell, Key: called(key), Found: found, Expected: expected})
}

// told reports whether the form has already said something of a key.
func (r *reader) told(f fault.Fault) bool {
	here := r.w.cell(f)
	for _, x := range r.faults {
		if x.Sheet == here.sheet && x.Cell == here.cell {
			return true
		}
	}
	return false
}
