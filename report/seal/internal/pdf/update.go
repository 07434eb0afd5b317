package pdf

import (
	"errors"
	"fmt"
)

// Update is the one incremental update after a signed revision
// (ISO 32000-1, 7.5.6).
type Update struct {
	// Objects are those that the update writes, by number.
	Objects map[int]Updated
	Trailer Dict
}

// Updated is an object of an update.
type Updated struct {
	Value Object
	Gen   int
}

// ReadUpdate reads what follows base in data. It accounts for every byte: white
// space, comments, objects that the cross-reference table lists and nothing
// else, one table, one trailer. So there is nothing in it that another reader
// could take for something else.
func ReadUpdate(base *File, data []byte) (*Update, error) {
	start, err := startXRef(data)
	if err != nil {
		return nil, err
	}
	if start < len(base.data) {
		return nil, errors.New("what was added has no cross-reference table of its own")
	}
	tp := &parser{data: data, pos: start}
	if !tp.has("xref") {
		return nil, errors.New("the added revision has a cross-reference stream; only a plain table is read")
	}
	t, err := tp.table()
	if err != nil {
		return nil, err
	}
	if again, err := tp.endOfRevision(); err != nil || again != start {
		return nil, errors.New("the end of the added revision is not where it should be")
	}
	if tp.skip(); tp.pos != len(data) {
		return nil, errors.New("something follows the end of the added revision")
	}
	u := &Update{Objects: map[int]Updated{}, Trailer: t.trailer}
	if err := u.checkTable(base, t); err != nil {
		return nil, err
	}
	return u, u.walk(base, t, data, start)
}

// walk reads objects up to the table.
func (u *Update) walk(base *File, t *table, data []byte, end int) error {
	p := &parser{data: data[:end], pos: len(base.data)}
	p.length = func(ref Ref) Object { return lengthAt(data[:end], t.used[ref.Num], ref) }
	for p.skip(); p.pos < end; p.skip() {
		from := p.pos
		ref, o, err := p.indirect()
		if err != nil {
			return err
		}
		if at, ok := t.used[ref.Num]; !ok || at != (location{from, ref.Gen}) {
			return fmt.Errorf("object %d is not where the cross-reference table has it", ref.Num)
		}
		u.Objects[ref.Num] = Updated{o, ref.Gen}
	}
	for num, at := range t.used {
		if _, ok := u.Objects[num]; !ok && at != (location{base.Offset(num), 0}) {
			return fmt.Errorf("object %d is not where the cross-reference table has it", num)
		}
	}
	return nil
}

// lengthAt reads a stream's length that is an object of its own: a few digits, so
// that many streams cannot share one that takes long to read.
func lengthAt(data []byte, at location, ref Ref) Object {
	if at.offset <= 0 || at.offset >= len(data) {
		return nil
	}
	p := &parser{data: data[at.offset:min(len(data), at.offset+64)]}
	got, o, err := p.indirect()
	if err != nil || got != ref {
		return nil
	}
	return o
}

// checkTable refuses an update that takes objects away, and a trailer that leads
// elsewhere.
func (u *Update) checkTable(base *File, t *table) error {
	for _, num := range t.free {
		if base.Offset(num) != 0 {
			return fmt.Errorf("object %d is taken away", num)
		}
	}
	for _, e := range t.trailer {
		switch e.Key {
		case "Size", "ID":
		case "Prev":
			if e.Value != Object(base.XRef) {
				return errors.New("the added revision does not follow the signed one")
			}
		case "Root", "Info":
			if !Equal(e.Value, base.Trailer.Get(e.Key)) {
				return fmt.Errorf("the trailer's %s was changed", e.Key)
			}
		default:
			return fmt.Errorf("the trailer has an entry %q that it should not have", e.Key)
		}
	}
	if t.trailer.Get("Prev") == nil || t.trailer.Get("Root") == nil {
		return errors.New("the added revision does not follow the signed one")
	}
	return nil
}
