package quantity

import (
	"slices"
	"strings"
)

// spellings maps a folded spelling (see fold) to its unit.
var spellings = map[string]Unit{}

// inchesOfMercury are spellings of the unit that say nothing of its reference.
var inchesOfMercury = []string{"inhg", "in hg", "in. hg", "in.hg", "\"hg", "inches hg", "inches of mercury"}

func init() {
	add := func(u Unit, names ...string) {
		for _, n := range append(names, u.Name) {
			spellings[fold(n)] = u
		}
	}
	add(Pa, "pascal", "pascals", "pa(a)", "paa")
	add(HPa, "hectopascal", "hpa(a)")
	add(KPa, "kilopascal", "kpa(a)", "kpaa")
	add(MPa, "mpa(a)")
	add(Mbar, "millibar", "mbar(a)", "mbara")
	add(Microbar, "microbar", "ubar")
	add(Bara, "bar(a)")
	add(Barg, "bar(g)", "bar gauge")
	add(KPag, "kpa(g)", "kpa gauge")
	add(MPag, "mpa(g)", "mpa gauge")
	add(Psia, "psi(a)")
	add(Psig, "psi(g)", "psi gauge", "lb/in2 gauge")
	add(Micron, "microns", "µ", "um", "µm", "umhg", "µmhg", "µm hg", "um hg", "micron hg", "microns hg", "uhg", "micrones", "micra", "micras", "mikron", "micrometers hg", "micron of mercury", "microns of mercury", "microns of hg", "micron of hg", "micras de hg", "µhg")
	add(MTorr, "millitorr")
	add(Torr)
	add(MmHg, "mm hg", "mm of mercury")
	add(InHgAbs, "inhga", "inhg(a)")
	add(InHgVac, "inhgv", "inhg(v)", "inches of vacuum")
	for _, n := range inchesOfMercury {
		add(InHgVac, n+" vac", n+" vacuum")
	}
	add(Atm)
	add(Kelvin)
	add(Celsius, "c", "degc", "deg c", "celsius", "ºc", "℃")
	add(Fahrenheit, "f", "degf", "deg f", "fahrenheit", "ºf", "℉")
	add(Metre, "metre", "metres", "meter", "meters")
	add(Millimetre)
	add(Unit{"cm", DimLength, 1e-2, 0, Absolute})
	add(Foot, "feet", "foot", "'")
	add(Inch, "inch", "inches", "\"")
	add(CubicMetre, "m³", "m^3")
	add(Litre, "litre", "litres", "liter", "liters", "dm3", "dm³")
	add(Unit{"mL", DimVolume, 1e-6, 0, Absolute}, "cm3", "cm³", "cc")
	add(CubicFoot, "ft³", "cu ft", "ft^3")
	add(Unit{"in3", DimVolume, inch * inch * inch, 0, Absolute}, "in³", "cu in")
	add(Unit{"gal", DimVolume, 231 * inch * inch * inch, 0, Absolute}, "us gal")
	add(Kilogram)
	add(Gram, "grams")
	add(Milligram)
	add(Pound, "lbs", "pound", "pounds")
	add(Ounce, "ounce", "ounces")
	add(Second, "sec", "secs", "second", "seconds")
	add(Millisecond)
	add(Minute, "mins", "minute", "minutes")
	add(Hour, "hr", "hrs", "hour", "hours")
	add(Day, "day", "days")
	add(M3PerS, "m³/s")
	add(M3PerH, "m³/h", "m3/hr", "m³/hr")
	add(LPerS)
	add(LPerMin)
	add(CFM, "ft3/min", "ft³/min")
	add(PaM3PerS, "pa m³/s", "pa·m³/s", "pa*m3/s", "pa·m3/s")
	add(MbarLPerS, "mbar·l/s", "mbar*l/s")
	add(Volt)
	add(Unit{"kV", DimVoltage, 1e3, 0, Absolute})
	add(Ampere, "amp", "amps")
	add(Ohm, "Ω")
	add(Unit{"kohm", DimResistance, 1e3, 0, Absolute}, "kΩ")
	add(Megohm, "MΩ", "megaohm")
	add(PaPerS)
	add(MicronPerMin, "microns/min", "micron a minute")
	add(GramPerYear, "g/yr", "g/a")
	add(OuncePerYear, "oz/yr")
	add(Percent)
	delete(spellings, fold(One.Name)) // a missing unit is no unit
}

var sameSigns = strings.NewReplacer("μ", "µ", "℃", "°c", "℉", "°f", "˚", "°", "\u00a0", " ", "\u202f", " ")

// fold makes a spelling comparable: case, kind of micro sign, spaces and dots.
func fold(s string) string {
	s = strings.ToLower(strings.TrimSpace(s))
	s = sameSigns.Replace(s)
	return strings.Join(strings.Fields(strings.TrimSuffix(s, ".")), " ")
}

// absoluteTails stand behind a unit that is absolute with them or without.
var absoluteTails = []string{"(absolute)", "(abs)", "absolute", "abs"}

// LookUp finds a unit by any of its spellings. Bare "psi", "bar" and "inHg" are
// not units: Ambiguous tells how to say which is meant. Nor is "mPa", a
// thousandth of a pascal, which would be taken for the megapascal.
func LookUp(s string) (Unit, bool) {
	name := fold(s)
	if strings.HasPrefix(strings.TrimSpace(s), "m") && strings.HasPrefix(name, "mpa") {
		return Unit{}, false
	}
	if u, ok := spellings[name]; ok {
		return u, true
	}
	for _, tail := range absoluteTails {
		base, cut := strings.CutSuffix(name, tail)
		if ways, two := Ambiguous(base); two {
			base = ways[0]
		}
		if u, ok := spellings[fold(base)]; cut && ok && u.Dim == DimPressure && u.Ref == Absolute {
			return u, true
		}
	}
	return Unit{}, false
}

// Ambiguous returns the two ways to write a unit whose reference is missing.
func Ambiguous(s string) (ways [2]string, ok bool) {
	switch name := fold(s); {
	case name == "psi" || name == "lb/in2":
		return [2]string{"psia", "psig"}, true
	case name == "bar":
		return [2]string{"bara", "barg"}, true
	case slices.Contains(inchesOfMercury, name):
		return [2]string{"inHg abs", "inHg vac"}, true
	}
	return ways, false
}
