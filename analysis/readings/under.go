package readings

import (
	"bytes"
	"slices"
	"strings"
)

// What stands under a header.

// summary reports a header over no more than two rows before an end or a row that
// is none of its own: the lowest and the highest, above the readings themselves.
func (l *layout) summary(t *table) bool {
	n := 0
	for i := l.first; i < len(t.rows) && !t.empty(i); i++ {
		if b := t.trimmed(t.at(i, l.timeColumn())); len(b) == 0 || b[0] < '0' || b[0] > '9' {
			break
		}
		if n++; n > 2 {
			return false
		}
	}
	return true
}

// other reports a header of readings below that of a summary, and not the same
// one again, nor a remark among the readings.
func (l *layout) other(summary *layout, t *table) bool {
	when := l.heads[l.timeColumn()].text
	return when != summary.heads[summary.timeColumn()].text && !strings.ContainsAny(when, "0123456789") &&
		l.heads[l.pressures[0]].unit != "" && !l.summary(t)
}

// hasData looks for a row with a time and something in a pressure column among
// the next few rows.
func (l *layout) hasData(t *table) bool {
	seen := 0
	for i := l.first; i < len(t.rows) && seen < 40; i++ {
		if t.empty(i) {
			continue
		}
		if b := t.trimmed(t.at(i, l.timeColumn())); len(b) == 0 || !strings.ContainsAny(string(b), "0123456789") {
			seen++
			continue
		}
		for _, p := range l.pressures {
			if t.filled(t.at(i, p)) && p != l.timeColumn() {
				return true
			}
		}
	}
	return false
}

// clockIn reports a column whose first value is a day with a time of day, as under
// a header that says no more than "Date".
func (l *layout) clockIn(t *table, col int) bool {
	for i := l.first; i < len(t.rows); i++ {
		c := t.at(i, col)
		if b := t.trimmed(c); len(b) > 0 {
			return valueLike(b) && bytes.IndexAny(b, ":.,") > 0 && (c.is() != text || bytes.IndexByte(b, ':') > 0 || isNumber(b))
		}
	}
	return false
}

// valueLike reports text that begins like a number, a date or a time.
func valueLike(b []byte) bool {
	return len(b) > 1 && b[0] >= '0' && b[0] <= '9' && (b[1] >= '0' && b[1] <= '9' || bytes.IndexByte([]byte(".,:/-"), b[1]) >= 0)
}

// day takes, of several columns of days, the first with dates, and none where a
// "Day" is a weekday or a count.
func (l *layout) day(t *table) {
	for _, col := range l.times[1] {
		if l.dateIn(t, col) {
			l.date = col
			return
		}
	}
	if l.date >= 0 && l.time >= 0 && slices.ContainsFunc(l.heads[l.date].words, func(w string) bool { return dayWords[w] }) {
		l.date = -1
	}
}

// dateIn reports a column whose first value is a date.
func (l *layout) dateIn(t *table, col int) bool {
	var s stamper
	for i := l.first; i < len(t.rows); i++ {
		c := t.at(i, col)
		b := t.trimmed(c)
		if len(b) == 0 || knownUnit(string(b[:min(len(b), longestUnit+1)])) {
			continue
		}
		st, ok := s.read(b)
		return c.is() == date || ok && st.date != noDate
	}
	return false
}

// spread lists the columns of a date that stands in several, year and month apart;
// nil where the times have their dates.
func (l *layout) spread(t *table) (cols []int) {
	for col, h := range l.heads {
		if len(h.words) == 1 && calendarWords[h.words[0]] {
			cols = append(cols, col)
		}
	}
	if len(cols) < 2 || l.dateIn(t, l.timeColumn()) || l.date >= 0 && l.dateIn(t, l.date) {
		return nil
	}
	return cols
}
