package readings

import (
	"fmt"
	"strings"

	"dryhold/analysis/fault"
)

// layout says where a table has what.
type layout struct {
	header    int // index of the header row; -1 where the file has none
	first     int // index of the first row that may hold a reading
	width     int // columns under the header
	heads     []head
	time      int // -1 where absent, as below
	date      int
	elapsed   int
	unit      int
	zone      int
	half      int      // am or pm beside a clock
	millis    int      // ms beside a clock of whole seconds
	status    []int    // columns that say whether a reading is one
	times     [3][]int // all columns of times, dates and elapsed times
	pressures []int
	weak      bool  // no header names a pressure; values stand in
	values    []int // columns that are pressures only where no other is
	ambients  []int
	stated    map[role]string // the unit that the job adds to a header
}

// head is one header cell, taken apart.
type head struct {
	text  string   // as written
	words []string // folded, without the unit
	unit  string   // as written, from the header or the units line
	role  role
}

const (
	headerRows  = 200 // a header is looked for in so many rows
	longestHead = 200 // bytes; a longer text is no header
	longestUnit = 40  // bytes of a unit's name
)

// findLayout finds the header: the first row that names a time and a pressure
// in different columns and has such values under it. It returns a fault where
// there is none.
func findLayout(t *table, o Options) (*layout, fault.Fault) {
	if lay := lettered(t, o); lay != nil {
		return lay, fault.Fault{}
	}
	best, bestNames, bare := -1, 0, -1
	var fallback, short *layout
	for i := 0; i < min(len(t.rows), headerRows); i++ {
		lay := readHeader(t, i, o)
		if n := lay.names(); n > bestNames {
			best, bestNames = i, n
		}
		if !lay.complete() {
			continue
		}
		lay.unitsLine(t)
		switch {
		case !lay.hasData(t):
		case lay.weak:
			if fallback == nil {
				fallback = lay
			}
			continue
		case short == nil && lay.summary(t):
			short = lay
			continue
		case short != nil && !lay.other(short, t):
			continue
		default:
			return lay, fault.Fault{}
		}
		if bare < 0 {
			bare = i
		}
	}
	if short != nil {
		return short, fault.Fault{}
	}
	if fallback != nil {
		return fallback, fault.Fault{}
	}
	return nil, noLayout(t, o, best, bare)
}

// noLayout says what a table has instead of a header: best is the row that comes
// nearest to one, bare the first header without readings, -1 for none.
func noLayout(t *table, o Options, best, bare int) fault.Fault {
	f := fault.Fault{Code: "header", File: t.file, Sheet: t.sheet, Expected: "a header row that names a time and a pressure",
		Mend: `state the headers in job.toml: [[readings]] time = "...", pressure = "..."; without a header, time = "column A", pressure = "column B [micron]"`}
	switch {
	case bare >= 0:
		f.Code, f.Line = "no-rows", int(t.rows[bare].number)
		f.Found, f.Expected, f.Mend = "a header with no readings under it", "rows of time and pressure", "export the recording again"
	case len(t.rows) == 0:
		f.Found = "no rows"
	case best >= 0:
		lay := readHeader(t, best, o)
		if list := lay.unfound(t, o); len(list) > 0 && lay.width > 1 {
			return list[0]
		}
		f.Line = int(t.rows[best].number)
		f.Found = "headers " + lay.list()
		if cols := lay.setAside(); lay.timeColumn() >= 0 && len(cols) > 0 {
			f.Code, f.Found, f.Expected = "channels", "no column is plainly the pressure: "+lay.told(cols), "one"
			f.Mend = "say which in job.toml: [[readings]] " + lay.choices("pressure", cols)
		}
	default:
		f.Found = "no header"
	}
	return f
}

// setAside are the columns with a unit of pressure whose words make them none:
// the lowest, the highest, a limit.
func (l *layout) setAside() (cols []int) {
	for col, h := range l.heads {
		if h.role == roleNot && roleOfUnit(h.unit) == rolePressure {
			cols = append(cols, col)
		}
	}
	return cols
}

// newLayout has no column yet.
func newLayout(header int) *layout {
	return &layout{header: header, first: header + 1, time: -1, date: -1, elapsed: -1, unit: -1, zone: -1, half: -1, millis: -1, stated: map[role]string{}}
}

// readHeader takes row i as if it were the header.
func readHeader(t *table, i int, o Options) *layout {
	lay := newLayout(i)
	for col, c := range t.row(i) {
		h := head{}
		if c.is() == text {
			if b := t.trimmed(c); valueLike(b) || len(b) > longestHead {
				h.text = string(b[:min(len(b), longestHead)])
			} else if len(b) > 0 {
				h = parseHead(string(b))
			}
		}
		if h.text != "" {
			lay.width = col + 1
		}
		lay.heads = append(lay.heads, h)
	}
	lay.state(o.Time, roleTime)
	lay.state(o.Pressure, rolePressure)
	lay.state(o.Ambient, roleAmbient)
	lay.byUnits(t)
	for col, h := range lay.heads {
		lay.assign(col, h.role)
	}
	lay.day(t)
	if lay.timeColumn() < 0 && lay.date >= 0 && lay.clockIn(t, lay.date) {
		lay.time, lay.date = lay.date, -1
		lay.times[0], lay.times[1] = lay.times[1], nil
	}
	if col := lay.elapsed; lay.time < 0 && lay.date >= 0 && col >= 0 && roleOf(lay.heads[col].words) != roleElapsed && lay.clockIn(t, col) {
		lay.time, lay.elapsed, lay.heads[col].role, lay.heads[col].unit = col, -1, roleTime, "" // "Hour" beside "Date"
	}
	if len(lay.pressures) == 0 {
		lay.pressures, lay.weak = lay.values, true
	}
	return lay
}

func (l *layout) assign(col int, r role) {
	first := func(at *int) {
		if *at < 0 {
			*at = col
		}
	}
	switch r {
	case roleTime:
		first(&l.time)
		l.times[0] = append(l.times[0], col)
	case roleDate:
		first(&l.date)
		l.times[1] = append(l.times[1], col)
	case roleElapsed:
		first(&l.elapsed)
		l.times[2] = append(l.times[2], col)
	case roleZone:
		first(&l.zone)
	case roleHalf:
		first(&l.half)
	case roleStatus:
		l.status = append(l.status, col)
	case roleUnit:
		first(&l.unit)
	case roleValue:
		l.values = append(l.values, col)
	case rolePressure:
		l.pressures = append(l.pressures, col)
	case roleAmbient:
		l.ambients = append(l.ambients, col)
	}
}

func (l *layout) complete() bool {
	return (l.time >= 0 || l.elapsed >= 0) && len(l.pressures) > 0
}

func (l *layout) names() (n int) {
	for _, h := range l.heads {
		if len(h.words) > 0 {
			n++
			if h.role != roleNone {
				n += 2
			}
		}
	}
	return n
}

func (l *layout) list() string {
	var names []string
	for _, h := range l.heads {
		if h.text != "" && len(names) < listed {
			names = append(names, fmt.Sprintf("%q", clip([]byte(h.text))))
		}
	}
	return strings.Join(names, ", ")
}

// timeColumn is the column that says when: a clock before elapsed time.
func (l *layout) timeColumn() int {
	if l.time >= 0 {
		return l.time
	}
	return l.elapsed
}
