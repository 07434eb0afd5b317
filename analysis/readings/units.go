package readings

import (
	"slices"
	"strings"
	"unicode"

	"dryhold/analysis/quantity"
)

// unitsLine takes the row under the header as units, if it is one.
func (l *layout) unitsLine(t *table) {
	i := l.first
	for i < len(t.rows) && t.empty(i) {
		i++
	}
	if i >= len(t.rows) {
		return
	}
	if b := t.trimmed(t.at(i, l.timeColumn())); len(b) > 0 && b[0] >= '0' && b[0] <= '9' {
		return
	}
	found := false
	units := make([]string, len(l.heads))
	for col := range l.heads {
		b := t.trimmed(t.at(i, col))
		s := strings.Trim(string(b[:min(len(b), longestHead)]), "()[] ")
		if s == "" {
			continue
		}
		if !knownUnit(s) && timeShape(s) == "" {
			if l.heads[col].role == rolePressure {
				return
			}
			continue
		}
		units[col] = s
		found = found || l.heads[col].role == rolePressure
	}
	if !found {
		return
	}
	for col, u := range units {
		if u != "" && l.stated[l.heads[col].role] == "" {
			l.heads[col].unit = u
		}
	}
	l.first = i + 1
	// One header merged over a pressure and a temperature: the unit decides.
	l.pressures = slices.DeleteFunc(l.pressures, func(col int) bool {
		other := roleOfUnit(l.heads[col].unit) == roleAmbient
		if other {
			l.heads[col].role, l.ambients = roleAmbient, append(l.ambients, col)
		}
		return other
	})
}

// byUnits gives a role to columns whose header says nothing, but which have a
// unit in the row under it: "Channel 1" over "mbar".
func (l *layout) byUnits(t *table) {
	if !slices.ContainsFunc(l.heads, func(h head) bool { return h.role == roleTime || h.role == roleElapsed }) {
		return
	}
	i := l.header + 1
	for i < len(t.rows) && t.empty(i) {
		i++
	}
	if i >= len(t.rows) {
		return
	}
	for col := range l.heads {
		if h := &l.heads[col]; h.text != "" && (h.role == roleNone || h.role == roleValue) {
			b := t.trimmed(t.at(i, col))
			if r := roleOfUnit(strings.Trim(string(b[:min(len(b), longestUnit)]), "()[] ")); r == rolePressure || r == roleAmbient {
				h.role = r
			}
		}
	}
}

// lettered is the layout of a file without a header, where the job names the
// columns by their letters.
func lettered(t *table, o Options) *layout {
	tc, tu, ok1 := byLetter(o.Time)
	pc, pu, ok2 := byLetter(o.Pressure)
	if !ok1 || !ok2 {
		return nil
	}
	lay := newLayout(-1)
	lay.time, lay.pressures = tc, []int{pc}
	lay.stated[roleTime], lay.stated[rolePressure] = tu, pu
	ac, au, ok3 := byLetter(o.Ambient)
	lay.width = maxColumns
	lay.heads = make([]head, max(tc, pc, ac)+1)
	lay.heads[tc], lay.heads[pc] = head{text: "column " + letter(tc), unit: tu, role: roleTime}, head{text: "column " + letter(pc), unit: pu, role: rolePressure}
	if u, ok := unitOf(tu); ok && u.Dim == quantity.DimTime || timeShape(tu) != "" {
		lay.heads[tc].role = roleElapsed
	}
	if ok3 {
		lay.ambients, lay.heads[ac] = []int{ac}, head{text: "column " + letter(ac), unit: au, role: roleAmbient}
	}
	for lay.first < len(t.rows) {
		if b := t.trimmed(t.at(lay.first, tc)); len(b) > 0 && unicode.IsDigit(rune(b[0])) && len(t.trimmed(t.at(lay.first, pc))) > 0 {
			return lay
		}
		lay.first++
	}
	return nil
}

// byLetter reads "column B [micron]".
func byLetter(s string) (col int, unit string, ok bool) {
	s, unit, _ = bracketed(s)
	name, ok := strings.CutPrefix(strings.ToLower(s), "column ")
	name = strings.TrimSpace(name)
	if !ok || name == "" || len(name) > 2 {
		return 0, "", false
	}
	for _, r := range name {
		if r < 'a' || r > 'z' {
			return 0, "", false
		}
		col = col*26 + int(r-'a') + 1
	}
	return col - 1, unit, col <= maxColumns
}

// knownUnit reports whether s is a unit of pressure, temperature or time.
func knownUnit(s string) bool {
	if len(s) > longestUnit {
		return false
	}
	if _, bad := quantity.Ambiguous(s); bad {
		return true
	}
	u, ok := unitOf(s)
	return ok && (u.Dim == quantity.DimPressure || u.Dim == quantity.DimTemperature || u.Dim == quantity.DimTime)
}
