package report

import (
	"math"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// gauge returns the unit for pressures above the atmosphere and what to take off.
func (p *printer) gauge() (quantity.Unit, float64) {
	if p.atm > 0 {
		return p.sys.Pressure, p.atm
	}
	if p.sys.Name == "si" {
		return quantity.Bara, 0
	}
	return quantity.Psia, 0
}

// pressure prints an absolute pressure as the reader counts it.
func (p *printer) pressure(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	u, shift := p.gauge()
	w := *v
	w.V, w.Low, w.High = v.V-shift, v.Low-shift, v.High-shift
	if w.Confidence > 0 && w.High > w.Low {
		return p.in(&w, u)
	}
	return p.withUnit(p.number(w.V, u, p.pressurePlaces(u)), u)
}

func (p *printer) pressurePlaces(u quantity.Unit) int {
	if u.Name == "barg" || u.Name == "bara" {
		return 2
	}
	return 1
}

// pressureChange prints a difference of pressures above the atmosphere.
func (p *printer) pressureChange(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	u, _ := p.gauge()
	return p.in(v, differenceUnit(u))
}

// differenceUnit is a unit of gauge or absolute pressure for a difference.
func differenceUnit(u quantity.Unit) quantity.Unit {
	return quantity.Unit{Name: strings.TrimRight(u.Name, "ga"), Scale: u.Scale}
}

func (p *printer) temperature(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	return p.withUnit(p.number(v.V, p.sys.Temperature, 1), p.sys.Temperature)
}

func (p *printer) kelvins(v *record.Value) string { return p.in(v, p.sys.Difference) }

func (p *printer) volume(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.given")
	}
	if v.Confidence > 0 && v.High > v.Low && v.V > 0 {
		half := (v.High - v.Low) / 2
		k := min(digits(v.V, p.sys.Volume), max(quantity.Places(half, p.sys.Volume), 1))
		return p.number(v.V, p.sys.Volume, k) + nb + unitName(p.sys.Volume) + nb + "±" + nb + p.number(half/v.V, quantity.Percent, 0) + nb + "%"
	}
	return p.point(v, p.sys.Volume)
}

// mass prints kilograms, and in US units pounds and ounces.
func (p *printer) mass(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	if p.sys.Name == "si" {
		return p.withUnit(p.number(v.V, quantity.Kilogram, 3), quantity.Kilogram)
	}
	oz := math.Round(math.Abs(v.V)/quantity.Ounce.Scale*10) / 10
	sign := ""
	if v.V < 0 && oz > 0 {
		sign = "−"
	}
	lb := math.Floor(oz / 16)
	rest := p.number(oz-16*lb, quantity.One, 1) + nb + "oz"
	if lb == 0 {
		return sign + rest
	}
	return sign + p.number(lb, quantity.One, 0) + nb + "lb" + nb + rest
}

// kilograms prints a mass in kilograms for a second row.
func (p *printer) kilograms(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	return p.number(v.V, quantity.Kilogram, 3)
}

// rate prints a rate of rise; one too small for decimals as m × 10^e.
func (p *printer) rate(v *record.Value) string {
	if v.Finite() && math.Max(math.Abs(v.V), math.Abs(v.High)) < 0.01*p.sys.Rate.Scale {
		return p.scientific(v, p.sys.Rate)
	}
	return p.in(v, p.sys.Rate)
}

// scientific prints a number as m × 10^e, with its interval in the same power.
func (p *printer) scientific(v *record.Value, u quantity.Unit) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	x := u.From(v.V)
	spread := v.Confidence > 0 && v.High > v.Low
	ref := math.Abs(x)
	if spread {
		ref = math.Max(ref, math.Abs(u.From(v.High)))
	}
	if ref < 1e-30 { // nothing that is measured is smaller
		return p.withUnit("0", u)
	}
	e := int(math.Floor(math.Log10(ref) + 1e-9))
	if ref/math.Pow(10, float64(e)) >= 9.95 {
		e++
	}
	places := 1
	if e >= -2 && e <= 2 { // near one: no power of ten
		e, places = 0, max(1-e, 0)
	}
	scaled := quantity.Unit{Scale: u.Scale * math.Pow(10, float64(e))}
	n := p.number(v.V, scaled, places)
	if spread {
		n = p.interval(v, scaled, places)
	}
	if e == 0 {
		return p.withUnit(n, u)
	}
	return p.withUnit(n+nb+"×"+nb+"10"+sup(strings.ReplaceAll(itoa(e), "-", "−")), u)
}

func (p *printer) flow(v *record.Value) string { return p.scientific(v, quantity.PaM3PerS) }

// share prints a ratio in percent with two figures.
func (p *printer) share(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	if v.Confidence > 0 && v.High > v.Low {
		return p.in(v, quantity.Percent)
	}
	return p.withUnit(p.number(v.V, quantity.Percent, max(digits(v.V, quantity.Percent)-1, 0)), quantity.Percent)
}

// any prints a value by its unit; a pressure above 20 kPa is counted from the
// atmosphere.
func (p *printer) any(v *record.Value) string {
	if v == nil {
		return p.word("missing.recorded")
	}
	switch v.Unit {
	case "Pa":
		if v.V > 20e3 {
			return p.pressure(v)
		}
		return p.vacuum(v)
	case "s":
		return p.duration(v)
	case "Pa m3/s":
		return p.flow(v)
	case "Pa/s":
		return p.rate(v)
	case "kg":
		return p.mass(v)
	case "K":
		if v.V < 100 {
			return p.kelvins(v)
		}
		return p.temperature(v)
	case "m3":
		return p.volume(v)
	case "m3/s":
		return p.in(v, p.sys.Flow)
	case "1":
		if v.V == math.Trunc(v.V) {
			return p.number(v.V, quantity.One, 0)
		}
		return p.share(v)
	}
	return p.in(v, quantity.One)
}
