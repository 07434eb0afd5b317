package readings

import (
	"fmt"
	"slices"

	"dryhold/analysis/fault"
	"dryhold/analysis/quantity"
)

// values reads the numbers of one column into SI.
type values struct {
	t     *table
	lay   *layout
	rep   *report
	minor bool // its faults are doubts: the temperature beside a vacuum
	col   int
	dim   quantity.Dimension
	style style
	unit  quantity.Unit // of the column; zero where every value has its own
	last  string        // the last unit text seen, and what it meant
	own   quantity.Unit
	names []string // units met, in order
	told  bool     // that a unit is missing
}

// pressureExpected is what a unit of a pressure can be, for messages.
const pressureExpected = "micron, mTorr, Torr, mbar, Pa or another unit of pressure"

// newValues settles the style and the unit of a column.
func newValues(t *table, lay *layout, col int, dim quantity.Dimension, o Options, rep *report) (*values, bool) {
	v := &values{t: t, lay: lay, rep: rep, col: col, dim: dim, minor: dim == quantity.DimTemperature && o.Quantity == Vacuum}
	return v, v.single() && v.findUnit() && v.findStyle(o.Decimal)
}

// single refuses a pressure column whose unit column names other quantities too: the
// rows of several channels below each other, of which some are no pressures. A unit
// that the job states cannot make them any.
func (v *values) single() bool {
	if v.dim != quantity.DimPressure || v.lay.unit < 0 {
		return true
	}
	pressure, other, last := "", "", ""
	for i := v.lay.first; i < len(v.t.rows) && (pressure == "" || other == ""); i++ {
		name := string(v.t.trimmed(v.t.at(i, v.lay.unit)))
		if name == last || !knownUnit(name) {
			continue
		}
		if last = name; roleOfUnit(name) == rolePressure {
			pressure = name
		} else {
			other = name
		}
	}
	if pressure == "" || other == "" {
		return true
	}
	v.rep.add(fault.Fault{Code: "mixed-channels", File: v.t.file, Sheet: v.t.sheet, Line: lineOf(v.t, v.lay),
		Found:    fmt.Sprintf("column %s %q has values in %s and in %s: several channels below each other", letter(v.col), v.head(), pressure, other),
		Expected: "a column for each channel", Mend: "export again with a column, or a file, for each channel"})
	return false
}

// add reports a fault of this column.
func (v *values) add(f fault.Fault) {
	f.Doubt = v.minor
	v.rep.add(f)
}

func (v *values) head() string { return v.lay.heads[v.col].text }

// findUnit takes the unit of the header or units line; failing that, every
// value needs its own, behind it or in the unit column.
func (v *values) findUnit() bool {
	name := v.lay.heads[v.col].unit
	if name == "" {
		return true
	}
	u, ok := v.look(name, lineOf(v.t, v.lay))
	v.unit = u
	v.names = append(v.names, u.Name)
	return ok
}

// look finds a unit of the column's dimension, deciding a missing reference
// where the values allow only one.
func (v *values) look(name string, line int) (quantity.Unit, bool) {
	if ways, ok := quantity.Ambiguous(name); ok && v.dim == quantity.DimPressure {
		if slices.ContainsFunc(v.lay.heads[v.col].words, func(w string) bool { return absoluteWords[w] }) {
			u, _ := quantity.LookUp(ways[0])
			return u, true
		}
		if v.below() {
			u, _ := quantity.LookUp(ways[1])
			return u, true
		}
		v.rep.add(fault.Fault{Code: "reference", File: v.t.file, Sheet: v.t.sheet, Line: line,
			Found:    fmt.Sprintf("column %s %q is in %s, which can be %s or %s", letter(v.col), v.head(), name, ways[0], ways[1]),
			Expected: "a unit that says from where it is counted",
			Mend:     "say which in job.toml: [[readings]] " + v.lay.choices("pressure", []int{v.col}, ways[:]...)})
		return quantity.Unit{}, false
	}
	u, ok := unitOf(name)
	if ok && u.Dim == v.dim {
		return u, true
	}
	v.rep.add(fault.Fault{Code: "unit", File: v.t.file, Sheet: v.t.sheet, Line: line, Doubt: v.minor,
		Found:    fmt.Sprintf("column %s %q: %q is no known unit of %s", letter(v.col), v.head(), name, v.dim),
		Expected: map[quantity.Dimension]string{quantity.DimPressure: pressureExpected, quantity.DimTemperature: "°C, °F or K"}[v.dim],
		Mend:     "say which unit it is in job.toml, for example: [[readings]] " + v.units()})
	return quantity.Unit{}, false
}

