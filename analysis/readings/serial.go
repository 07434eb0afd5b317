package readings

import (
	"bytes"
	"math"
	"strings"

	"dryhold/analysis/quantity"
)

// lastSerial is a workbook's day number behind every recording, in 2201.
const lastSerial = 110000

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

// micros rounds ns to whole microseconds: minutes and hours are written with a
// few decimals, and would miss the second by some ns.
func micros(ns float64) int64 { return int64(math.Round(ns/1e3)) * 1e3 }

// withDate adds the date column's date to the time of day w.
func (c *clock) withDate(i int, w int64) (int64, bool) {
	if c.date[i] != noDate || c.serials && w >= day {
		return w, true // the time column has a date of its own
	}
	x := c.t.at(i, c.lay.date)
	b := c.t.trimmed(x)
	if len(b) == 0 {
		c.rep.add(c.t.cellFault("date", i, c.lay.date, c.lay.heads[c.lay.date].text, "a date beside every time", "export again, or fill in the dates in a copy of the file and keep the original beside it"))
		return none, true
	}
	if k := x.is(); k == date || k == number && isNumber(b) {
		v, _, ok := pointStyle.scan(b)
		c.serials = true
		return c.serial(math.Floor(v)) + w, ok && v >= 1 && v < lastSerial
	}
	c.stamps.apart = false // 09.04.31 is a day here
	st, ok := c.stamps.read(b)
	c.stamps.apart = true
	c.date[i] = st.date
	return w, ok && st.date != noDate
}

// duration reads "hh:mm:ss", with hours beyond 23, or a number with its unit.
func (c *clock) duration(i int, b []byte) (int64, bool) {
	if bytes.IndexByte(b, ':') < 0 {
		return c.worded(b)
	}
	total := 0.0
	if n, clock, ok := bytes.Cut(b, []byte("day")); ok { // "1 day 02:03:04"
		v, rest, ok := c.style.scan(n)
		if total = v * 86400; !ok || len(trim(rest)) > 0 || v < 0 {
			return 0, false
		}
		b = bytes.TrimLeft(bytes.TrimPrefix(clock, []byte("s")), " ,")
	}
	fields := strings.Split(string(b), ":")
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
				"say which in job.toml: [[readings]] "+c.lay.choices("time", []int{c.lay.timeColumn()}, "mm:ss", "hh:mm")))
			return none, true
		}
	}
	if len(fields) > 3 {
		return 0, false
	}
	for k, f := range fields {
		v, rest, ok := style{decimal: '.'}.scan([]byte(strings.Replace(f, ",", ".", 1)))
		if !ok || len(rest) > 0 || v < 0 || k > 0 && v >= 60 {
			return 0, false
		}
		total += v * scale[k]
	}
	return micros(total * 1e9), total*1e9 < c.longest()
}

// worded reads "310 s", "1h 02m 05s" and "PT1H2M5S" (ISO 8601).
func (c *clock) worded(b []byte) (int64, bool) {
	b = bytes.TrimPrefix(bytes.ToLower(b), []byte("pt"))
	total, last := 0.0, math.Inf(1)
	for len(b) > 0 {
		v, rest, ok := c.style.scan(b)
		rest = trim(rest)
		n := 0
		for n < len(rest) && rest[n] >= 'a' && rest[n] <= 'z' {
			n++
		}
		u, known := unitOf(string(rest[:n]))
		if string(rest[:n]) == "m" {
			u = quantity.Minute
		}
		if !ok || !known || u.Dim != quantity.DimTime || u.Scale >= last || v < 0 && last < math.Inf(1) {
			return 0, false
		}
		total, last, b = total+v*u.Scale, u.Scale, trim(rest[n:])
	}
	return micros(total * 1e9), last < math.Inf(1) && math.Abs(total*1e9) < c.longest()
}

// longest is the greatest number of ns that a time may have: ten years of
// elapsed time, or an instant before 2096.
func (c *clock) longest() float64 {
	if c.absolute {
		return 4e18
	}
	return 3e17
}
