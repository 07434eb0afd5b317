package readings

import (
	"fmt"
	"strings"
)

// side is the mark of a reading that is out of range on a side that its word does
// not say. In a vacuum it is taken as above the range, the side that never makes a
// hold look better; in a pressure test either side could, and it is no reading.
func (x *converter) side(i int) Mark {
	x.sideless = append(x.sideless, i)
	if x.o.Quantity == Vacuum {
		return OverRange
	}
	return notNumber
}

// tellSides counts such readings on their own.
func (x *converter) tellSides() {
	if len(x.sideless) == 0 {
		return
	}
	i := x.sideless[0]
	f := x.t.cellFault("side", i, x.p.col, x.p.head(), "a mark that says over or under range", "look in the instrument's manual what the word means; if these readings matter, export again with it")
	taken := "left out as no numbers"
	if x.o.Quantity == Vacuum {
		taken = "counted as over range"
	}
	f.Doubt = true
	f.Found += fmt.Sprintf(": out of range, and not on which side; such readings are %s (rows: %d)", taken, len(x.sideless))
	x.rep.add(f)
}

// again looks at a row without a time. A logger that is started anew writes its
// header once more; one that says something else would give the rows after it
// another meaning, and stops where there are such rows.
func (x *converter) again(i int) {
	if x.lay.header < 0 {
		return
	}
	if x.header(i) {
		for col, h := range x.lay.heads {
			if x.relevant(col) && h.text != "" && x.text(i, col) != h.text {
				x.changed(i, col, h.text)
				return
			}
		}
		return
	}
	for _, v := range []*values{x.p, x.a} {
		if v == nil || v.unit.Scale == 0 {
			continue
		}
		if s := bare(x.text(i, v.col)); knownUnit(s) {
			if u, ok := unitOf(s); ok && u != v.unit && u.Dim == v.dim {
				x.changed(i, v.col, v.unit.Name)
				return
			}
		}
	}
}

func (x *converter) relevant(col int) bool {
	return col == x.lay.timeColumn() || col == x.lay.date || col == x.lay.unit || col == x.p.col || x.a != nil && col == x.a.col
}

// header reports a row that names a time where the header does, and a pressure or
// a temperature in another column.
func (x *converter) header(i int) bool {
	when := x.text(i, x.lay.timeColumn())
	if when == "" || strings.ContainsAny(when, "0123456789") {
		return false
	}
	if r := parseHead(when).role; r != roleTime && r != roleElapsed && r != roleDate && when != x.lay.heads[x.lay.timeColumn()].text {
		return false
	}
	for col := range x.t.row(i) {
		if s := x.text(i, col); col != x.lay.timeColumn() && s != "" && !valueLike([]byte(s)) {
			if r := parseHead(s).role; r == rolePressure || r == roleValue || r == roleAmbient || s == x.p.head() {
				return true
			}
		}
	}
	return false
}

// text is a cell as a header would hold it.
func (x *converter) text(i, col int) string {
	b := x.t.trimmed(x.t.at(i, col))
	return string(b[:min(len(b), longestHead)])
}

func (x *converter) changed(i, col int, was string) {
	f := x.t.cellFault("header-again", i, col, was, "the header as it was", "put the rows from here into a file of their own, with a [[readings]] of its own or as a second file of this one; keep the original beside it")
	f.Found += ": the header changes within the file"
	x.pending = &f
}
