// Package quantity is the only place that knows units: it parses "35 ft" or
// "9.6 L ± 15 %", converts to SI, and prints in the unit that a reader wants.
// No other package holds a conversion factor.
//
// Factors are exact definitions: the international foot and pound, standard
// gravity 9.80665 m/s2, the conventional millimetre of mercury 133.322387415 Pa
// (BIPM SI Brochure, 9th edition; NIST SP 811). One micron of mercury is
// 0.133322387415 Pa; a millitorr, 101325/760000 Pa, differs by 1.4e-7 of itself;
// see Alike.
package quantity

// Dimension is the kind of a quantity; its SI unit stands beside it.
type Dimension uint8

const (
	DimNone        Dimension = iota // 1
	DimPressure                     // Pa
	DimTemperature                  // K
	DimDifference                   // K, a temperature difference
	DimLength                       // m
	DimVolume                       // m3
	DimMass                         // kg
	DimTime                         // s
	DimFlow                         // m3/s, volume flow rate
	DimThroughput                   // Pa m3/s
	DimVoltage                      // V
	DimCurrent                      // A
	DimResistance                   // ohm
	DimRate                         // Pa/s
	DimMassRate                     // kg/s
)

// Reference says from where a pressure is counted.
type Reference uint8

const (
	Absolute Reference = iota // from zero
	Gauge                     // above the local atmosphere
	Vacuum                    // below the local atmosphere, counted downward
)

// Unit is a named unit: SI value = Scale x value + Offset.
type Unit struct {
	Name   string // as printed
	Dim    Dimension
	Scale  float64
	Offset float64
	Ref    Reference
}

// SI converts v in unit u to SI. A gauge or vacuum pressure keeps its
// reference: use Pa to make it absolute.
func (u Unit) SI(v float64) float64 { return u.Scale*v + u.Offset }

// From converts an SI value into unit u.
func (u Unit) From(si float64) float64 { return (si - u.Offset) / u.Scale }

// Pa makes v in unit u an absolute pressure, given the local atmosphere in Pa.
func (u Unit) Pa(v, atmosphere float64) float64 {
	switch u.Ref {
	case Gauge:
		return u.SI(v) + atmosphere
	case Vacuum:
		return atmosphere - u.SI(v)
	}
	return u.SI(v)
}

const (
	mmHg  = 133.322387415
	torr  = 101325.0 / 760
	inch  = 0.0254
	pound = 0.45359237
	psi   = pound * 9.80665 / (inch * inch)
	inHg  = 25.4 * mmHg
	litre = 1e-3
	year  = 31557600.0 // Julian year
)

// Alike is the relative difference within which two pressures are one: a millitorr
// and a micron of mercury, 1.4e-7 apart, stand for each other, and the same
// pressure in two units differs in its last digits.
const Alike = 2e-7

