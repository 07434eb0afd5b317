package readings

import (
	"math"
	"slices"

	"dryhold/analysis/quantity"
)

// cell reads the time cell of row i; none where it is blank.
func (c *clock) cell(i, col int) (int64, bool) {
	x := c.t.at(i, col)
	b := c.t.trimmed(x)
	k := x.is()
	if k == unsaved {
		c.rep.add(c.t.unsavedFault(i, col, c.lay.heads[col].text))
	}
	if len(b) == 0 {
		return none, true
	}
	if k == failed {
		return 0, false
	}
	if w, ok, is := c.numeral(b, k); is {
		return w, ok
	}
	if c.elapsed {
		return c.duration(i, b)
	}
	return c.stamped(i, b)
}

// numeral reads a time that is written as one number; is tells whether it is.
func (c *clock) numeral(b []byte, k kind) (w int64, ok, is bool) {
	numeric := k == date || k == number && (len(b) != 12 && len(b) != 14 || isNumber(b)) // 20310409140507 is no day number
	switch {
	case c.packed && allDigits(b):
		v, _ := whole(b)
		return (int64(v/10000)*3600 + int64(v/100%100)*60 + int64(v%100)) * 1e9, v < 240000 && v/100%100 < 60 && v%100 < 60, true
	case c.elapsed && k == date, numeric && !c.elapsed && c.unit == 0, c.serials && k == text:
		v, rest, ok := c.style.scan(b)
		if c.serials && len(rest) > 0 && k == text {
			return 0, false, false
		}
		c.serials = true
		c.local++
		if v >= 1 && v < 2 && !c.elapsed && c.lay.date >= 0 {
			v-- // a time of day on the first day of all, 1 January 1900
		}
		if v < 1 && !c.elapsed && c.lay.date < 0 {
			c.bare++
		}
		return c.serial(v), ok && v >= 0 && v < lastSerial, true
	case c.unit > 0 && (numeric || c.elapsed || c.absolute):
		v, rest, ok := c.style.scan(b)
		rest = trim(rest)
		if ok && len(rest) > 0 {
			if rest[0] == ':' {
				return 0, false, false
			}
			u, known := unitOf(string(rest))
			return micros(v * u.Scale * 1e9), known && u.Dim == quantity.DimTime && math.Abs(v*u.Scale*1e9) < c.longest(), true
		}
		return micros(v * c.unit), ok && math.Abs(v*c.unit) < c.longest(), true
	}
	return 0, false, false
}

// stamped reads a time of day, with its date or without; its order waits for all rows.
func (c *clock) stamped(i int, b []byte) (int64, bool) {
	if c.lay.half >= 0 {
		b = slices.Concat(b, []byte{' '}, c.t.trimmed(c.t.at(i, c.lay.half)))
	}
	st, ok := c.stamps.read(b)
	if !ok {
		return 0, false
	}
	c.date[i] = st.date
	w := max(st.clock, 0)
	if st.zoned {
		c.zoned++
		w -= st.offset
	} else {
		c.local++
	}
	if st.date == noDate && c.lay.date < 0 {
		c.bare++
	}
	return w, true
}

// form is what a time of the column looks like, for messages.
func (c *clock) form() string {
	if c.elapsed {
		return "a time since the start of the log such as 00:05:10 or 310 s"
	}
	return "a date and time such as 2031-04-09 14:05:00"
}

// alien is called for a time cell that is no time: a fault where it begins like
// one, else a row outside the recording.
func (c *clock) alien(i, col int) {
	if b := c.t.trimmed(c.t.at(i, c.lay.date)); len(b) > 0 && (b[0] < '0' || b[0] > '9') {
		return // "Total" in the date's place
	}
	if b := c.t.trimmed(c.t.at(i, col)); len(b) > 0 && b[0] >= '0' && b[0] <= '9' {
		form := c.form() + ", as in the other rows"
		if col == c.lay.date {
			form = "a date such as 2031-04-09"
		}
		c.rep.add(c.t.cellFault("time", i, col, c.lay.heads[col].text, form, correctCell))
	}
}
