package report

import (
	"math"
	"strings"
	"time"

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
	x := u.From(si)
	for k := range 3 {
		if exact(x, k) {
			return p.number(si, u, k)
		}
	}
	return p.number(si, u, digits(si, u))
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

// plusMinus prints v ± U at 95 % with U = 1.96 u.
func (p *printer) plusMinus(v, u *record.Value, in quantity.Unit) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	if !u.Finite() || u.V <= 0 {
		return p.point(v, in)
	}
	k := min(quantity.Places(1.96*u.V, in), p.gaugePlaces(in))
	return p.withUnit(p.number(v.V, in, k)+nb+"±"+nb+p.number(1.96*u.V, plainUnit(in), k), in)
}

func (p *printer) vacuum(v *record.Value) string { return p.in(v, p.sys.Vacuum) }

// level prints a vacuum pressure without its interval.
func (p *printer) level(v *record.Value) string { return p.point(v, p.sys.Vacuum) }

// delta prints a difference of vacuum pressures with its interval.
func (p *printer) delta(v *record.Value) string { return p.in(v, plainUnit(p.sys.Vacuum)) }

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

func itoa(n int) string { return quantity.Number(float64(n), quantity.One, 0, "") }

func (p *printer) flow(v *record.Value) string { return p.scientific(v, quantity.PaM3PerS) }

// duration prints seconds as a reader says them.
func (p *printer) duration(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	return p.span(v.V)
}

func (p *printer) span(s float64) string {
	switch {
	case s < 90 && s != math.Trunc(s/60)*60:
		return p.number(s, quantity.Second, 0) + nb + "s"
	case s < 2*3600:
		n := 0
		if m := s / 60; math.Abs(m-math.Round(m)) > 0.05 {
			n = 1
		}
		return p.number(s, quantity.Minute, n) + nb + "min"
	}
	m := math.Round(s / 60)
	h := math.Floor(m / 60)
	out := p.number(h, quantity.One, 0) + nb + "h"
	if r := m - 60*h; r > 0 {
		out += nb + p.number(r, quantity.One, 0) + nb + "min"
	}
	return out
}

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

// Times.

func parseTime(s string) (time.Time, bool) {
	t, err := time.Parse(time.RFC3339Nano, s)
	return t, err == nil
}

// day prints the date of an RFC 3339 time or of 2031-04-09.
func (p *printer) day(s string) string {
	t, ok := parseTime(s)
	if !ok {
		var err error
		if t, err = time.Parse("2006-01-02", s); err != nil {
			return clean(s)
		}
	}
	month := p.word("month." + itoa(int(t.Month())))
	d, y := itoa(t.Day()), itoa(t.Year())
	return p.word("date", "day", d, "month", month, "year", y)
}

func (p *printer) clock(s string) string {
	t, ok := parseTime(s)
	if !ok {
		return clean(s)
	}
	if t.Second() != 0 {
		return t.Format("15:04:05")
	}
	return t.Format("15:04")
}

func (p *printer) moment(s string) string {
	if _, ok := parseTime(s); !ok {
		return clean(s)
	}
	return p.day(s) + ", " + p.clock(s)
}

// between prints a period, naming the day once where it is one day.
func (p *printer) between(a, b string) string {
	ta, ok1 := parseTime(a)
	tb, ok2 := parseTime(b)
	if ok1 && ok2 && ta.Format("2006-01-02") == tb.Format("2006-01-02") {
		return p.word("period.day", "day", p.day(a), "start", p.clock(a), "end", p.clock(b))
	}
	return p.word("period", "start", p.moment(a), "end", p.moment(b))
}

// within is the number of seconds between two times, as a value.
func within(a, b string) *record.Value {
	ta, ok1 := parseTime(a)
	tb, ok2 := parseTime(b)
	if !ok1 || !ok2 {
		return nil
	}
	return record.Plain(tb.Sub(ta).Seconds(), "s")
}
