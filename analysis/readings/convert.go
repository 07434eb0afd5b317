package readings

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"dryhold/analysis/fault"
	"dryhold/analysis/quantity"
)

// convert turns a table into the readings of part, in file order.
func convert(t *table, lay *layout, o Options, part *recording, rep *report) bool {
	if unfound(t, lay, o, rep) {
		return false
	}
	in := &part.input
	pcol, pwhy := choosePressure(t, lay, o, rep)
	acol, awhy := chooseAmbient(t, lay, o, rep)
	if pcol < 0 || rep.fileStops() {
		return false
	}
	lay.nearest(pcol)
	if cols := lay.spread(t); cols != nil {
		rep.add(fault.Fault{Code: "date", File: t.file, Sheet: t.sheet, Line: lineOf(t, lay), Found: "the date stands in several columns: " + lay.told(cols),
			Expected: "a date in one column", Mend: "export again so, or join them in a copy of the file, as in 2031-04-09 14:05:00, and keep the original beside it"})
		return false
	}
	c := &clock{t: t, lay: lay, o: o, rep: rep}
	if !c.times() || rep.fileStops() {
		return false
	}
	p, ok := newValues(t, lay, pcol, quantity.DimPressure, o, rep)
	if !ok {
		return false
	}
	var a *values
	if acol >= 0 {
		if a, ok = newValues(t, lay, acol, quantity.DimTemperature, o, rep); !ok {
			if !a.minor {
				return false
			}
			a = nil
		}
	}
	x := &converter{t: t, lay: lay, o: o, rep: rep, c: c, p: p, a: a, in: in, stated: lay.statusOf(pcol)}
	if x.halved() {
		return false
	}
	part.rows = x.rows()
	if rep.fileStops() {
		return false
	}
	in.Sheet, in.HeaderRow, in.DateOrder, in.DateWhy = t.sheet, lineOf(t, lay), c.order, c.why
	x.describe(pwhy, awhy)
	if c.zoned > 0 {
		in.DateWhy += "; the file says how far its times are from UTC"
	}
	part.place(c, o, rep)
	return !rep.fileStops()
}

// converter goes through the rows of one table.
type converter struct {
	t         *table
	lay       *layout
	o         Options
	rep       *report
	c         *clock
	p, a      *values
	in        *Input
	stated    int          // the column of a status, -1 for none
	downwards float64      // 1, or -1 where a unit that counts downward is written with a minus
	sideless  []int        // rows that say "out of range" and not on which side
	told      bool         // that the atmosphere is missing
	pending   *fault.Fault // another header, which stops once a reading follows it
}

func (x *converter) rows() []reading {
	rows := make([]reading, 0, len(x.t.rows)-x.lay.first)
	x.downwards = 1
	if x.p.unit.Ref == quantity.Vacuum && x.p.below() {
		x.downwards = -1
	}
	for i := x.lay.first; i < len(x.t.rows); i++ {
		if x.c.wall[i] == none {
			if !x.t.empty(i) {
				x.again(i)
				x.in.Rows++
				x.in.Unused++
			}
			continue
		}
		x.in.Rows++
		if x.pending != nil {
			x.rep.add(*x.pending)
			x.pending = nil
		}
		x.tooWide(i)
		r := reading{at: x.c.wall[i], row: x.t.rows[i].number, ambient: math.NaN()}
		if r.p, r.mark = x.pressure(i); r.mark == sideless {
			r.mark = x.side(i)
		}
		if x.stated >= 0 {
			r.p, r.mark = x.status(i, r.p, r.mark)
		}
		if x.a != nil {
			if v, u, m, ok := x.a.read(i); ok && m == Used {
				r.ambient = u.SI(v)
			}
		}
		rows = append(rows, r)
	}
	x.tellSides()
	if len(rows) == 0 && x.in.Unused > 0 {
		i := x.lay.first
		for x.t.empty(i) {
			i++
		}
		x.rep.add(x.t.cellFault("no-rows", i, x.lay.timeColumn(), x.lay.heads[x.lay.timeColumn()].text, x.c.form(), "export the recording again with such times"))
		return rows
	}
	if n := x.in.Unused; n > 2 && n > x.in.Rows/20 {
		x.rep.add(fault.Fault{Code: "unused", File: x.t.file, Sheet: x.t.sheet, Doubt: true,
			Found: fmt.Sprintf("%d of %d rows have no time and were left out", n, x.in.Rows), Mend: "look whether they belong to the recording"})
	}
	return rows
}

// pressure is the absolute pressure of row i in Pa.
func (x *converter) pressure(i int) (float64, Mark) {
	v, u, m, ok := x.p.read(i)
	if !ok || m == notNumber {
		return math.NaN(), notNumber
	}
	if u == nil { // a mark without a number
		return math.NaN(), m
	}
	if u.Ref != quantity.Absolute && x.o.Atmosphere == 0 {
		if x.told {
			return math.NaN(), notNumber
		}
		x.told = true
		x.rep.add(fault.Fault{Code: "atmosphere", File: x.t.file, Sheet: x.t.sheet,
			Found:    fmt.Sprintf("column %s %q is counted from the local atmosphere (%s), which is not known", letter(x.p.col), x.p.head(), u.Name),
			Expected: "the station pressure or the altitude", Mend: `state it in job.toml: [job] barometer = "83.4 kPa" or altitude = "1609 m"`})
		return math.NaN(), notNumber
	}
	if u.Ref == quantity.Vacuum {
		v *= x.downwards
	}
	pa := u.Pa(v, x.o.Atmosphere)
	switch {
	case m != Used:
	case x.o.RangeHigh > 0 && pa >= x.o.RangeHigh*(1-1e-12):
		m = OverRange
	case x.o.Quantity == Vacuum && (pa <= 0 || pa < x.o.RangeLow*(1-1e-12)):
		m = UnderRange
	}
	return pa, m
}

// describe says which columns were chosen, and why.
func (x *converter) describe(pwhy, awhy string) {
	put := func(name string, col int, unit, why string) {
		if col >= 0 {
			x.in.Columns[name] = Column{Letter: letter(col), Header: x.lay.heads[col].text, Unit: unit, Why: why}
		}
	}
	units := func(v *values) string {
		slices.Sort(v.names)
		return strings.Join(slices.Compact(v.names), ", ")
	}
	name, unit := "time", ""
	if x.c.elapsed {
		if name = "elapsed"; x.c.unit > 0 {
			unit = x.lay.heads[x.lay.timeColumn()].unit
		}
	}
	why := "recognised by its header"
	if x.o.Time != "" {
		why = "stated in the job"
	}
	put(name, x.lay.timeColumn(), unit, why)
	if !x.c.elapsed {
		put("date", x.lay.date, "", "recognised by its header")
	}
	put("ms", x.lay.millis, "", "below 1000 in every row: parts of the second")
	put("am/pm", x.lay.half, "", "recognised by its header")
	if x.c.zoned > 0 && !x.c.elapsed {
		put("zone", x.lay.zone, "", "recognised by its header")
	}
	put("status", x.stated, "", "out of range and failures by its words")
	put("pressure", x.p.col, units(x.p), pwhy)
	if x.a != nil {
		put("ambient", x.a.col, units(x.a), awhy)
	}
}
