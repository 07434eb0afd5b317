package readings

import (
	"bytes"
	"errors"
	"fmt"

	"dryhold/analysis/fault"
)

// openText reads a text table: encoding, separator, cells, header.
func openText(name string, data []byte, o Options, in *Input, rep *report) (*table, *layout) {
	stop := func(code, found, mend string) (*table, *layout) {
		rep.add(fault.Fault{Code: code, File: name, Found: found, Mend: mend})
		return nil, nil
	}
	if len(data) > maxText {
		return stop("size", fmt.Sprintf("the file is larger than %d MiB", maxText>>20), "split the export, or log at a longer interval")
	}
	data, encoding, err := decode(data)
	if err != nil {
		return stop("encoding", "the text can't be read: "+err.Error(), "export the file again as CSV in UTF-8")
	}
	if len(trim(data)) == 0 {
		rep.add(fault.Fault{Code: "kind", File: name, Found: "the file is empty", Expected: tables, Mend: "export the readings again"})
		return nil, nil
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
		return stop("size", err.Error(), "export the file again, or split it")
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
