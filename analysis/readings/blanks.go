package readings

import (
	"bytes"

	"dryhold/analysis/fault"
)

// blanks tries a text whose columns are parted by blanks: by two or more, or else
// by any. A blank in a header, between a date and its time, or in the place of a
// missing reading would shift a row's cells, so it is read only where the header
// and every row that begins with a digit have the same number of cells.
func (t *table) blanks(o Options) (*table, *layout, *fault.Fault) {
	var why *fault.Fault
	for least := 2; least > 0; least-- {
		data, rows, uneven := tabbed(headOf(t.text), least)
		if rows < 2 {
			continue // no columns
		}
		u := &table{file: t.file, separator: '\t', text: data}
		lay := u.evenHeader(o)
		if lay != nil && least == 1 && len(lay.pressures) > 1 {
			lay = nil // "Vacuum (micron)" was cut in two
		}
		if uneven == 0 && lay != nil {
			if u.text, _, uneven = tabbed(t.text, least); uneven == 0 && u.cut() == nil {
				if lay, _ = findLayout(u, o); lay != nil {
					return u, lay, nil
				}
			}
		}
		if why == nil && t.evenness() == 0 { // no other sign parts the columns
			why = &fault.Fault{Code: "blanks", File: t.file, Line: uneven, Found: "the columns are parted by blanks, and not every row has a cell for every header",
				Expected: "a comma, a semicolon or a tab between the columns", Mend: "export the readings again as CSV"}
		}
	}
	return nil, nil, why
}

// evenHeader finds the layout of a table in which the rows from the header to the
// first reading, but blank ones, have as many cells as that reading.
func (t *table) evenHeader(o Options) *layout {
	if t.cut() != nil {
		return nil
	}
	lay, _ := findLayout(t, o)
	if lay == nil || lay.header < 0 {
		return nil
	}
	first := lay.first
	for first < len(t.rows) && !digitFirst(t.trimmed(t.at(first, 0))) {
		first++
	}
	for i := lay.header; i < first; i++ {
		if first == len(t.rows) || !t.empty(i) && len(t.row(i)) != len(t.row(first)) {
			return nil
		}
	}
	return lay
}

func digitFirst(b []byte) bool { return len(b) > 0 && b[0] >= '0' && b[0] <= '9' }

// tabbed writes a tab for every run of at least so many blanks within a line. rows
// counts the lines of two or more cells that begin with a digit; uneven is the
// first of them with another number of cells than the one before, 0 for none.
func tabbed(text []byte, least int) (out []byte, rows, uneven int) {
	out = make([]byte, 0, len(text))
	cells, number := 0, 0
	for line := range bytes.Lines(text) {
		number++
		line = trim(line)
		n, run := 1, 0
		for _, c := range line {
			if c == ' ' || c == '\t' {
				run++
				continue
			}
			switch {
			case run >= least:
				out, n = append(out, '\t'), n+1
			case run > 0:
				out = append(out, ' ')
			}
			run = 0
			out = append(out, c)
		}
		out = append(out, '\n')
		if !digitFirst(line) {
			continue
		}
		if rows += min(1, n-1); cells > 0 && n != cells && uneven == 0 {
			uneven = number
		}
		cells = n
	}
	return out, rows, uneven
}
