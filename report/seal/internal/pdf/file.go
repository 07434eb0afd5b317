package pdf

import (
	"bytes"
	"errors"
	"fmt"
)

const (
	// maxObjects bounds the tables that a hostile file may ask for.
	maxObjects = 1 << 17
	// maxObject bounds an object of the first revision without its stream, in
	// bytes, since hostile ones may overlap and be read over and over.
	maxObject = 256 << 10
)

// File is a file, or the first revision of one.
type File struct {
	Trailer Dict
	// XRef is the offset of the cross-reference table.
	XRef int

	data    []byte
	offsets []int // by object number; 0 for a free one
}

// Read reads the structure of a file that has one revision and a plain
// cross-reference table, and ends with it. Objects are read when asked for.
func Read(data []byte) (*File, error) {
	start, err := startXRef(data)
	if err != nil {
		return nil, err
	}
	f := &File{data: data, XRef: start}
	p := &parser{data: data, pos: start}
	table, err := p.table()
	if err != nil {
		return nil, err
	}
	f.Trailer = table.trailer
	if f.Trailer.Get("Prev") != nil || f.Trailer.Get("XRefStm") != nil || f.Trailer.Get("Encrypt") != nil {
		return nil, errors.New("encrypted, or more than one cross-reference table")
	}
	f.offsets = make([]int, table.size)
	for num, at := range table.used {
		if at.gen != 0 {
			return nil, fmt.Errorf("object %d: its generation is not 0", num)
		}
		f.offsets[num] = at.offset
	}
	return f, nil
}

// startXRef reads the last lines of a file.
func startXRef(data []byte) (int, error) {
	tail := bytes.TrimRight(data, "\r\n ")
	at := bytes.LastIndex(tail[max(0, len(tail)-64):], []byte("startxref"))
	if at < 0 {
		return 0, errors.New("no startxref at the end of the file: not a PDF, or cut short")
	}
	p := &parser{data: data, pos: max(0, len(tail)-64) + at}
	start, err := p.endOfRevision()
	if err != nil {
		return 0, err
	}
	if start <= 0 || start >= len(data) {
		return 0, fmt.Errorf("startxref %d is outside the file", start)
	}
	if p.pos != len(tail) {
		return 0, errors.New("something follows the end of the file, %%EOF")
	}
	return start, nil
}

// endOfRevision reads startxref, the offset and %%EOF.
func (p *parser) endOfRevision() (int, error) {
	if err := p.keyword("startxref"); err != nil {
		return 0, err
	}
	start, err := p.natural()
	if err != nil {
		return 0, err
	}
	for p.pos < len(p.data) && isSpace(p.data[p.pos]) {
		p.pos++
	}
	if !p.accept("%%EOF") {
		return 0, fmt.Errorf("offset %d: expected %%%%EOF", p.pos)
	}
	return start, nil
}

// table is one cross-reference table with its trailer.
type table struct {
	used    map[int]location
	free    []int
	trailer Dict
	size    int
}

type location struct{ offset, gen int }

func (p *parser) table() (*table, error) {
	if err := p.keyword("xref"); err != nil {
		return nil, err
	}
	t := &table{used: map[int]location{}}
	for {
		p.skip()
		if p.accept("trailer") {
			break
		}
		if err := p.subsection(t); err != nil {
			return nil, err
		}
	}
	o, err := p.object(0)
	if err != nil {
		return nil, err
	}
	trailer, ok := o.(Dict)
	if !ok {
		return nil, errors.New("the trailer is not a dictionary")
	}
	t.trailer = trailer
	if t.size, _ = trailer.Get("Size").(int); t.size < 1 || t.size > maxObjects {
		return nil, errors.New("the trailer's size is missing or too large")
	}
	for num := range t.used {
		if num >= t.size {
			return nil, errors.New("the cross-reference table is larger than it says")
		}
	}
	return t, nil
}

func (p *parser) subsection(t *table) error {
	first, err := p.natural()
	if err != nil {
		return err
	}
	count, err := p.natural()
	if err != nil {
		return err
	}
	if first > maxObjects || count > maxObjects {
		return errors.New("the cross-reference table is too large")
	}
	for num := first; num < first+count; num++ {
		if err := p.entry(t, num); err != nil {
			return err
		}
	}
	return nil
}

func (p *parser) entry(t *table, num int) error {
	offset, err := p.natural()
	if err != nil {
		return err
	}
	gen, err := p.natural()
	if err != nil {
		return err
	}
	p.skip()
	_, twice := t.used[num]
	switch kind := p.word(); {
	case kind == "f":
		t.free = append(t.free, num)
	case kind != "n":
		return fmt.Errorf("object %d: unexpected entry in the cross-reference table", num)
	case twice:
		return fmt.Errorf("object %d is in the cross-reference table twice", num)
	default:
		t.used[num] = location{offset, gen}
	}
	return nil
}

// Size is one more than the highest object number.
func (f *File) Size() int { return len(f.offsets) }

// Offset is where object num begins; 0 where there is none.
func (f *File) Offset(num int) int {
	if num < 0 || num >= len(f.offsets) {
		return 0
	}
	return f.offsets[num]
}

// Object reads object num. One that is not there is null, as the standard has it.
func (f *File) Object(num int) (Object, error) {
	offset := f.Offset(num)
	if offset == 0 {
		return nil, nil
	}
	p := &parser{data: f.data[:min(len(f.data), offset+maxObject)], pos: offset, all: f.data}
	got, o, err := p.indirect()
	if err != nil {
		return nil, fmt.Errorf("object %d: %w", num, err)
	}
	if got != (Ref{Num: num}) {
		return nil, fmt.Errorf("object %d: found object %d %d in its place", num, got.Num, got.Gen)
	}
	return o, nil
}

// Resolve follows a reference, once: what it leads to must be the thing itself.
func (f *File) Resolve(o Object) (Object, error) {
	ref, ok := o.(Ref)
	if !ok {
		return o, nil
	}
	o, err := f.Object(ref.Num)
	if _, again := o.(Ref); again {
		return nil, fmt.Errorf("object %d is a reference to another", ref.Num)
	}
	return o, err
}

// Dict resolves o and demands a dictionary.
func (f *File) Dict(o Object) (Dict, error) {
	o, err := f.Resolve(o)
	if err != nil {
		return nil, err
	}
	d, ok := o.(Dict)
	if !ok {
		return nil, fmt.Errorf("found %T, expected a dictionary", o)
	}
	return d, nil
}
