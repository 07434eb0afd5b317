package report

import (
	"math"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// printer turns values into text in the reader's units and language. It
// rounds; it computes nothing.
type printer struct {
	sys  quantity.System
	sep  string  // of thousands
	atm  float64 // station pressure, Pa; 0 unknown
	step float64 // of the vacuum gauge that decides, Pa; 0 unknown
	word func(key string, facts ...string) string
	lang string
}

// system is the units of that name as a language writes them.
func (b *builder) system(name string) quantity.System {
	s := quantity.SystemOf(name)
	for _, u := range []*quantity.Unit{&s.Vacuum, &s.Rate} {
		u.Name = strings.Replace(u.Name, quantity.Micron.Name, b.w("unit.micron"), 1)
	}
	return s
}

const nb = "\u00a0"

// interval of a rate or difference: no offset.
func plainUnit(u quantity.Unit) quantity.Unit { u.Offset = 0; return u }

// name of a unit as it is printed: exponents and middle dots.
func unitName(u quantity.Unit) string { return printed.Replace(u.Name) }

var printed = strings.NewReplacer("Pa m3", "Pa·m³", "m3", "m³", "ft3", "ft³")

// withUnit is a printed number and its unit, in the singular beside 1.
func (p *printer) withUnit(n string, u quantity.Unit) string {
	if u.Name == "" {
		return n
	}
	if n == "1" {
		u.Name = strings.Replace(u.Name, p.word("unit.micron"), p.word("unit.micron.one"), 1)
	}
	return n + nb + unitName(u)
}

// digits is the number of decimals for a value without an uncertainty: three
// significant figures, and no decimals from 100 on.
func digits(si float64, u quantity.Unit) int {
	x := math.Abs(u.From(si))
	if x == 0 || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0
	}
	return min(max(2-int(math.Floor(math.Log10(x)+1e-9)), 0), 6)
}

func (p *printer) number(si float64, u quantity.Unit, places int) string {
	return quantity.Number(si, u, places, p.sep)
}

// count prints a whole number.
func (p *printer) count(n int) string { return p.number(float64(n), quantity.One, 0) }

// bare prints a value's number in a unit, its decimals from its interval.
func (p *printer) bare(v *record.Value, u quantity.Unit) string {
	return p.number(v.V, u, p.places(v, u))
}

// places shows an interval's half-width with two figures, but no more than
// three figures of the largest number: gauges resolve no more. A reading has
// no more decimals than its gauge.
func (p *printer) places(v *record.Value, u quantity.Unit) int {
	most := digits(math.Max(math.Abs(v.V), math.Abs(v.High)), u)
	if v.Confidence == 0 || v.High <= v.Low {
		return min(most, p.gaugePlaces(u))
	}
	return min(quantity.Places((v.High-v.Low)/2, u), most)
}

// gaugePlaces is the most decimals that the vacuum gauge shows in a unit of
// vacuum; other units are not bound.
func (p *printer) gaugePlaces(u quantity.Unit) int {
	if p.step <= 0 || u.Name != p.sys.Vacuum.Name {
		return 9
	}
	return max(0, int(math.Round(-math.Log10(p.step/u.Scale))))
}

// two prints a computed value with two figures and its unit.
func (p *printer) two(v *record.Value, u quantity.Unit) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	return p.withUnit(p.number(v.V, u, max(digits(v.V, u)-1, 0)), u)
}

// rounded prints a value to two figures, also left of the decimal point.
func (p *printer) rounded(v *record.Value, u quantity.Unit) string {
	x := u.From(v.V)
	if x > 0 {
		k := math.Pow(10, math.Floor(math.Log10(x))-1)
		x = math.Round(x/k) * k
	}
	return p.two(record.Plain(u.SI(x), v.Unit), u)
}

// exact reports whether x has no more decimals than places, but for the error of a conversion.
func exact(x float64, places int) bool {
	x *= math.Pow(10, float64(places))
	return math.Abs(x-math.Round(x)) <= 1e-6*math.Max(1, math.Abs(x))
}

// agreed prints a number that someone wrote: with the decimals that it needs,
// or where it was written in another unit, with three figures.
func (p *printer) agreed(si float64, u quantity.Unit) string {
	return p.number(si, u, p.agreedPlaces(si, u))
}

func (p *printer) agreedPlaces(si float64, u quantity.Unit) int {
	x := u.From(si)
	for k := range 3 {
		if exact(x, k) {
			return k
		}
	}
	return digits(si, u)
}

// zero prints a rounded nought without decimals.
func zero(s string) string {
	if strings.Trim(s, "−0.") == "" {
		return "0"
	}
	return s
}

// in prints a value with its unit, and its interval where it has one.
func (p *printer) in(v *record.Value, u quantity.Unit) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	return p.withUnit(p.bareInterval(v, u), u)
}

func (p *printer) bareInterval(v *record.Value, u quantity.Unit) string {
	if v.Confidence > 0 && v.High > v.Low {
		return p.interval(v, u, p.places(v, u))
	}
	return p.bare(v, u)
}

// interval prints a value and its ends with the given decimals.
func (p *printer) interval(v *record.Value, u quantity.Unit, places int) string {
	one := func(si float64) string { return zero(p.number(si, u, places)) }
	return one(v.V) + nb + "[" + one(v.Low) + ";" + nb + one(v.High) + "]"
}

// point prints a value with its unit, without its interval.
func (p *printer) point(v *record.Value, u quantity.Unit) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	return p.withUnit(p.bare(v, u), u)
}

func (p *printer) vacuum(v *record.Value) string { return p.in(v, p.sys.Vacuum) }

// level prints a vacuum pressure without its interval.
func (p *printer) level(v *record.Value) string { return p.point(v, p.sys.Vacuum) }

// delta prints a difference of vacuum pressures with its interval.
func (p *printer) delta(v *record.Value) string { return p.in(v, plainUnit(p.sys.Vacuum)) }

func itoa(n int) string { return quantity.Number(float64(n), quantity.One, 0, "") }

// Times.
