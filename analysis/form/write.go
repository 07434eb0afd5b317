package form

import (
	"fmt"
	"strings"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
)

// where is a cell of the form.
type where struct{ sheet, cell string }

// writer makes the job file and remembers which cell each line came from.
type writer struct {
	lines  []string
	cells  map[int]where            // by line, from 1
	places map[string]where         // by key, of the single values, empty ones too
	rows   map[int]map[string]where // by the line of a [[table]]: its keys' cells
}

func newWriter() *writer {
	w := &writer{cells: map[int]where{}, places: map[string]where{}, rows: map[int]map[string]where{}}
	w.line("# made from the job form; the form is the place to change it")
	w.line(fmt.Sprintf("format = %d", job.Format))
	return w
}

func (w *writer) line(s string) { w.lines = append(w.lines, s) }

func (w *writer) bytes() []byte { return []byte(strings.Join(w.lines, "\n") + "\n") }

// table writes a section where any of its values is given.
func (w *writer) table(table string, keys []job.Key, values map[string]string) {
	if !anyOf(values, keys) {
		return
	}
	w.line("")
	w.line("[" + table + "]")
	w.pairs(keys, values, w.places)
}

// element writes one row of a list.
func (w *writer) element(table string, keys []job.Key, values map[string]string, places map[string]where) {
	if !anyOf(values, keys) {
		return
	}
	w.line("")
	w.line("[[" + table + "]]")
	w.rows[len(w.lines)] = places
	w.pairs(keys, values, places)
}

func anyOf(values map[string]string, keys []job.Key) bool {
	for _, k := range keys {
		if values[k.Path] != "" {
			return true
		}
	}
	return false
}

func (w *writer) pairs(keys []job.Key, values map[string]string, places map[string]where) {
	for _, k := range keys {
		if v := values[k.Path]; v != "" {
			w.line(k.Path[strings.LastIndexByte(k.Path, '.')+1:] + " = " + v)
			w.cells[len(w.lines)] = places[k.Path]
		}
	}
}

// cell moves a fault from a line of the job file to the cell of the form.
func (w *writer) cell(f fault.Fault) fault.Fault {
	place, ok := w.cells[f.Line]
	if !ok {
		place, ok = w.rows[f.Line][f.Key]
	}
	if !ok {
		place, ok = w.places[f.Key]
	}
	if !ok {
		place = where{sheet: mainSheet}
	}
	f.Sheet, f.Cell, f.Line, f.Column = place.sheet, place.cell, 0, 0
	if f.Code == "required" {
		f.Mend = "fill this cell"
	}
	return f
}
