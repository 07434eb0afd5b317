package readings

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"dryhold/analysis/fault"
)

// openText reads a text table: encoding, separator, cells, header.
func openText(name string, data []byte, o Options, in *Input, rep *report) (*table, *layout) {
	stop := func(code, found, mend string) (*table, *layout) {
		rep.add(fault.Fault{Code: code, File: name, Found: found, Mend: mend})
		return nil, nil
	}
	if len(data) > maxText {
		return stop("too-large", fmt.Sprintf("the file is larger than %d MiB", maxText>>20), "split the export, or log at a longer interval")
	}
	data, encoding, err := decode(data)
	if err != nil {
		return stop("encoding", "the text can't be read: "+err.Error(), "export the file again as CSV in UTF-8")
	}
	if len(trim(data)) == 0 {
		return stop("kind", "the file is empty", "export the readings again")
	}
	in.Encoding = encoding
	data, stated := statedSeparator(data)
	sep := stated
	if sep == 0 {
		sep = findSeparator(name, data, o)
	}
	in.Separator = map[byte]string{'\t': "tab"}[sep]
	if in.Separator == "" {
		in.Separator = string(sep)
	}
	t := &table{file: name, separator: sep, text: data}
	switch err := t.cut(); {
	case errors.Is(err, errQuote), errors.Is(err, errSwallowed):
		rep.add(fault.Fault{Code: "text", File: name, Line: int(t.rows[len(t.rows)-1].number), Found: err.Error(),
			Expected: "none, or one before and one behind a text", Mend: "export the file again; or take the mark out in a copy of the file, and keep the original beside it"})
		return nil, nil
	case err != nil:
		return stop("text", err.Error(), "export the file again, or split it")
	}
	if stated != 0 { // the "sep=" line is a row of the file
		for i := range t.rows {
			t.rows[i].number++
		}
	}
	lay, f := findLayout(t, o)
	if lay == nil && stated == 0 {
		u, l, why := t.blanks(o)
		if t, lay = u, l; l != nil {
			in.Separator = "blanks"
		} else if why != nil {
			f = *why
		}
	}
	if lay == nil {
		rep.add(f)
		return nil, nil
	}
	return t, lay
}

// statedSeparator takes off a first line "sep=;", which spreadsheet programs
// write and obey.
func statedSeparator(data []byte) ([]byte, byte) {
	if len(data) < 6 || !bytes.EqualFold(data[:4], []byte("sep=")) {
		return data, 0
	}
	sep, rest := data[4], data[5:]
	rest = bytes.TrimPrefix(rest, []byte("\r"))
	if !bytes.HasPrefix(rest, []byte("\n")) {
		return data, 0
	}
	return rest[1:], sep
}

const sniffed = 1 << 16

// headOf is the first lines of a text, enough to see its form.
func headOf(data []byte) []byte {
	if len(data) <= sniffed {
		return data
	}
	head := data[:sniffed]
	if i := bytes.LastIndexByte(head, '\n'); i > 0 {
		head = head[:i+1]
	}
	return head
}

// findSeparator takes the separator under which the head of the file has a
// header with a time and a pressure; failing that, the one that gives most rows
// the same number of cells.
func findSeparator(name string, data []byte, o Options) byte {
	head := headOf(data)
	best, bestScore := byte(','), -1
	for _, sep := range []byte{',', ';', '\t', '|'} {
		if bestScore >= 0 && bytes.IndexByte(head, sep) < 0 { // a single column is no better
			continue
		}
		t := &table{file: name, separator: sep, text: head}
		err := t.cut()
		if errors.Is(err, errQuote) || errors.Is(err, errSwallowed) { // told once the separator is known
			t.literal = true
			err = t.cut()
		}
		if err != nil { // too large under this one
			if bestScore < 0 {
				best, bestScore = sep, 0
			}
			continue
		}
		score := t.evenness()
		if lay, _ := findLayout(t, o); lay != nil {
			score += 1 << 20
		}
		if score > bestScore {
			best, bestScore = sep, score
		}
	}
	return best
}

// evenness counts the rows that have the most usual number of cells, two or more.
func (t *table) evenness() int {
	count := map[int]int{}
	most := 0
	for i := range t.rows {
		if n := len(t.row(i)); n > 1 {
			count[n]++
			most = max(most, count[n])
		}
	}
	return most
}

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
			start := i
			for i < len(b) && b[i] == ' ' && !t.literal { // blanks before a quotation mark, as in: 5, "6"
				i++
			}
			if i >= len(b) || b[i] != '"' {
				i = start
			}
			if i < len(b) && b[i] == '"' && !t.literal {
				var err error
				if i, err = t.quoted(i); err != nil {
					return err
				}
			} else {
				for i < len(b) && !ends[b[i]] {
					i++
				}
				k := text
				if i == start {
					k = blank
				}
				t.cells = append(t.cells, cell{uint32(start), uint32(i - start), k})
			}
			if i >= len(b) || b[i] != sep {
				break
			}
			i++
		}
		if len(t.cells)-first > maxColumns {
			return fmt.Errorf("row %d has more than %d columns", number, maxColumns)
		}
		if i < len(b) && b[i] == '\r' {
			i++
			if i < len(b) && b[i] == '\n' {
				i++
			}
		} else if i < len(b) {
			i++
		}
	}
	if len(t.rows) > maxRows {
		return fmt.Errorf("the file has more than %d rows", maxRows)
	}
	return nil
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
