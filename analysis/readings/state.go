package readings

import (
	"fmt"
	"strings"

	"dryhold/analysis/fault"
	"dryhold/analysis/quantity"
)

// state gives role r to the column whose header the job states, alone.
func (l *layout) state(want string, r role) {
	if want == "" {
		return
	}
	cols, unit := l.find(want)
	for i := range l.heads {
		if len(cols) > 0 && i == cols[0] {
			keep := l.heads[i].role
			l.heads[i].role = r
			if r == roleTime && keep == roleElapsed {
				l.heads[i].role = roleElapsed
			}
			if unit != "" {
				l.heads[i].unit = unit
			}
			l.stated[r] = unit
		} else if l.heads[i].role == r || r == roleTime && l.heads[i].role == roleElapsed {
			l.heads[i].role = roleNot
		}
	}
}

// find looks for a header as stated: whole, or with a unit in brackets added, or
// by the letter of its column. Several columns can have one header.
func (l *layout) find(want string) (cols []int, unit string) {
	if cols = l.called(want); len(cols) > 0 {
		return cols, ""
	}
	if name, u, ok := bracketed(want); ok {
		if cols = l.called(name); len(cols) > 0 {
			return cols, u
		}
	}
	if col, u, ok := byLetter(want); ok && col < len(l.heads) && len(l.heads[col].words)+len(l.heads[col].unit) > 0 {
		return []int{col}, u
	}
	return nil, ""
}

// called lists the columns that have a header, case apart.
func (l *layout) called(name string) (cols []int) {
	for col, h := range l.heads {
		if h.text != "" && strings.EqualFold(h.text, strings.TrimSpace(name)) {
			cols = append(cols, col)
		}
	}
	return cols
}

// name is how the job can state a column: by its header, or by its letter where
// the header says nothing or others have it too.
func (l *layout) name(col int) string {
	if h := l.heads[col].text; len(l.called(h)) == 1 {
		return h
	}
	return "column " + letter(col)
}

// listed is how many columns a message lists.
const listed = 12

// told lists columns for a message.
func (l *layout) told(cols []int) string {
	var names []string
	for _, c := range cols[:min(len(cols), listed)] {
		names = append(names, fmt.Sprintf("%s %q", letter(c), l.heads[c].text))
	}
	return strings.Join(names, ", ")
}

// choices are the lines of a job file that state one of several columns, or one
// of several units of a column.
func (l *layout) choices(key string, cols []int, units ...string) string {
	var lines []string
	for _, c := range cols[:min(len(cols), listed)] {
		if len(units) == 0 {
			lines = append(lines, fmt.Sprintf("%s = %q", key, l.name(c)))
		}
		for _, u := range units {
			lines = append(lines, fmt.Sprintf("%s = %q", key, l.name(c)+" ["+u+"]"))
		}
	}
	return strings.Join(lines, " or ")
}

// bracketed cuts "Vacuum [psia]" into its parts.
func bracketed(s string) (name, unit string, ok bool) {
	s = strings.TrimSpace(s)
	i := strings.LastIndexByte(s, '[')
	if i < 0 || !strings.HasSuffix(s, "]") {
		return s, "", false
	}
	return strings.TrimSpace(s[:i]), strings.TrimSpace(s[i+1 : len(s)-1]), true
}

// unfound reports headers that the job states and the file lacks, or has twice,
// and a unit of the times that is none.
func unfound(t *table, lay *layout, o Options, rep *report) bool {
	list := lay.unfound(t, o)
	if u := lay.stated[roleTime]; u != "" && !timeUnit(u, o) {
		list = append(list, fault.Fault{Code: "time-unit", File: t.file, Sheet: t.sheet, Line: lineOf(t, lay), Key: "readings.time",
			Found:    fmt.Sprintf("%q is no unit of time and no offset from UTC", u),
			Expected: "s, min, hh:mm:ss, UTC-06:00 or dd/mm/yyyy", Mend: "correct time in job.toml"})
	}
	for _, f := range list {
		rep.add(f)
	}
	return len(list) > 0
}

// timeUnit reports what the job may write behind the header of the times.
func timeUnit(s string, o Options) bool {
	u, known := unitOf(s)
	_, away := offsetIn(s)
	_, zone := abbreviations(o)[foldWord(s)]
	return known && u.Dim == quantity.DimTime || timeShape(s) != "" || away || zone || patternOf(s) != ""
}

// unfound is a fault for each header that the job states and the table lacks, or has
// twice.
func (l *layout) unfound(t *table, o Options) (list []fault.Fault) {
	if l.header < 0 {
		return nil
	}
	for _, w := range []struct {
		key, name string
		role      role
	}{{"time", o.Time, roleElapsed}, {"pressure", o.Pressure, rolePressure}, {"ambient", o.Ambient, roleAmbient}} {
		cols, _ := l.find(w.name)
		f := fault.Fault{Code: "column", File: t.file, Sheet: t.sheet, Line: lineOf(t, l), Key: "readings." + w.key}
		switch alike := l.within(cols, w.role); {
		case w.name == "":
			continue
		case len(cols) == 0:
			f.Found, f.Expected, f.Mend = fmt.Sprintf("no column %q; the headers are %s", w.name, l.list()), "one of them", l.meant(w.key, w.name)
		case len(alike) > 1:
			f.Found, f.Expected, f.Mend = fmt.Sprintf("%d columns have this header: %s", len(alike), l.told(alike)), "one", "say which by its letter: "+l.choices(w.key, alike)
		default:
			continue
		}
		list = append(list, f)
	}
	return list
}

// meant is the line that states a column which is there, where one header holds
// what was written.
func (l *layout) meant(key, name string) string {
	for col, h := range l.heads {
		if strings.Contains(foldWord(h.text), foldWord(name)) {
			return "did you mean " + l.choices(key, []int{col}) + "?"
		}
	}
	return "correct " + key + " in job.toml"
}

// within leaves out columns with a unit of another quantity: one header can be
// merged over a pressure and a temperature.
func (l *layout) within(cols []int, r role) (list []int) {
	for _, c := range cols {
		if of := roleOfUnit(l.heads[c].unit); of == roleNone || of == r {
			list = append(list, c)
		}
	}
	return list
}
