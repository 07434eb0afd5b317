package readings

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
)

var (
	errQuote     = errors.New("a quotation mark opens a cell and is never closed")
	errSwallowed = errors.New("a quotation mark opens a cell, and the next rows stand between it and the one that closes it")
)

// cut splits the text into rows and cells. A quoted cell may hold separators,
// line ends and doubled quotation marks (RFC 4180); lines end in LF, CR LF or CR.
func (t *table) cut() error {
	b, sep := t.text, t.separator
	lines := bytes.Count(b, []byte{'\n'}) + bytes.Count(b, []byte{'\r'}) + 1
	cells := lines + bytes.Count(b, []byte{sep})
	if lines > 2*maxRows {
		return fmt.Errorf("the file has more than %d rows", maxRows)
	}
	if cells > maxCells {
		return fmt.Errorf("the file has more than %d cells", maxCells)
	}
	t.rows, t.cells = make([]span, 0, lines), make([]cell, 0, cells)
	var ends [256]bool // bytes that end a cell
	ends[sep], ends['\n'], ends['\r'] = true, true, true
	number := int32(0)
	for i := 0; i < len(b); {
		number++
		first := len(t.cells)
		t.rows = append(t.rows, span{uint32(first), number})
		for {
			var err error
			if i, err = t.cutCell(i, &ends); err != nil {
				return err
			}
			if i >= len(b) || b[i] != sep {
				break
			}
			i++
		}
		if len(t.cells)-first > maxColumns {
			return fmt.Errorf("row %d has more than %d columns", number, maxColumns)
		}
		if bytes.HasPrefix(b[i:], []byte("\r\n")) {
			i++
		}
		i++
	}
	if len(t.rows) > maxRows {
		return fmt.Errorf("the file has more than %d rows", maxRows)
	}
	return nil
}

// cutCell adds the cell that begins at i and returns where it ends.
func (t *table) cutCell(i int, ends *[256]bool) (int, error) {
	b, start := t.text, i
	for !t.literal && i < len(b) && b[i] == ' ' { // blanks before a quotation mark, as in: 5, "6"
		i++
	}
	if !t.literal && i < len(b) && b[i] == '"' {
		return t.quoted(i)
	}
	for i = start; i < len(b) && !ends[b[i]]; {
		i++
	}
	k := text
	if i == start {
		k = blank
	}
	t.cells = append(t.cells, cell{uint32(start), uint32(i - start), k})
	return i, nil
}

// quoted reads the cell that opens with a quotation mark at i and returns where
// it ends. Text between the closing mark and the separator is kept.
func (t *table) quoted(i int) (int, error) {
	b := t.text
	start, doubled := i+1, false
	for i = start; ; i++ {
		j := bytes.IndexByte(b[i:], '"')
		if j < 0 {
			return 0, errQuote
		}
		i += j
		if i+1 < len(b) && b[i+1] == '"' {
			doubled = true
			i++
			continue
		}
		break
	}
	end := i
	if t.swallows(b[start:end]) {
		return 0, errSwallowed
	}
	for i++; i < len(b) && b[i] != t.separator && b[i] != '\n' && b[i] != '\r'; i++ {
	}
	tail := trim(b[end+1 : i])
	if !doubled && len(tail) == 0 {
		t.cells = append(t.cells, cell{uint32(start), uint32(end - start), text})
		return i, nil
	}
	at := len(t.other)
	t.other = append(t.other, bytes.ReplaceAll(b[start:end], []byte(`""`), []byte(`"`))...)
	t.other = append(t.other, tail...)
	t.cells = append(t.cells, cell{uint32(at), uint32(len(t.other) - at), text | elsewhere})
	return i, nil
}

// swallows reports a quoted cell of several lines with a row of readings among
// them: its marks are astray. A note may have lines.
func (t *table) swallows(quoted []byte) bool {
	lines := bytes.FieldsFunc(quoted, func(r rune) bool { return r == '\n' || r == '\r' })
	return len(lines) > 1 && slices.ContainsFunc(lines[1:], func(line []byte) bool { return valueLike(line) && bytes.IndexByte(line, t.separator) >= 0 })
}
