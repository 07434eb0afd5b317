package readings

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"time"

	"dryhold/analysis/quantity"
)

// stamp writes a time: the cells of its columns.
func (d *dress) stamp(at, start time.Time) []any {
	days := func(t time.Time) float64 {
		v := float64(t.Unix())/86400 + 25569
		if d.date04 {
			v -= 1462
		}
		return v
	}
	if d.cells {
		wall := time.Date(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), at.Second(), 0, time.UTC)
		if d.when == 1 {
			whole := math.Floor(days(wall))
			return []any{cellDate(whole), cellDate(days(wall) - whole)}
		}
		if d.when == 2 {
			return []any{at.Sub(start).Seconds()}
		}
		return []any{cellDate(days(wall))}
	}
	clock := "15:04:05"
	if d.when%2 == 1 {
		clock = [...]string{"15:04:05", "3:04:05 PM"}[d.when/2%2]
	}
	switch d.when {
	case 1, 3:
		return []any{at.Format("2006-01-02"), at.Format(clock)}
	case 2:
		return []any{d.write(at.Sub(start).Seconds(), 1)}
	case 4:
		s := int(at.Sub(start).Seconds())
		return []any{fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60)}
	}
	layouts := []string{"2006-01-02 15:04:05", "2006-01-02T15:04:05", "02/01/2006 15:04:05", "01/02/2006 3:04:05 PM", "02.01.2006 15:04:05", "2 Jan 2006 15:04:05",
		"2006/01/02 15:04:05.000", "2006-01-02T15:04:05Z07:00", "20060102T150405", "02-Jan-06 15:04:05", "Mon Jan 2 2006 15:04:05", "2006-01-02 15h04m05s"}
	return []any{at.Format(layouts[d.when%len(layouts)])}
}

// newDress draws how a recording is written.
func newDress(r *rand.Rand) *dress {
	d := &dress{Rand: r, sep: []string{",", ";", "\t"}[r.IntN(3)], comma: r.IntN(2) == 0, groups: r.IntN(3) == 0, lang: r.IntN(len(heads)),
		unit: pressureUnits[r.IntN(len(pressureUnits))], unitAt: r.IntN(5), book: r.IntN(4) == 0, when: r.IntN(16)}
	d.cells = d.book && r.IntN(2) == 0
	d.date04 = d.cells && r.IntN(3) == 0
	if d.cells {
		d.when = r.IntN(3)
		d.comma, d.groups = false, false
	}
	return d
}

// generate makes a recording, dressed in one of many ways, and what it holds.
func generate(seed uint64) (File, *truth) {
	r := rand.New(rand.NewPCG(seed, 7))
	d := newDress(r)
	zone := time.UTC
	if r.IntN(2) == 0 {
		zone, _ = time.LoadLocation("Europe/Madrid")
	}
	from := time.Date(2031, time.Month(5+r.IntN(4)), 1+r.IntN(28), r.IntN(24), r.IntN(60), r.IntN(60), 0, zone)
	tr := &truth{o: Options{ID: "r", Zone: zone, JobDate: from, Start: from}, decimal: map[bool]string{false: "point", true: "comma"}[d.comma]}
	d.decimals = r.IntN(5)
	n := 3 + r.IntN(60)
	if d.decimals == 0 && d.groups && d.comma != (d.sep == ";") {
		d.groups = false // "1.496" in a file of English form can't be told
	}
	tr.wholeThousands = d.groups && d.decimals == 0
	d.hasAmbient, d.hasOther = r.IntN(2) == 0, r.IntN(2) == 0
	if d.unitAt == 3 && d.cells {
		d.unitAt = 0
	}
	for range r.IntN(4) {
		d.grid = append(d.grid, []any{[]string{"Vacuum log of an invented circuit", "", "Operator; nobody", "Interval 1 s", "Gauge: G-1"}[r.IntN(5)]})
	}
	names := d.header(tr)
	at := from
	for i := range n {
		d.reading(tr, i, at)
		if i < n-3 && r.IntN(60) == 0 { // the logger was started again
			d.grid = append(d.grid, names)
			tr.in.Rows++
			tr.in.Unused++
		}
		at = at.Add(time.Duration(1+r.IntN(2)) * time.Second)
	}
	d.ending(tr, n)
	if d.book {
		return File{"r.xlsx", d.workbook()}, tr
	}
	return File{"r.csv", d.encode()}, tr
}

