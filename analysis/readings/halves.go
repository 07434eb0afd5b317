package readings

import (
	"fmt"
	"strconv"
)

// apartAgain is what to do where a decimal comma parts cells.
const apartAgain = "export again with semicolons between the columns, or with decimal points: a decimal comma must not part columns too"

// tooWide refuses a row with numbers beyond the last header: most often a
// decimal comma in a file whose cells are separated by commas.
func (x *converter) tooWide(i int) {
	row := x.t.row(i)
	for col := x.lay.width; col < len(row); col++ {
		if b := x.t.trimmed(row[col]); len(b) > 0 && b[0] >= '0' && b[0] <= '9' && x.t.separator != 0 {
			x.rep.add(x.t.cellFault("too-wide", i, col, "", fmt.Sprintf("no more cells than headers (%d)", x.lay.width), apartAgain))
			return
		}
	}
}

// halvesLooked is how many rows are enough to see that numbers were cut in two.
const halvesLooked = 5000

// halved refuses a pressure that a decimal comma cut in two in a file whose cells
// are parted by commas and whose header has room for the second half. Such a
// column holds whole numbers only and the one beside it digits only, and these
// digits are no column of their own: some begin with a zero, as in "035", or the
// pressure is mostly 0, or they are single ones of every kind in rows with more
// cells than the header.
func (x *converter) halved() bool {
	if x.t.separator != ',' || x.o.Decimal != "" {
		return false
	}
	n, not, zeros, padded, wider, steps, first, before := 0, 0, 0, 0, 0, 0, -1, 0
	ends, single := map[string]bool{}, true
	for i := x.lay.first; i < min(len(x.t.rows), x.lay.first+halvesLooked); i++ {
		a, b := x.t.trimmed(x.t.at(i, x.p.col)), x.t.trimmed(x.t.at(i, x.p.col+1))
		if x.c.wall[i] == none || !allDigits(a) {
			continue
		}
		if !allDigits(b) {
			if not++; not > 3+n/8 {
				return false
			}
			continue
		}
		if n++; first < 0 {
			first = i
		}
		if b[0] == '0' && len(b) > 1 {
			padded++
		}
		if len(a) == 1 && a[0] == '0' {
			zeros++
		}
		if len(x.t.row(i)) > x.lay.width {
			wider++
		}
		v, _ := strconv.Atoi(string(b))
		if v == before+1 {
			steps++ // a number of the row
		}
		before, single = v, single && len(b) == 1
		if len(ends) < 10 {
			ends[string(b)] = true
		}
	}
	if len(ends) < 3 || 2*steps > n || padded == 0 && 2*zeros <= n && !(single && len(ends) > 5 && wider == n) {
		return false
	}
	f := x.t.cellFault("too-wide", first, x.p.col, x.p.head(), "one number in one cell", apartAgain+`; where the two are numbers of their own, write into job.toml: [[readings]] decimal = "point"`)
	f.Found += fmt.Sprintf(", and %q in the cell beside it: a number that a decimal comma cut in two", x.t.trimmed(x.t.at(first, x.p.col+1)))
	x.rep.add(f)
	return true
}

// allDigits reports digits only, no more than an int holds on any machine.
func allDigits(b []byte) bool {
	for _, c := range b {
		if c < '0' || c > '9' {
			return false
		}
	}
	return len(b) > 0 && len(b) <= 9
}
