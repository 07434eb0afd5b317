package quantity

import (
	"math"
	"strconv"
	"strings"
)

// nbsp is the only fixed space that the record's font has.
const nbsp = "\u00a0"

// Places is the number of decimals, in unit u, that shows a standard or
// expanded uncertainty (SI) with two figures; 0 where they lie left of the point.
func Places(uncertainty float64, u Unit) int {
	x := math.Abs(uncertainty / u.Scale)
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return 0
	}
	p := 1 - int(math.Floor(math.Log10(x)+1e-9))
	if math.Round(x*math.Pow10(p)) >= 100 { // 9.97 is 10 in two figures
		p--
	}
	return min(max(p, 0), 9)
}

// Number prints an SI value in unit u with the given decimals and a separator
// of thousands; the minus is U+2212. Without the unit's name.
func Number(si float64, u Unit, places int, thousands string) string {
	s := strconv.FormatFloat(math.Abs(u.From(si)), 'f', places, 64)
	whole, frac, _ := strings.Cut(s, ".")
	if len(whole) > 3 {
		var b strings.Builder
		for i, c := range whole {
			if i > 0 && (len(whole)-i)%3 == 0 {
				b.WriteString(thousands)
			}
			b.WriteRune(c)
		}
		whole = b.String()
	}
	if frac != "" {
		whole += "." + frac
	}
	if u.From(si) < 0 && strings.Trim(whole, "0.,"+nbsp) != "" {
		whole = "−" + whole
	}
	return whole
}

// System is a set of units for pages: "us" or "si".
type System struct {
	Name                        string
	Vacuum, Pressure            Unit // deep vacuum; pressures above the atmosphere
	Temperature, Difference     Unit
	Length, Volume, Mass, Flow  Unit
	Rate, Throughput, SmallMass Unit
	Atmosphere, MassRate        Unit
}

// US and SI are the two systems that a page can be set in.
var (
	US = System{"us", Micron, Psig, Fahrenheit, DeltaF, Foot, Litre, Pound, CFM, MicronPerMin, PaM3PerS, Gram, KPa, OuncePerYear}
	SI = System{"si", Pa, Barg, Celsius, DeltaK, Metre, Litre, Kilogram, M3PerH, PaPerS, PaM3PerS, Gram, KPa, GramPerYear}
)

// SystemOf returns the system of that name; US when empty or unknown.
func SystemOf(name string) System {
	if name == "si" {
		return SI
	}
	return US
}
