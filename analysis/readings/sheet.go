package readings

import (
	"bytes"
	"errors"
	"fmt"
)

// sheetScan reads the cells of one sheet in one pass over its XML. Numbers stay
// where they are in the XML; only rewritten text is copied.
type sheetScan struct {
	*scanner
	b   *book
	t   *table
	row int // number of the last row, from 1
	col int // columns of it so far
	ref []merge
}

type merge struct{ col, row, col2, row2 int }

// sheet reads a sheet, or says what is wrong with it.
func (b *book) sheet(ref sheetRef) (*table, error) {
	data, err := b.a.read(ref.part, maxUnpacked)
	if err != nil {
		return nil, err
	}
	t := &table{sheet: ref.name, date1904: b.date1904, other: b.shared[:len(b.shared):len(b.shared)]}
	s := &sheetScan{scanner: newScanner(data), b: b, t: t}
	t.text = s.scanner.b
	tags := bytes.Count(t.text, []byte{'<'}) // a plain cell has four
	t.rows, t.cells = make([]span, 0, min(maxRows, tags/12)), make([]cell, 0, min(maxCells, tags/4))
	if err := s.scan(); err != nil {
		return nil, err
	}
	s.spread()
	return t, nil
}

func (s *sheetScan) scan() error {
	root, inData, sawData := false, false, false
	for {
		if _, err := s.next(); err != nil {
			return err
		}
		switch {
		case s.tag == tagEOF:
			if !sawData {
				return errors.New("it holds no sheet data")
			}
			return nil
		case !root:
			if root = true; !s.is("worksheet") {
				return errors.New("it is not a worksheet")
			}
		case s.is("sheetData"):
			inData, sawData = s.tag == tagOpen, true
		case inData && s.is("row") && s.tag != tagEnd:
			if err := s.readRow(); err != nil {
				return fmt.Errorf("row %d: %w", s.row, err)
			}
		case s.is("mergeCell") && s.tag != tagEnd:
			s.readMerge()
		}
	}
}

func (s *sheetScan) readRow() error {
	number, bad := s.row+1, false
	err := eachAttr(s.attrs, func(name, value []byte) {
		if string(name) == "r" {
			n, ok := whole(value)
			number, bad = n, !ok
		}
	})
	switch {
	case err != nil:
		return err
	case bad || number <= s.row:
		return errors.New("the rows are not in order")
	case number > maxRows || len(s.t.rows) >= maxRows:
		return fmt.Errorf("more than %d rows", maxRows)
	}
	s.row, s.col = number, 0
	s.t.rows = append(s.t.rows, span{uint32(len(s.t.cells)), int32(number)})
	if s.tag == tagEmpty {
		return nil
	}
	for {
		for s.plainCell() {
		}
		if _, err := s.next(); err != nil {
			return err
		}
		switch {
		case s.tag == tagEnd:
			return nil // the tag order is checked: it can only be the row's
		case s.is("c"):
			if err := s.readCell(); err != nil {
				return err
			}
		default:
			if err := s.skip(); err != nil {
				return err
			}
		}
	}
}

// readCell reads the cell whose tag was just met.
func (s *sheetScan) readCell() error {
	col, style, kindName, err := s.cellAttrs()
	if err != nil {
		return err
	}
	if col < s.col {
		return errors.New("the cells are not in order")
	}
	if len(s.t.cells)+col-s.col >= maxCells {
		return fmt.Errorf("more than %d cells", maxCells)
	}
	for ; s.col < col; s.col++ {
		s.t.cells = append(s.t.cells, cell{})
	}
	c := cell{}
	if s.tag == tagOpen {
		if c, err = s.content(kindName, style); err != nil {
			return fmt.Errorf("cell %s%d: %w", letter(col), s.row, err)
		}
	}
	s.t.cells = append(s.t.cells, c)
	s.col = col + 1
	return nil
}

// cellAttrs reads where a cell stands, its style and its type.
func (s *sheetScan) cellAttrs() (col, style int, kindName []byte, err error) {
	col = s.col
	bad := false
	err = eachAttr(s.attrs, func(name, value []byte) {
		switch string(name) {
		case "r":
			c, row, ok := reference(value)
			col, bad = c, bad || !ok || row != s.row
		case "s":
			n, ok := whole(value)
			style, bad = n, bad || !ok
		case "t":
			kindName = value
		}
	})
	switch {
	case err != nil:
	case bad:
		err = errors.New("a cell's reference or style is wrong")
	case col >= maxColumns:
		err = fmt.Errorf("more than %d columns", maxColumns)
	case style > 0 && style >= len(s.b.dates):
		err = errors.New("a cell has a style that the workbook lacks")
	}
	return col, style, kindName, err
}

// content reads <v>, <is> and <f> up to the cell's closing tag.
func (s *sheetScan) content(kindName []byte, style int) (c cell, err error) {
	var value []byte
	have, formula := false, false
	for {
		if _, err := s.next(); err != nil {
			return c, err
		}
		switch {
		case s.tag == tagEnd:
			if !have {
				if formula && c.kind == blank {
					c.kind = unsaved
				}
				return c, nil
			}
			return s.value(string(kindName), style, value)
		case s.is("v") && s.tag == tagOpen:
			if have {
				return c, errors.New("two values")
			}
			if value, err = s.next(); err != nil {
				return c, err
			}
			if s.tag != tagEnd {
				return c, errXMLForm
			}
			have = len(value) > 0
		case s.is("is"):
			at := len(s.t.other)
			if s.t.other, err = appendString(s.t.other, s.scanner); err != nil {
				return c, err
			}
			c = cell{uint32(at), uint32(len(s.t.other) - at), text | elsewhere}
		case s.is("f"):
			formula = string(kindName) != "str"
			fallthrough
		default:
			if err := s.skip(); err != nil {
				return c, err
			}
		}
	}
}

// value makes a cell of the text of <v>.
func (s *sheetScan) value(kindName string, style int, v []byte) (cell, error) {
	k := text
	switch kindName {
	case "s":
		n, ok := whole(v)
		if !ok || n >= len(s.b.ends) {
			return cell{}, errors.New("it points to a shared string that is not there")
		}
		from := uint32(0)
		if n > 0 {
			from = s.b.ends[n-1]
		}
		return cell{from, s.b.ends[n] - from, text | elsewhere}, nil
	case "", "n":
		if k = number; style < len(s.b.dates) && s.b.dates[style] {
			k = date
		}
		if _, rest, ok := pointStyle.scan(v); !ok || len(rest) > 0 {
			return cell{}, fmt.Errorf("found %q; expected a number", clip(v))
		}
	case "e", "b": // an error; true or false, which are no numbers
		k = failed
	case "str", "d":
	default:
		return cell{}, fmt.Errorf("a cell of the unknown type %q", clip([]byte(kindName)))
	}
	if k != text || plain(v) {
		at := cap(s.t.text) - cap(v) // v is a stretch of the sheet's XML
		return cell{uint32(at), uint32(len(v)), k}, nil
	}
	at := len(s.t.other)
	var err error
	s.t.other, err = appendText(s.t.other, v)
	return cell{uint32(at), uint32(len(s.t.other) - at), k | elsewhere}, err
}
