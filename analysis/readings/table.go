package readings

import (
	"bytes"
	"fmt"

	"dryhold/analysis/fault"
)

// Limits keep a small file from costing much memory. A workbook or a text file
// beyond them is refused with a message.
const (
	maxUnpacked = 128 << 20 // bytes of one part or of all parts together
	maxText     = 64 << 20  // bytes of a text file, unpacked
	maxCells    = 4 << 20
	maxRows     = 1 << 20
	maxColumns  = 512
)

// kind is what a cell holds.
type kind uint8

const (
	blank     kind = iota
	text                  // also every cell of a text file
	number                // a number of a workbook
	date                  // a number of a workbook shown as a date or a time
	failed                // an error value, "#DIV/0!", or true or false
	unsaved               // a formula without a stored value
	elsewhere kind = 0x80 // the bytes are in table.other
)

// cell is a stretch of bytes.
type cell struct {
	at, n uint32
	kind  kind
}

func (c cell) is() kind { return c.kind &^ elsewhere }

// span is a row: where its cells begin, and its number in the file, from 1.
type span struct {
	first  uint32
	number int32
}

// table is a text file or a sheet cut into cells, without a copy of its bytes.
type table struct {
	file, sheet string
	separator   byte // 0 for a sheet
	date1904    bool
	literal     bool   // quotation marks are text as any other
	text        []byte // the file, or the sheet's XML
	other       []byte // strings that had to be rewritten
	cells       []cell
	rows        []span
}

func (t *table) bytes(c cell) []byte {
	if c.kind&elsewhere != 0 {
		return t.other[c.at : c.at+c.n]
	}
	return t.text[c.at : c.at+c.n]
}

func (t *table) row(i int) []cell {
	end := uint32(len(t.cells))
	if i+1 < len(t.rows) {
		end = t.rows[i+1].first
	}
	return t.cells[t.rows[i].first:end]
}

// at is the cell of column col in row i; blank where the row is shorter.
func (t *table) at(i, col int) cell {
	row := t.row(i)
	if col < 0 || col >= len(row) {
		return cell{}
	}
	return row[col]
}

// trimmed is a cell's text without blanks around it.
func (t *table) trimmed(c cell) []byte {
	if c.n == 0 {
		return nil
	}
	return trim(t.bytes(c))
}

// trim cuts blanks, tabs, line and page ends and fixed spaces off both ends, and
// the byte order mark, which stands in the middle where two files were joined.
func trim(b []byte) []byte {
	for len(b) > 0 {
		switch {
		case b[0] == ' ' || b[0] >= '\t' && b[0] <= '\r':
			b = b[1:]
			continue
		case len(b) > 1 && b[0] == 0xC2 && b[1] == 0xA0:
			b = b[2:]
			continue
		case b[0] == 0xEF && bytes.HasPrefix(b, byteOrderMark):
			b = b[len(byteOrderMark):]
			continue
		}
		break
	}
	for len(b) > 0 {
		n := len(b)
		switch {
		case b[n-1] == ' ' || b[n-1] >= '\t' && b[n-1] <= '\r':
			b = b[:n-1]
			continue
		case n > 1 && b[n-2] == 0xC2 && b[n-1] == 0xA0:
			b = b[:n-2]
			continue
		}
		break
	}
	return b
}

// byteOrderMark begins some files in UTF-8 (U+FEFF).
var byteOrderMark = []byte("\xef\xbb\xbf")

// filled reports a cell with text, or with a formula.
func (t *table) filled(c cell) bool { return c.is() == unsaved || len(t.trimmed(c)) > 0 }

// empty reports a row without any text.
func (t *table) empty(i int) bool {
	for _, c := range t.row(i) {
		if t.filled(c) {
			return false
		}
	}
	return true
}

// letter is the spreadsheet's name of column col, counted from 0.
func letter(col int) string {
	s := ""
	for col++; col > 0; col = (col - 1) / 26 {
		s = string(rune('A'+(col-1)%26)) + s
	}
	return s
}

// correctCell is what to do about a cell: the file is the evidence.
const correctCell = "export again, or correct the cell in a copy of the file and keep the original beside it"

// cellFault is a fault of one cell: `evac.csv:17: column C "Vacuum": found ...`.
func (t *table) cellFault(code string, i, col int, head, expected, mend string) fault.Fault {
	f := fault.Fault{Code: code, File: t.file, Sheet: t.sheet, Expected: expected, Mend: mend}
	if t.separator == 0 {
		f.Cell = fmt.Sprintf("%s%d", letter(col), t.rows[i].number)
	} else {
		f.Line = int(t.rows[i].number)
	}
	f.Found = fmt.Sprintf("column %s %q: found %q", letter(col), head, clip(t.trimmed(t.at(i, col))))
	return f
}

// clip keeps a message readable.
func clip(b []byte) string {
	r := []rune(string(b))
	if len(r) > 60 {
		return string(r[:60]) + "..."
	}
	return string(r)
}

// unsavedFault is for a formula whose result was never stored.
func (t *table) unsavedFault(i, col int, head string) fault.Fault {
	f := t.cellFault("formula", i, col, head, "a formula with its result stored", "open the workbook in a spreadsheet program and save it again")
	f.Found = fmt.Sprintf("column %s %q: a formula without a stored result", letter(col), head)
	return f
}