// below reports a column with values far below zero, which absolute pressures
// never have.
func (v *values) below() bool {
	for i := v.lay.first; i < len(v.t.rows); i++ {
		if x, _, ok := pointStyle.scan(v.t.trimmed(v.t.at(i, v.col))); ok && x < -1 {
			return true
		}
	}
	return false
}

// read gives the number of row i with its unit, nil for a mark without a number.
// m is notNumber where the row has none, and ok is false where the cell is refused.
func (v *values) read(i int) (x float64, u *quantity.Unit, m Mark, ok bool) {
	c := v.t.at(i, v.col)
	b := v.t.trimmed(c)
	if c.is() == unsaved {
		v.rep.add(v.t.unsavedFault(i, v.col, v.head()))
		return 0, u, notNumber, false
	}
	if len(b) == 0 || c.is() == failed {
		return 0, u, notNumber, true
	}
	b, m = bound(b)
	st := v.style
	if c.is() != text {
		st = pointStyle
	}
	x, rest, isNumber := st.scan(b)
	if isNumber && len(rest) == 0 && v.unit.Scale != 0 {
		return x, &v.unit, m, true
	}
	if !isNumber || strange(b) {
		if len(b) == 0 {
			return 0, u, m, true
		}
		word, refused := markOf(b)
		if m != Used && word != notNumber || m == Used {
			m = word
		}
		if refused || strange(b) || isNumber {
			return 0, u, m, v.refuse(i)
		}
		return 0, u, m, true
	}
	if rest = trim(rest); m == Used && len(rest) > 0 && rest[0] == '+' { // "20000+"
		m, rest = OverRange, trim(rest[1:])
	}
	if len(rest) > 0 {
		if u, ok = v.behind(string(rest), i); !ok {
			return 0, u, m, v.refuse(i)
		}
	} else if u, ok = v.inColumn(i); !ok {
		return 0, u, m, false
	}
	if u.Scale == 0 {
		if !v.told {
			v.told = true
			v.rep.add(v.noUnit())
		}
		return 0, u, m, false
	}
	return x, u, m, true
}

// inColumn finds the unit of row i in a column of units, where there is one and
// the header has none.
func (v *values) inColumn(i int) (*quantity.Unit, bool) {
	col := v.lay.unit
	if col < 0 || v.lay.heads[v.col].unit != "" || v.dim != quantity.DimPressure {
		return &v.unit, true
	}
	name := v.t.trimmed(v.t.at(i, col))
	if len(name) == 0 {
		return &v.unit, true
	}
	u, ok := v.behind(string(name), i)
	if _, told := quantity.Ambiguous(string(name)); !ok && !told {
		v.add(v.t.cellFault("unit", i, col, v.lay.heads[col].text, pressureExpected, correctCell))
	}
	return u, ok
}

// behind finds the unit written behind a value or in the unit column. A unit
// other than the header's is a contradiction.
func (v *values) behind(name string, i int) (*quantity.Unit, bool) {
	if name == v.last {
		return &v.own, v.own.Scale != 0
	}
	v.last, v.own = name, quantity.Unit{}
	if !knownUnit(name) {
		if _, amb := quantity.Ambiguous(name); !amb {
			return &v.own, false
		}
	}
	u, ok := v.look(name, int(v.t.rows[i].number))
	if !ok || v.unit.Scale != 0 && v.unit != u {
		return &v.own, false
	}
	if v.unit.Scale == 0 {
		v.names = append(v.names, u.Name)
	}
	v.own = u
	return &v.own, true
}

func (v *values) noUnit() fault.Fault {
	key := "pressure"
	if v.dim == quantity.DimTemperature {
		key = "ambient"
	}
	return fault.Fault{Code: "no-unit-" + key, File: v.t.file, Sheet: v.t.sheet, Line: lineOf(v.t, v.lay), Doubt: v.minor,
		Found: fmt.Sprintf("column %s %q has no unit", letter(v.col), v.head()), Expected: "a unit in the header, under it or behind each value",
		Mend: "say which in job.toml, for example: [[readings]] " + v.units()}
}

// units are lines of a job file that state the column's unit.
func (v *values) units() string {
	if v.dim == quantity.DimTemperature {
		return v.lay.choices("ambient", []int{v.col}, "°C", "°F")
	}
	return v.lay.choices("pressure", []int{v.col}, "micron", "mbar")
}

// refuse reports a cell that is neither a number nor a known mark.
func (v *values) refuse(i int) bool {
	unit := v.unit.Name
	if unit != "" {
		unit = " in " + unit
	}
	v.add(v.t.cellFault("number", i, v.col, v.head(), "a number"+unit+", an over-range mark or a blank cell", correctCell))
	return false
}