// The units that the program prints or computes with; spelling.go has the others that are read.
var (
	Pa           = Unit{"Pa", DimPressure, 1, 0, Absolute}
	HPa          = Unit{"hPa", DimPressure, 100, 0, Absolute}
	KPa          = Unit{"kPa", DimPressure, 1e3, 0, Absolute}
	MPa          = Unit{"MPa", DimPressure, 1e6, 0, Absolute}
	Mbar         = Unit{"mbar", DimPressure, 100, 0, Absolute}
	Microbar     = Unit{"µbar", DimPressure, 0.1, 0, Absolute}
	Bara         = Unit{"bara", DimPressure, 1e5, 0, Absolute}
	Barg         = Unit{"barg", DimPressure, 1e5, 0, Gauge}
	KPag         = Unit{"kPag", DimPressure, 1e3, 0, Gauge}
	MPag         = Unit{"MPag", DimPressure, 1e6, 0, Gauge}
	Psia         = Unit{"psia", DimPressure, psi, 0, Absolute}
	Psig         = Unit{"psig", DimPressure, psi, 0, Gauge}
	Micron       = Unit{"micron", DimPressure, mmHg / 1000, 0, Absolute}
	MTorr        = Unit{"mTorr", DimPressure, torr / 1000, 0, Absolute}
	Torr         = Unit{"Torr", DimPressure, torr, 0, Absolute}
	MmHg         = Unit{"mmHg", DimPressure, mmHg, 0, Absolute}
	InHgAbs      = Unit{"inHg abs", DimPressure, inHg, 0, Absolute}
	InHgVac      = Unit{"inHg vac", DimPressure, inHg, 0, Vacuum}
	Atm          = Unit{"atm", DimPressure, 101325, 0, Absolute}
	Kelvin       = Unit{"K", DimTemperature, 1, 0, Absolute}
	Celsius      = Unit{"°C", DimTemperature, 1, 273.15, Absolute}
	Fahrenheit   = Unit{"°F", DimTemperature, 5.0 / 9, 273.15 - 32*5.0/9, Absolute}
	DeltaK       = Unit{"K", DimDifference, 1, 0, Absolute}
	DeltaF       = Unit{"°F", DimDifference, 5.0 / 9, 0, Absolute}
	Metre        = Unit{"m", DimLength, 1, 0, Absolute}
	Millimetre   = Unit{"mm", DimLength, 1e-3, 0, Absolute}
	Foot         = Unit{"ft", DimLength, 12 * inch, 0, Absolute}
	Inch         = Unit{"in", DimLength, inch, 0, Absolute}
	CubicMetre   = Unit{"m3", DimVolume, 1, 0, Absolute}
	Litre        = Unit{"L", DimVolume, litre, 0, Absolute}
	CubicFoot    = Unit{"ft3", DimVolume, 12 * inch * 12 * inch * 12 * inch, 0, Absolute}
	Kilogram     = Unit{"kg", DimMass, 1, 0, Absolute}
	Gram         = Unit{"g", DimMass, 1e-3, 0, Absolute}
	Milligram    = Unit{"mg", DimMass, 1e-6, 0, Absolute}
	Pound        = Unit{"lb", DimMass, pound, 0, Absolute}
	Ounce        = Unit{"oz", DimMass, pound / 16, 0, Absolute}
	Millisecond  = Unit{"ms", DimTime, 1e-3, 0, Absolute}
	Second       = Unit{"s", DimTime, 1, 0, Absolute}
	Minute       = Unit{"min", DimTime, 60, 0, Absolute}
	Hour         = Unit{"h", DimTime, 3600, 0, Absolute}
	Day          = Unit{"d", DimTime, 86400, 0, Absolute}
	M3PerS       = Unit{"m3/s", DimFlow, 1, 0, Absolute}
	M3PerH       = Unit{"m3/h", DimFlow, 1.0 / 3600, 0, Absolute}
	LPerS        = Unit{"L/s", DimFlow, litre, 0, Absolute}
	LPerMin      = Unit{"L/min", DimFlow, litre / 60, 0, Absolute}
	CFM          = Unit{"cfm", DimFlow, 12 * inch * 12 * inch * 12 * inch / 60, 0, Absolute}
	PaM3PerS     = Unit{"Pa m3/s", DimThroughput, 1, 0, Absolute}
	MbarLPerS    = Unit{"mbar L/s", DimThroughput, 0.1, 0, Absolute}
	Volt         = Unit{"V", DimVoltage, 1, 0, Absolute}
	Ampere       = Unit{"A", DimCurrent, 1, 0, Absolute}
	Ohm          = Unit{"ohm", DimResistance, 1, 0, Absolute}
	Megohm       = Unit{"Mohm", DimResistance, 1e6, 0, Absolute}
	PaPerS       = Unit{"Pa/s", DimRate, 1, 0, Absolute}
	MicronPerMin = Unit{"micron/min", DimRate, mmHg / 1000 / 60, 0, Absolute}
	GramPerYear  = Unit{"g/year", DimMassRate, 1e-3 / year, 0, Absolute}
	OuncePerYear = Unit{"oz/year", DimMassRate, pound / 16 / year, 0, Absolute}
	One          = Unit{"", DimNone, 1, 0, Absolute}
	Percent      = Unit{"%", DimNone, 0.01, 0, Absolute}
)
