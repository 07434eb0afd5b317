package readings

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"time"

	"dryhold/analysis/fault"
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
	elapsed  bool // wall counts from Options.Start
	absolute bool // wall is UTC already
	zoned    int  // rows with an offset
	local    int  // rows without one
	bare     int  // rows with a time of day only
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
	c.stamps.zones = abbreviations(c.o)
	if !c.mode(col) {
		return false
	}
	for i := c.lay.first; i < n; i++ {
		c.date[i] = noDate
		c.stamps.row = int(c.t.rows[i].number)
		w, ok := c.cell(i, col)
		if ok && c.lay.date >= 0 && w != none {
			w, ok = c.withDate(i, w)
		}
		if !ok {
			w = none
			c.alien(i, col)
		}
		c.wall[i] = w
	}
	return c.settle()
}

// mode finds out whether the column counts elapsed time, and in which unit.
func (c *clock) mode(col int) bool {
	h := c.lay.heads[col]
	c.elapsed = h.role == roleElapsed
	c.style = pointStyle
	var e evidence
	numbers, seen := 0, 0
	for i := c.lay.first; i < len(c.t.rows); i++ {
		if b := c.t.trimmed(c.t.at(i, col)); len(b) > 0 {
			seen++
			e.look(b, i)
			if seen <= 16 && isNumber(b) {
				numbers++
			}
			if seen > 16 && (numbers == 0 || e.point+e.comma > 0) {
				break
			}
		}
	}
	if e.comma > 0 && e.point == 0 || e.point == 0 && e.commaDoubt > 0 && c.t.separator == ';' {
		c.style = commaStyle
	}
	shape := timeShape(h.unit)
	if u, ok := unitOf(h.unit); ok && u.Dim == quantity.DimTime {
		c.unit = u.Scale * 1e9
	}
	if numbers == 0 || 2*numbers < min(seen, 16) || shape != "" {
		return true
	}
	v, _, _ := c.style.scan(c.t.trimmed(c.t.at(c.firstRow(col), col)))
	k := c.t.at(c.firstRow(col), col).is()
	switch {
	case c.elapsed && (c.unit > 0 || k == date):
	case k == date || c.unit == 0 && v >= 20000 && v < 80000:
		c.serials, c.elapsed = true, false
	case k == number && c.lay.date >= 0 && v < 1:
		c.serials = true
	case c.unit == 0 && v >= 1e9 && v < 5e9:
		c.unit, c.absolute = 1e9, true
	case c.unit == 0 && v >= 1e12 && v < 5e12:
		c.unit, c.absolute = 1e6, true
	case c.unit == 0:
		f := c.t.cellFault("time-unit", c.firstRow(col), col, h.text, "a unit: seconds or minutes, or times with a date",
			fmt.Sprintf(`say which in job.toml: [[readings]] time = "%s [s]" or time = "%s [min]"`, h.text, h.text))
		c.rep.add(f)
		return false
	default:
		c.elapsed = true
	}
	return true
}

// isNumber reports a cell that is a number in some style, but no date written
// without separators.
func isNumber(b []byte) bool {
	_, rest, ok := pointStyle.scan(b)
	_, rest2, _ := commaStyle.scan(b)
	digits := bytes.Trim(b, "0123456789")
	return ok && len(rest)*len(rest2) == 0 && (len(digits) > 0 || len(b) != 8 && len(b) != 14)
}

