package readings

import (
	"fmt"
	"strconv"

	"dryhold/analysis/quantity"
)

// findStyle decides the decimal mark from the whole column, then from the
// file's other columns, then from what is possible at all, then from what
// separates the cells. The last does not hold where some numbers have no mark:
// "1.496" beside "897" looks like thousands in any file. What the job states goes
// before all of it.
func (v *values) findStyle(stated string) bool {
	if stated != "" {
		v.style = statedStyle(stated)
		return true
	}
	e := v.t.evidence(v.lay, v.col)
	v.style = pointStyle
	if e.comma > 0 {
		v.style = commaStyle
	}
	if e.point+e.comma > 0 || e.pointDoubt+e.commaDoubt == 0 {
		return true
	}
	var all evidence
	for col, h := range v.lay.heads {
		if h.role == rolePressure || h.role == roleAmbient {
			x := v.t.evidence(v.lay, col)
			all.point, all.comma = all.point+x.point, all.comma+x.comma
		}
	}
	if all.point+all.comma == 0 && e.bare == 0 {
		switch {
		case e.pointDoubt > 0 && (v.t.separator == ',' || v.tooHigh(commaStyle, e.pointDoubt-1)):
			all.point = 1
		case e.commaDoubt > 0 && e.pointDoubt == 0 && (v.t.separator == ';' || v.tooHigh(pointStyle, e.commaDoubt-1)):
			all.comma = 1
		}
	}
	switch {
	case all.point > 0 && all.comma == 0:
		return true
	case all.comma > 0 && all.point == 0:
		v.style = commaStyle
		return true
	}
	row := max(e.pointDoubt, e.commaDoubt) - 1
	b := v.t.trimmed(v.t.at(row, v.col))
	one, _, _ := pointStyle.scan(b)
	two, _, _ := commaStyle.scan(b)
	v.add(v.t.cellFault("decimal", row, v.col, v.head(), fmt.Sprintf("a number that can be read in one way; this is %g or %g", one, two),
		fmt.Sprintf(`say what the decimal mark is, in job.toml: [[readings]] decimal = "point" (%s) or decimal = "comma" (%s)`, meant(pointStyle, b), meant(commaStyle, b))))
	return false
}

func statedStyle(decimal string) style {
	if decimal == "comma" {
		return commaStyle
	}
	return pointStyle
}

func meant(s style, b []byte) string {
	x, _, _ := s.scan(b)
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// tooHigh reports that row i, read in a style, is more than any circuit holds:
// 200 bar.
func (v *values) tooHigh(st style, i int) bool {
	x, _, _ := st.scan(v.t.trimmed(v.t.at(i, v.col)))
	return v.dim == quantity.DimPressure && v.unit.SI(x) > 2e7
}

// evidence looks at the text cells of a column up to the first that proves the
// decimal mark. A later one that contradicts it is refused when it is read.
func (t *table) evidence(lay *layout, col int) (e evidence) {
	for i := lay.first; i < len(t.rows) && e.point+e.comma == 0; i++ {
		if c := t.at(i, col); c.is() == text {
			e.look(t.trimmed(c), i)
		}
	}
	return e
}
