package readings

import (
	"bytes"
	"math"

	"dryhold/analysis/quantity"
)

// none is the time of a row that has none.
const none = math.MinInt64

// clock is the time side of a table: what every data row says about when.
type clock struct {
	t        *table
	lay      *layout
	o        Options
	rep      *report
	stamps   stamper
	wall     []int64 // by row index: ns since 1970 on the wall, none where blank
	date     []int32 // index into stamps.dates still to be added, or noDate
	serials  bool
	packed   bool    // the time of day is a number, 140507
	elapsed  bool    // wall counts from Options.Start
	absolute bool    // wall is UTC already
	toldZone bool    // that a zone in a column is not known
	offset   *offset // of all rows, as the file states it; nil where it does not
	zoned    int     // rows with an offset
	local    int     // rows without one
	bare     int     // rows with a time of day only
	unit     float64
	style    style
	order    string
	why      string
}

// times reads the time of every row from lay.first on.
func (c *clock) times() bool {
	n := len(c.t.rows)
	c.wall, c.date = make([]int64, n), make([]int32, n)
	col := c.lay.timeColumn()
	c.stamps.zones, c.stamps.apart = abbreviations(c.o), c.lay.date >= 0
	if !c.mode(col) {
		return false
	}
	c.findMillis()
	for i := c.lay.first; i < n; i++ {
		c.date[i] = noDate
		c.stamps.row = int(c.t.rows[i].number)
		zoned := c.zoned
		w, ok := c.cell(i, col)
		odd := col
		if ok && c.lay.date >= 0 && w != none {
			w, ok = c.withDate(i, w)
			odd = c.lay.date
		}
		switch {
		case !ok:
			w = none
			c.alien(i, odd)
		case w != none && c.lay.millis >= 0:
			w = c.withMillis(i, w)
		}
		if w != none && c.lay.zone >= 0 && c.zoned == zoned && !c.elapsed && !c.absolute {
			w = c.withZone(i, w)
		}
		c.wall[i] = w
	}
	return c.settle()
}

// mode finds out whether the column counts elapsed time, and in which unit and
// style.
func (c *clock) mode(col int) bool {
	h := c.lay.heads[col]
	c.elapsed = h.role == roleElapsed
	c.style = pointStyle
	var e evidence
	numbers, seen, one := 0, 0, 0 // one is the first row with a number
	for i := c.lay.first; i < len(c.t.rows); i++ {
		if b := c.t.trimmed(c.t.at(i, col)); len(b) > 0 {
			seen++
			e.look(b, i)
			if seen <= 16 && isNumber(b) {
				if numbers++; numbers == 1 {
					one = i
				}
			}
			if seen > 16 && (numbers == 0 || e.point+e.comma > 0) {
				break
			}
		}
	}
	if e.comma > 0 && e.point == 0 || e.point == 0 && e.commaDoubt > 0 && c.t.separator == ';' {
		c.style = commaStyle
	}
	if c.o.Decimal != "" {
		c.style = statedStyle(c.o.Decimal)
	}
	if u, ok := unitOf(h.unit); ok && u.Dim == quantity.DimTime {
		c.unit = u.Scale * 1e9
	}
	if numbers == 0 || 2*numbers < min(seen, 16) || timeShape(h.unit) != "" {
		return true
	}
	return c.counts(one, col)
}

// counts finds out what the numbers of the column count, from the first of them in
// row one: since 1970, days, hhmmss or elapsed time.
func (c *clock) counts(one, col int) bool {
	b := c.t.trimmed(c.t.at(one, col))
	v, _, _ := c.style.scan(b)
	k := c.t.at(one, col).is()
	if ns := sinceEpoch(v); ns > 0 && (c.unit == 0 || c.unit == ns) {
		c.unit, c.absolute, c.elapsed = ns, true, false
		return true
	}
	switch {
	case c.lay.date >= 0 && c.unit == 0 && k != date && allDigits(b) && (len(b) == 5 || len(b) == 6):
		c.packed = true
	case c.elapsed && (c.unit > 0 || k == date):
	case k == date || c.unit == 0 && v >= 20000 && v < 80000: // days from 1954 to 2119
		c.serials, c.elapsed = true, false
	case k == number && c.lay.date >= 0 && v < 1:
		c.serials = true
	case c.unit == 0:
		f := c.t.cellFault("time-unit", one, col, c.lay.heads[col].text, "a unit: seconds or minutes, or times with a date",
			"say which in job.toml: [[readings]] "+c.lay.choices("time", []int{col}, "s", "min"))
		c.rep.add(f)
		return false
	default:
		c.elapsed = true
	}
	return true
}

// sinceEpoch is the ns of one unit of a number that counts from 1970, in s, ms, µs
// or ns, to a date from 2001 to 2128; 0 where it does not. As elapsed time such a
// number would be more than thirty years.
func sinceEpoch(v float64) float64 {
	for from := 1e9; from <= 1e18; from *= 1e3 {
		if v >= from && v < 5*from {
			return 1e18 / from
		}
	}
	return 0
}

// isNumber reports a cell that is a number in some style, but no date written
// without separators.
func isNumber(b []byte) bool {
	_, rest, ok := pointStyle.scan(b)
	_, rest2, _ := commaStyle.scan(b)
	digits := bytes.Trim(b, "0123456789")
	return ok && len(rest)*len(rest2) == 0 && (len(digits) > 0 || len(b) != 8 && len(b) != 12 && len(b) != 14)
}

func (c *clock) firstRow(col int) int {
	for i := c.lay.first; i < len(c.t.rows); i++ {
		if b := c.t.trimmed(c.t.at(i, col)); len(b) > 0 && (b[0] >= '0' && b[0] <= '9' || b[0] == '-') {
			return i
		}
	}
	return c.lay.first
}
