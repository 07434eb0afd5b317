package readings

import (
	"fmt"
	"slices"
	"time"

	"dryhold/analysis/fault"
)

// settle adds the dates, once their order is known.
func (c *clock) settle() bool {
	switch {
	case c.zoned > 0 && c.local > 0:
		c.rep.add(fault.Fault{Code: "zone", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("times with an offset from UTC (%d) and without (%d)", c.zoned, c.local),
			Expected: "all or none", Mend: "export again with one form of time"})
		return false
	case c.zoned > 0:
		c.absolute = true
	}
	if c.elapsed {
		return c.fromStart()
	}
	if c.absolute && c.unit > 0 {
		c.order, c.why = "since 1970", "a number too large for elapsed time; it counts in UTC"
		return true
	}
	if c.zoned == 0 {
		var ok bool
		if c.offset, ok = c.stated(); !ok {
			return false
		}
	}
	if !c.dates() {
		return false
	}
	if c.offset != nil {
		c.shift(c.offset)
	}
	return true
}

// dates finds the day of every time of day.
func (c *clock) dates() bool {
	if c.serials && c.oddSerial() {
		return false
	}
	if c.bare > 0 && (len(c.stamps.dates) > 0 || c.dated()) {
		c.rep.add(fault.Fault{Code: "date", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("times without a date (%d) between times with one", c.bare),
			Expected: "a date in every time", Mend: "export again with full dates"})
		return false
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
	return c.ordered()
}

// ordered adds the days to the times of day, once the order of day, month and year
// is known.
func (c *clock) ordered() bool {
	c.stamps.pattern, c.stamps.said = c.pattern()
	order, why, f := c.stamps.order(c.o)
	if f != nil {
		f.File, f.Sheet = c.t.file, c.t.sheet
		if f.Line > 0 { // it can be read in two ways
			f.Mend += "; or state the order of the dates: [[readings]] " + c.lay.choices("time", []int{c.lay.timeColumn()}, "dd/mm/yyyy", "mm/dd/yyyy")
		}
		c.rep.add(*f)
		return false
	}
	c.order, c.why = order, why
	add := make([]int64, len(c.stamps.dates))
	for k, d := range c.stamps.dates {
		v, ok := d.days(order)
		if !ok {
			f := d.odd(order)
			f.Code, f.File, f.Sheet, f.Line = "date", c.t.file, c.t.sheet, d.row
			c.rep.add(f)
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

// oddSerial refuses a day number whose year is out of range.
func (c *clock) oddSerial() bool {
	for i := c.lay.first; i < len(c.wall); i++ {
		if w := c.wall[i]; w != none && c.date[i] == noDate {
			if year := time.Unix(0, w).UTC().Year(); year < firstYear || year > lastYear {
				f := oddYear(time.Unix(0, w).UTC().Format(time.DateTime), year)
				f.Code, f.File, f.Sheet, f.Cell = "date", c.t.file, c.t.sheet, fmt.Sprintf("%s%d", letter(c.lay.timeColumn()), c.t.rows[i].number)
				c.rep.add(f)
				return true
			}
		}
	}
	return false
}

// dated reports a row with a day number.
func (c *clock) dated() bool {
	return slices.ContainsFunc(c.wall[c.lay.first:], func(w int64) bool { return w >= day })
}

// day is the job's, for examples.
func (c *clock) day() string {
	if c.o.JobDate.IsZero() {
		return "2031-04-09"
	}
	return c.o.JobDate.Format(time.DateOnly)
}

func (c *clock) fromStart() bool {
	c.order, c.why = "elapsed", "the column counts from the start of the log"
	if c.o.Start.IsZero() {
		c.rep.add(fault.Fault{Code: "start", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("column %q counts elapsed time", c.lay.heads[c.lay.timeColumn()].text),
			Expected: "when the log was started", Mend: "write it into job.toml, with the right time: [[readings]] start = " + c.day() + "T14:05:00"})
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
			Expected: "a date, or when the log was started", Mend: "for elapsed time write into job.toml, with the right time: [[readings]] start = " + c.day() + "T14:05:00; else export again with dates"})
		return false
	}
	if c.o.JobDate.IsZero() {
		c.rep.add(fault.Fault{Code: "date", File: c.t.file, Sheet: c.t.sheet, Found: fmt.Sprintf("column %q has times without a date", head),
			Expected: "a date", Mend: "write it into job.toml, for example: [job] date = 2031-04-09"})
		return false
	}
	c.order, c.why = "time of day", "the file has no date; the job's date was taken"
	c.rep.add(fault.Fault{Code: "no-date", File: c.t.file, Sheet: c.t.sheet, Doubt: true, Found: fmt.Sprintf("column %q has times without a date; the first is taken on the job's date", head),
		Mend: "export with dates"})
	base := c.siteDay(first)
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