func (c *clock) firstRow(col int) int {
	for i := c.lay.first; i < len(c.t.rows); i++ {
		if b := c.t.trimmed(c.t.at(i, col)); len(b) > 0 && (b[0] >= '0' && b[0] <= '9' || b[0] == '-') {
			return i
		}
	}
	return c.lay.first
}

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
	numeric := k == number || k == date
	switch {
	case c.elapsed && k == date, numeric && !c.elapsed && c.unit == 0, c.serials && k == text:
		v, rest, ok := c.style.scan(b)
		if c.serials && len(rest) > 0 && k == text {
			break
		}
		c.serials = true
		return c.serial(v), ok && v >= 0 && v < 110000
	case c.unit > 0 && (numeric || c.elapsed || c.absolute):
		v, rest, ok := c.style.scan(b)
		rest = trim(rest)
		if ok && len(rest) > 0 {
			if rest[0] == ':' {
				break
			}
			u, known := unitOf(string(rest))
			return int64(math.Round(v * u.Scale * 1e9)), known && u.Dim == quantity.DimTime && math.Abs(v*u.Scale*1e9) < c.longest()
		}
		return int64(math.Round(v * c.unit)), ok && math.Abs(v*c.unit) < c.longest()
	}
	if c.elapsed {
		return c.duration(i, b)
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

// serial turns a workbook's day number into wall time, to the millisecond: a
// day number of today resolves about a microsecond. In the 1900 system day 60 is
// 29 February 1900, which never was (ECMA-376 part 1, 18.17.4.1).
func (c *clock) serial(days float64) int64 {
	if c.elapsed || days < 1 {
		return int64(math.Round(days*864e5)) * 1e6
	}
	const from1900, from1904 = 25569, 24107 // day number of 1970-01-01
	epoch := float64(from1900)
	if c.t.date1904 {
		epoch = from1904
	} else if days < 60 {
		epoch--
	}
	return int64(math.Round((days-epoch)*864e5)) * 1e6
}

// withDate adds the date column's date to the time of day w.
func (c *clock) withDate(i int, w int64) (int64, bool) {
	if c.date[i] != noDate || c.serials && w >= day {
		return w, true // the time column has a date of its own
	}
	x := c.t.at(i, c.lay.date)
	b := c.t.trimmed(x)
	if len(b) == 0 {
		return none, true
	}
	if k := x.is(); k == number || k == date {
		v, _, ok := pointStyle.scan(b)
		c.serials = true
		return c.serial(math.Floor(v)) + w, ok && v >= 1 && v < 110000
	}
	st, ok := c.stamps.read(b)
	c.date[i] = st.date
	return w, ok && st.date != noDate
}

// duration reads "hh:mm:ss", with hours beyond 23, or a number with its unit.
func (c *clock) duration(i int, b []byte) (int64, bool) {
	fields := strings.Split(string(b), ":")
	if len(fields) == 1 {
		v, rest, ok := c.style.scan(b)
		u, known := unitOf(string(trim(rest)))
		return int64(math.Round(v * u.Scale * 1e9)), ok && known && u.Dim == quantity.DimTime && math.Abs(v*u.Scale*1e9) < c.longest()
	}
	scale := []float64{3600, 60, 1}
	shape := timeShape(c.lay.heads[c.lay.timeColumn()].unit)
	if len(fields) == 2 {
		switch shape {
		case "ms":
			scale = scale[1:]
		case "hm":
			scale = scale[:2]
		default:
			c.rep.add(c.t.cellFault("time-unit", i, c.lay.timeColumn(), c.lay.heads[c.lay.timeColumn()].text, "hours, minutes and seconds",
				fmt.Sprintf(`say which in job.toml: [[readings]] time = "%s [mm:ss]" or time = "%s [hh:mm]"`, c.lay.heads[c.lay.timeColumn()].text, c.lay.heads[c.lay.timeColumn()].text)))
			return none, true
		}
	}
	if len(fields) > 3 {
		return 0, false
	}
	total := 0.0
	for k, f := range fields {
		v, rest, ok := style{decimal: '.'}.scan([]byte(strings.Replace(f, ",", ".", 1)))
		if !ok || len(rest) > 0 || v < 0 || k > 0 && v >= 60 {
			return 0, false
		}
		total += v * scale[k]
	}
	return int64(math.Round(total * 1e9)), total*1e9 < c.longest()
}

// longest is the greatest number of ns that a time may have: ten years of
// elapsed time, or an instant before 2096.
func (c *clock) longest() float64 {
	if c.absolute {
		return 4e18
	}
	return 3e17
}

// alien is called for a time cell that is no time: a fault where it begins like
// one, else a row outside the recording.
func (c *clock) alien(i, col int) {
	if b := c.t.trimmed(c.t.at(i, col)); len(b) > 0 && b[0] >= '0' && b[0] <= '9' {
		c.rep.add(c.t.cellFault("time", i, col, c.lay.heads[col].text, "a date and time such as 2031-04-09 14:05:00, as in the other rows", "correct the cell, or export again"))
	}
}

// settle adds the dates, once their order is known.
func (c *clock) settle() bool {
	switch {
	case c.zoned > 0 && c.local > 0:
		c.rep.add(fault.Fault{Code: "zone", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("%d times with an offset from UTC and %d without", c.zoned, c.local),
			Expected: "all or none", Mend: "export again with one form of time"})
		return false
	case c.zoned > 0:
		c.absolute = true
	}
	if c.elapsed {
		return c.fromStart()
	}
	if c.absolute && c.unit > 0 {
		c.order, c.why = "seconds since 1970", "a large number without a unit"
		return true
	}
	if c.bare > 0 {
		return c.bareTimes()
	}
	if len(c.stamps.dates) == 0 {
		c.order, c.why = "serial 1900", "the workbook's date system"
		if c.t.date1904 {
			c.order = "serial 1904"
		}
		return true
	}
	order, why, f := c.stamps.order(c.o)
	if f != nil {
		f.File, f.Sheet = c.t.file, c.t.sheet
		c.rep.add(*f)
		return false
	}
	c.order, c.why = order, why
	add := make([]int64, len(c.stamps.dates))
	for k, d := range c.stamps.dates {
		v, ok := d.days(order)
		if !ok {
			c.rep.add(fault.Fault{Code: "date", File: c.t.file, Sheet: c.t.sheet, Line: d.row, Found: fmt.Sprintf("%s is not a date, read %s", &d, order),
				Expected: "a date of the calendar", Mend: "correct the cell, or export again"})
			return false
		}
		add[k] = v * day
	}
	for i := c.lay.first; i < len(c.wall); i++ {
		if k := c.date[i]; k != noDate && c.wall[i] != none {
			c.wall[i] += add[k]
		}
	}
	return true
}

func (c *clock) fromStart() bool {
	c.order, c.why = "elapsed", "the column counts from the start of the log"
	if c.o.Start.IsZero() {
		c.rep.add(fault.Fault{Code: "start", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("column %q counts elapsed time", c.lay.heads[c.lay.timeColumn()].text),
			Expected: "when the log was started", Mend: "state it in job.toml: [[readings]] start = 2031-04-09T14:05:00"})
		return false
	}
	start := c.o.Start.UnixNano()
	for i := c.lay.first; i < len(c.wall); i++ {
		if c.wall[i] != none {
			c.wall[i] += start
		}
	}
	c.absolute = true
	return true
}

// bareTimes reads times of day without a date: on the job's date, and on the
// next day after midnight.
func (c *clock) bareTimes() bool {
	first := c.wall[c.firstRow(c.lay.timeColumn())]
	head := c.lay.heads[c.lay.timeColumn()].text
	if first >= 0 && first < int64(time.Minute) {
		if !c.o.Start.IsZero() {
			c.elapsed = true
			return c.fromStart()
		}
		c.rep.add(fault.Fault{Code: "elapsed", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("column %q begins near 00:00:00 and has no date: it can be midnight or the start of a log", head),
			Expected: "a date, or when the log was started", Mend: "for elapsed time state in job.toml: [[readings]] start = 2031-04-09T14:05:00; else export again with dates"})
		return false
	}
	if c.o.JobDate.IsZero() {
		c.rep.add(fault.Fault{Code: "date", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("column %q has times without a date", head),
			Expected: "a date", Mend: "state it in job.toml: [job] date = 2031-04-09"})
		return false
	}
	c.order, c.why = "time of day", "the file has no date; the job's date was taken"
	c.rep.add(fault.Fault{Code: "no-date", File: c.t.file, Sheet: c.t.sheet, Doubt: true, Found: fmt.Sprintf("column %q has times without a date; the first is taken on the job's date", head),
		Mend: "export with dates"})
	base := time.Date(c.o.JobDate.Year(), c.o.JobDate.Month(), c.o.JobDate.Day(), 0, 0, 0, 0, time.UTC).UnixNano()
	last := int64(none)
	for i := c.lay.first; i < len(c.wall); i++ {
		if c.wall[i] == none {
			continue
		}
		if last != none && c.wall[i] < last-day/2 {
			base += day
		}
		last = c.wall[i]
		c.wall[i] += base
	}
	return true
}

// abbreviations are the names of the job's zone in winter and summer of the
// job's year, folded, with their offsets in ns.
func abbreviations(o Options) map[string]int64 {
	year := o.JobDate.Year()
	if o.JobDate.IsZero() {
		year = 2031
	}
	list := map[string]int64{}
	for _, m := range []time.Month{time.January, time.July} {
		name, s := time.Date(year, m, 1, 0, 0, 0, 0, o.Zone).Zone()
		list[foldWord(name)] = int64(s) * 1e9
	}
	return list
}