// header writes the names of the columns, and a line of units under them.
func (d *dress) header(tr *truth) []any {
	h := heads[d.lang]
	p := h["p"]
	if d.unitAt == 0 {
		p = []string{p + " (" + d.unit.Name + ")", p + " [" + d.unit.Name + "]", p + ", " + d.unit.Name, p + " " + d.unit.Name, strings.ToUpper(p) + " / " + d.unit.Name}[d.IntN(5)]
	}
	if d.unitAt == 4 {
		tr.o.Pressure = p + " [" + d.unit.Name + "]"
	}
	names := []any{h["stamp"]}
	switch {
	case d.when == 1 || d.when == 3 && !d.cells:
		names = []any{h["date"], h["time"]}
	case d.when == 2:
		names = []any{h["elapsed"] + " (s)"}
	case d.when == 4:
		names = []any{h["elapsed"]}
	}
	d.nTime = len(names)
	names = append(names, p)
	units := slices.Repeat([]any{""}, d.nTime)
	units = append(units, d.unit.Name)
	if d.unitAt == 2 {
		names = append(names, h["unit"])
	}
	if d.hasAmbient {
		a := h["a"]
		if d.unitAt != 1 {
			a += " (°C)"
		}
		names, units = append(names, a), append(units, "°C")
	}
	if d.hasOther {
		names = append(names, h["other"])
	}
	d.grid = append(d.grid, names)
	if d.unitAt == 1 {
		d.grid = append(d.grid, units)
	}
	return names
}

// pressure draws a reading of row i: what stands in its cell, and its value in Pa,
// NaN for a mark.
func (d *dress) pressure(i int) (cell any, pa float64, mark Mark) {
	scale := math.Pow(10, float64(d.decimals))
	x, decimals := math.Round(d.ExpFloat64()*2000*scale)/scale+1, d.decimals
	if i == 0 && decimals > 0 {
		x, decimals = 12.5, 1
	}
	text := d.write(x, decimals)
	value, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', decimals, 64), 64)
	cell = text
	if d.cells {
		cell = value
	}
	if d.unitAt == 3 {
		cell = text + " " + d.unit.Name
	}
	if i > 0 && d.IntN(12) == 0 {
		k := d.IntN(7)
		return []any{"OL", "Over range", ">>>>", "UR", "----", "", "error"}[k], math.NaN(),
			[]Mark{OverRange, OverRange, OverRange, UnderRange, notNumber, notNumber, notNumber}[k]
	}
	return cell, d.unit.Pa(value, 0), Used
}

// reading writes row i, now and then twice.
func (d *dress) reading(tr *truth, i int, at time.Time) {
	row := d.stamp(at, tr.o.Start)
	cell, pa, mark := d.pressure(i)
	row = append(row, cell)
	if d.unitAt == 2 {
		row = append(row, d.unit.Name)
	}
	amb := math.NaN()
	if d.hasAmbient {
		t := 15 + float64(d.IntN(100))/10
		row = append(row, d.ambient(t))
		amb = quantity.Celsius.SI(t)
	}
	if d.hasOther {
		row = append(row, "x")
	}
	d.grid = append(d.grid, row)
	tr.in.Rows++
	switch mark {
	case notNumber:
		tr.in.NotANumber++
		return
	case Used:
		tr.in.Used++
	case OverRange:
		tr.in.OverRange++
	default:
		tr.in.UnderRange++
	}
	tr.at, tr.p, tr.mark, tr.ambient = append(tr.at, at), append(tr.p, pa), append(tr.mark, mark), append(tr.ambient, amb)
	if i > 0 && d.IntN(15) == 0 {
		d.grid = append(d.grid, row)
		tr.in.Rows++
		tr.in.Duplicates++
	}
}

// ending changes the order of the last rows, and puts a line under them.
func (d *dress) ending(tr *truth, n int) {
	if last := len(d.grid) - 1; d.IntN(3) == 0 && fmt.Sprint(d.grid[last][:d.nTime]) != fmt.Sprint(d.grid[last-1][:d.nTime]) && n > 6 {
		d.grid[last], d.grid[last-1] = d.grid[last-1], d.grid[last]
		tr.in.OutOfOrder++
	}
	if d.IntN(3) == 0 {
		d.grid = append(d.grid, []any{"Minimum", "x"})
		tr.in.Rows++
		tr.in.Unused++
	}
	if !d.book && d.IntN(3) == 0 && d.canBlank() {
		d.sep = "    "
	}
}

// canBlank reports that blanks can part the cells: there are several columns, none is empty, and the rows
// of readings begin with a digit.
func (d *dress) canBlank() bool {
	wide := 0
	for _, row := range d.grid {
		wide = max(wide, len(row))
	}
	for _, row := range d.grid {
		if len(row) > 2 && len(row) != wide || slices.Contains(row, any("")) && len(row) > 1 || strings.HasPrefix(fmt.Sprint(row[0]), "Mon ") {
			return false
		}
	}
	return d.unitAt != 1 && !strings.ContainsAny(fmt.Sprint(d.grid[len(d.grid)-1][0])[:1], "MTWFS")
}

func (d *dress) ambient(t float64) any {
	if d.cells {
		return t
	}
	return d.write(t, 1)
}
