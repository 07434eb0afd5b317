package form

import (
	"crypto/sha256"
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
	w.line("") // for the head
	w.line(fmt.Sprintf("format = %d", job.Format))
	return w
}

func (w *writer) line(s string) { w.lines = append(w.lines, s) }

// bytes is the file under a first line with the digest of the rest. The line
// takes the place of none, so that the numbers of the others stay right.
func (w *writer) bytes() []byte {
	body := strings.Join(w.lines[1:], "\n") + "\n"
	return []byte(head(body) + "\n" + body)
}

func head(body string) string {
	sum := sha256.Sum256([]byte(body))
	return fmt.Sprintf("# made from the job form, %x: change the form, and this file follows; edited by hand, it stays", sum[:8])
}

// Made reports whether a job file is as Read made it, so that it may be made
// again from the form; one that was edited by hand may not.
func Made(jobFile []byte) bool {
	first, body, ok := strings.Cut(string(jobFile), "\n")
	return ok && first == head(body)
}

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

// cell is the cell of the form that a fault of the job file belongs to.
func (w *writer) cell(f fault.Fault) where {
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
	return place
}

// rowOf is where the cells of the [[readings]] stand that name a file.
func (w *writer) rowOf(file string) map[string]where {
	for n := range w.lines {
		places := w.rows[n+1]
		if places["readings.file"] == (where{}) {
			continue
		}
		for _, line := range w.lines[n+1:] {
			if line == "" {
				break
			}
			if strings.HasPrefix(line, "file = ") && strings.Contains(line, quote(file)) {
				return places
			}
		}
	}
	return nil
}
