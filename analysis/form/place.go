package form

import (
	"encoding/xml"
	"fmt"
	"strconv"

	"github.com/xuri/excelize/v2"
)

// misplaced says which row or cell of a sheet does not stand where it says. The
// library drops the sheet from there on, without a word.
type misplaced string

func (m misplaced) Error() string { return string(m) }

// walk follows the rows and cells of one sheet, from 1.
type walk struct{ row, col int }

// element looks where a row or a cell stands (ECMA-376 part 1, 18.3.1.73 and
// 18.3.1.4): one that leaves it out follows the one before.
func (w *walk) element(e xml.StartElement) error {
	at := ""
	for _, a := range e.Attr {
		if a.Name.Local == "r" {
			at = a.Value
		}
	}
	switch e.Name.Local {
	case "row":
		before := w.row
		w.row, w.col = before+1, 0
		if at == "" {
			return nil
		}
		n, err := strconv.Atoi(at)
		if err != nil || n <= before || n > excelize.TotalRows {
			return misplaced(fmt.Sprintf("a row with the number %q stands behind row %d", at, before))
		}
		w.row = n
	case "c":
		before := w.col
		w.col++
		if at == "" {
			return nil
		}
		col, row, err := excelize.CellNameToCoordinates(at)
		if err != nil || row != w.row || col <= before {
			return misplaced(fmt.Sprintf("row %d has a cell with the reference %q", w.row, at))
		}
		w.col = col
	}
	return nil
}
