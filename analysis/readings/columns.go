package readings

import (
	"strings"

	"dryhold/analysis/fault"
	"dryhold/analysis/quantity"
)

// choosePressure settles which column is the reading. Two gauges in one file
// are never guessed between, but for a vacuum gauge beside gauge pressures.
func choosePressure(t *table, lay *layout, o Options, rep *report) (col int, why string) {
	list := withData(t, lay, lay.pressures)
	if o.Pressure != "" && len(list) == 1 {
		return list[0], "stated in the job"
	}
	if len(list) == 0 {
		list = lay.pressures[:1]
	}
	if len(list) == 1 {
		return list[0], "the only pressure column"
	}
	var fit []int
	for _, c := range list {
		if (o.Quantity == Vacuum) == vacuumColumn(lay.heads[c]) {
			fit = append(fit, c)
		}
	}
	if o.Pressure == "" && len(fit) == 1 {
		if o.Quantity == Vacuum {
			return fit[0], "the only vacuum column"
		}
		return fit[0], "the only column of gauge pressure"
	}
	rep.add(fault.Fault{Code: "channels", File: t.file, Sheet: t.sheet, Line: lineOf(t, lay), Found: "several pressure columns: " + lay.told(list),
		Expected: "one", Mend: "say which in job.toml: [[readings]] " + lay.choices("pressure", list)})
	return -1, ""
}

func lineOf(t *table, lay *layout) int {
	if lay.header < 0 {
		return 0
	}
	return int(t.rows[lay.header].number)
}

// vacuumColumn reports a column that by name or unit is an absolute vacuum.
func vacuumColumn(h head) bool {
	for _, w := range h.words {
		if vacuumWords[w] || strings.Contains(w, "vakuum") {
			return true
		}
	}
	u, ok := unitOf(h.unit)
	return ok && u.Ref == quantity.Absolute && u.Scale <= quantity.Mbar.Scale*1.4
}

// withData leaves out columns that are blank all the way down.
func withData(t *table, lay *layout, list []int) []int {
	var full []int
	for _, c := range list {
		for i := lay.first; i < len(t.rows); i++ {
			if t.filled(t.at(i, c)) {
				full = append(full, c)
				break
			}
		}
	}
	return full
}

// chooseAmbient settles the temperature column; -1 where there is none or it
// can't be decided.
func chooseAmbient(t *table, lay *layout, o Options, rep *report) (col int, why string) {
	list := withData(t, lay, lay.ambients)
	switch {
	case len(list) == 0:
		return -1, ""
	case len(list) == 1 && o.Ambient != "":
		return list[0], "stated in the job"
	case len(list) == 1:
		return list[0], "the only temperature column"
	}
	var near []int
	for _, c := range list {
		for _, w := range lay.heads[c].words {
			if nearWords[w] {
				near = append(near, c)
				break
			}
		}
	}
	if len(near) == 1 {
		return near[0], "the only temperature of the surroundings or the pipe"
	}
	rep.add(fault.Fault{Code: "temperatures", File: t.file, Sheet: t.sheet, Line: lineOf(t, lay), Found: "several temperature columns: " + lay.told(list),
		Expected: "one", Mend: "say which in job.toml: [[readings]] " + lay.choices("ambient", list), Doubt: o.Quantity == Vacuum})
	return -1, ""
}
