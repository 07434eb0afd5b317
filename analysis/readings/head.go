package readings

import (
	"regexp"
	"slices"
	"strings"
	"unicode"

	"dryhold/analysis/quantity"
)

// multiplier is a power of ten before a unit.
var multiplier = regexp.MustCompile(`(?i)(?:\b10\s*(?:\^|\*\*|e)\s*[-−+]?\d+|\b10[-−]\d+|\b10⁻?[⁰¹²³⁴⁵⁶⁷⁸⁹]+|[x×*]\s*10+|\be[-−+]\d+)\s*$`)

// parseHead takes a header apart: its words, its unit, its role.
func parseHead(s string) head {
	h := head{text: s}
	name := s
	if name, h.unit = splitUnit(s); name == "" {
		name = s
	}
	h.words = strings.FieldsFunc(foldWord(name), func(r rune) bool { return !unicode.IsLetter(r) })
	h.role = roleOf(h.words)
	if m := multiplier.FindString(name); m != "" && roleOfUnit(h.unit) == rolePressure {
		h.unit = strings.TrimSpace(m) + " " + h.unit // "10^-3 mbar" is no mbar
	}
	if h.unit != name && roleOfUnit(h.unit) == rolePressure && slices.Contains(h.words, "min") {
		h.role = roleNot // the least, not the minute
	}
	if h.role == roleZone && strings.ContainsAny(s, "0123456789") {
		h.role = roleTime // "Time (UTC offset -6)"
	}
	if (h.role == roleNone || h.role == roleValue) && h.unit != "" {
		if r := roleOfUnit(h.unit); r != roleElapsed || h.role == roleNone {
			h.role = r
		}
	}
	if h.role == roleTime && h.unit != "" && roleOfUnit(h.unit) == roleElapsed {
		h.role = roleElapsed
	}
	return h
}

// splitUnit cuts the unit off a header: in brackets anywhere, behind a comma, a
// slash or "in", or as the last one to three words.
func splitUnit(s string) (name, unit string) {
	for _, pair := range []string{"()", "[]", "{}"} {
		for from := 0; ; {
			i := strings.IndexByte(s[from:], pair[0])
			if i < 0 {
				break
			}
			i += from
			j := strings.IndexByte(s[i:], pair[1])
			if j < 0 {
				break
			}
			if in := strings.TrimSpace(s[i+1 : i+j]); knownUnit(in) || timeShape(in) != "" {
				return strings.TrimSpace(s[:i] + " " + s[i+j+1:]), in
			}
			from = i + j
		}
	}
	for _, mark := range []string{",", "/", " in ", " en ", ":", "_", "-", "."} {
		if i := strings.LastIndex(s, mark); i > 0 {
			if u := strings.TrimSpace(s[i+len(mark):]); knownUnit(u) || timeShape(u) != "" {
				return strings.TrimSpace(s[:i]), u
			}
		}
	}
	if knownUnit(s) {
		return "", s
	}
	fields := strings.Fields(s)
	for n := min(3, len(fields)-1); n > 0; n-- {
		if u := strings.Join(fields[len(fields)-n:], " "); knownUnit(u) {
			return strings.Join(fields[:len(fields)-n], " "), u
		}
	}
	if len(fields) > 1 && len(fields[0]) > 3 && roleOfUnit(fields[0]) == rolePressure { // "Micron level"
		return strings.Join(fields[1:], " "), fields[0]
	}
	return s, ""
}

// bare is a unit without the brackets that some exports write around it.
func bare(s string) string { return strings.Trim(s, "()[] ") }

// roleOf decides from all words: what takes a column out goes first, then
// temperature, elapsed time, and so on.
func roleOf(list []string) role {
	var has [roleNot + 1]bool
	for _, w := range list {
		r, ok := words[w]
		if !ok {
			r = stemRole(w)
		}
		has[r] = true
	}
	switch {
	case has[roleNot], has[roleStatus] && has[roleNone]: // a pump's status, a valve's state
		return roleNot
	case has[roleStatus]:
		return roleStatus
	case has[roleZone] && (has[roleTime] || has[roleUTC]), len(list) == 1 && slices.Contains([]string{"tz", "timezone", "zeitzone"}, list[0]):
		return roleZone
	case has[roleZone]: // a zone of the building, the offset of a gauge
		return roleNot
	case has[roleUTC] && len(list) == 1:
		return roleTime
	case has[roleHalf] || slices.Equal(list, []string{"am", "pm"}):
		return roleHalf
	case has[roleUnit]:
		return roleUnit
	case has[roleElapsed]:
		return roleElapsed
	case has[roleAmbient]:
		return roleAmbient
	case has[rolePressure]:
		return rolePressure
	case has[roleTime]:
		return roleTime
	case has[roleDate]:
		return roleDate
	case has[roleValue]:
		return roleValue
	}
	return roleNone
}

func stemRole(w string) role {
	if len(w) > 5 {
		for _, s := range stems {
			if strings.Contains(w, s.stem) {
				return s.role
			}
		}
	}
	return roleNone
}

func roleOfUnit(s string) role {
	if _, ok := quantity.Ambiguous(s); ok {
		return rolePressure
	}
	u, ok := unitOf(s)
	switch {
	case !ok:
		return roleNone
	case u.Dim == quantity.DimPressure:
		return rolePressure
	case u.Dim == quantity.DimTemperature:
		return roleAmbient
	case u.Dim == quantity.DimTime:
		return roleElapsed
	}
	return roleNone
}

// localUnits are names of time units that exports use beside the international ones.
var localUnits = map[string]quantity.Unit{
	"msec": quantity.Millisecond, "millis": quantity.Millisecond, "millisecond": quantity.Millisecond, "milliseconds": quantity.Millisecond,
	"milisegundos": quantity.Millisecond, "millisekunden": quantity.Millisecond, "millisecondes": quantity.Millisecond,
	"segundos": quantity.Second, "segundo": quantity.Second, "seg": quantity.Second, "sekunden": quantity.Second, "sek": quantity.Second,
	"secondes": quantity.Second,
	"minutos":  quantity.Minute, "minuten": quantity.Minute,
	"stunden": quantity.Hour, "std": quantity.Hour, "horas": quantity.Hour, "heures": quantity.Hour,
}

// unitOf finds a unit by its spelling.
func unitOf(s string) (quantity.Unit, bool) {
	s = strings.TrimSpace(s)
	if u, ok := quantity.LookUp(s); ok {
		return u, true
	}
	u, ok := localUnits[foldWord(s)]
	return u, ok
}

// timeShape recognises how a header writes the form of its times: "hh:mm:ss",
// "mm:ss", "hh:mm". Its letters count, not their number.
func timeShape(s string) string {
	shape := ""
	if len(s) > longestUnit {
		return ""
	}
	for _, part := range strings.Split(strings.ToLower(s), ":") {
		switch strings.Trim(part, "hmsx.f ") {
		case "":
		default:
			return ""
		}
		if part == "" {
			return ""
		}
		shape += part[:1]
	}
	switch shape {
	case "hms", "hm", "ms":
		return shape
	}
	return ""
}
