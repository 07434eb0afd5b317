package quantity

import (
	"fmt"
	"strings"
)

// The types below are what a job file holds: each parses itself, so that the
// TOML library can point at the place of a fault.
type (
	Pressure    struct{ Value }
	Temperature struct{ Value }
	Difference  struct{ Value } // a temperature difference
	Length      struct{ Value }
	Volume      struct{ Value }
	Mass        struct{ Value }
	Time        struct{ Value }
	Flow        struct{ Value } // volume flow rate
	Voltage     struct{ Value }
	Current     struct{ Value }
	Resistance  struct{ Value }
	Any         struct{ Value } // of any kind, the unit decides
)

func (v *Value) read(b []byte, d Dimension) (err error) { *v, err = Parse(string(b), d); return err }

// UnmarshalText of each kind is Parse with its dimension.
func (q *Pressure) UnmarshalText(b []byte) error    { return q.read(b, DimPressure) }
func (q *Temperature) UnmarshalText(b []byte) error { return q.read(b, DimTemperature) }
func (q *Difference) UnmarshalText(b []byte) error  { return q.read(b, DimDifference) }
func (q *Length) UnmarshalText(b []byte) error      { return q.read(b, DimLength) }
func (q *Volume) UnmarshalText(b []byte) error      { return q.read(b, DimVolume) }
func (q *Mass) UnmarshalText(b []byte) error        { return q.read(b, DimMass) }
func (q *Time) UnmarshalText(b []byte) error        { return q.read(b, DimTime) }
func (q *Flow) UnmarshalText(b []byte) error        { return q.read(b, DimFlow) }
func (q *Voltage) UnmarshalText(b []byte) error     { return q.read(b, DimVoltage) }
func (q *Current) UnmarshalText(b []byte) error     { return q.read(b, DimCurrent) }
func (q *Resistance) UnmarshalText(b []byte) error  { return q.read(b, DimResistance) }

// UnmarshalText takes the dimension from the unit.
func (q *Any) UnmarshalText(b []byte) error {
	s := strings.TrimSpace(string(b))
	i := strings.IndexAny(s, " \u00a0")
	if i < 0 {
		return fmt.Errorf("%q has no unit; write a number, a blank and a unit", s)
	}
	main, _, _ := strings.Cut(s[i:], "±")
	name := strings.TrimSpace(main)
	if ways, ok := Ambiguous(name); ok {
		return fmt.Errorf("%q does not say from where it is counted; write %s (for a difference, %s means the same)", name, ways[1], ways[0])
	}
	u, ok := LookUp(name)
	if !ok {
		return fmt.Errorf("unknown unit %q", name)
	}
	return q.read(b, u.Dim)
}

// Accuracy is an error limit as a data sheet states it: "10 % + 5 micron",
// "1 % of range", "0.5 °C". Its terms are added (JCGM 100, 4.3.7 treats a
// limit without further knowledge as a rectangular distribution: u = a/√3).
type Accuracy struct {
	Relative float64 // of the reading, 1
	OfRange  float64 // of the instrument's range, 1
	Absolute float64 // SI
	Dim      Dimension
	Text     string
}

// Given reports whether an accuracy was written.
func (a Accuracy) Given() bool { return a.Text != "" }

// Limit is the error limit at a reading, both in SI; span is the width of the
// instrument's range, 0 when unknown.
func (a Accuracy) Limit(reading, span float64) float64 {
	if reading < 0 {
		reading = -reading
	}
	return a.Relative*reading + a.OfRange*span + a.Absolute
}

// signs makes each way to join the terms of an accuracy a plus.
var signs = strings.NewReplacer("+/-", "+", "±", "+")

// UnmarshalText parses terms joined by "+" or "±", with or without a sign before
// the first: "± (10 % + 5 micron)".
func (a *Accuracy) UnmarshalText(b []byte) error {
	*a = Accuracy{Text: string(b)}
	text := strings.TrimSpace(strings.TrimPrefix(strings.TrimSpace(signs.Replace(a.Text)), "+"))
	if inside, ok := strings.CutPrefix(text, "("); ok {
		text = strings.TrimSuffix(inside, ")")
	}
	for _, term := range strings.Split(text, "+") {
		if err := a.add(strings.TrimSpace(term)); err != nil {
			return err
		}
	}
	return nil
}

// ofRanges are ways to say that a percentage is one of the instrument's range.
var ofRanges = []string{" of range", " of span", " of full scale", " FS"}

func (a *Accuracy) add(term string) error {
	body, ofRange := strings.TrimSuffix(term, " of reading"), false
	for _, words := range ofRanges {
		if short, ok := strings.CutSuffix(term, words); ok {
			body, ofRange = short, true
		}
	}
	if p, ok := strings.CutSuffix(body, "%"); ok {
		x, err := parseFloat(strings.TrimSpace(p))
		if err != nil || x < 0 {
			return fmt.Errorf("%q is not a percentage; write for example \"10 %% + 5 micron\"", term)
		}
		if ofRange {
			a.OfRange += x / 100
		} else {
			a.Relative += x / 100
		}
		return nil
	}
	var q Any
	if err := q.UnmarshalText([]byte(body)); err != nil {
		if strings.Contains(err.Error(), "; write ") { // it says already what to write
			return fmt.Errorf("%q: %v", term, err)
		}
		return fmt.Errorf("%q: %v; write for example \"10 %% + 5 micron\"", term, err)
	}
	if a.Dim != DimNone && a.Dim != q.Unit.Dim {
		return fmt.Errorf("%q mixes units of %s and %s", a.Text, a.Dim, q.Unit.Dim)
	}
	a.Dim = q.Unit.Dim
	scale := q.SI - q.Unit.Offset
	if scale < 0 {
		return fmt.Errorf("%q: an accuracy is not negative", term)
	}
	a.Absolute += scale
	return nil
}

// MarshalText gives the text back.
func (a Accuracy) MarshalText() ([]byte, error) { return []byte(a.Text), nil }

// Range is what an instrument can show: "0 to 20000 micron", "30 inHg vac to 500 psig".
// Low is the lower pressure, in whichever order inches of vacuum were written.
type Range struct {
	Low, High Value
	Text      string
}

// Span is the width in SI; of a pressure from below the air to above it too.
func (r Range) Span() float64 { return atSea(r.High) - atSea(r.Low) }

// atSea makes ends comparable that are counted from different points.
func atSea(v Value) float64 { return v.Pa(Atm.SI(1)) }

// Given reports whether a range was written.
func (r Range) Given() bool { return r.Text != "" }

// UnmarshalText parses "0 to 20000 micron".
func (r *Range) UnmarshalText(b []byte) error {
	r.Text = string(b)
	low, high, ok := strings.Cut(r.Text, " to ")
	if !ok {
		return fmt.Errorf("%q is not a range; write for example \"0 to 20000 micron\"", r.Text)
	}
	var h, l Any
	if err := h.UnmarshalText([]byte(high)); err != nil {
		return err
	}
	low = strings.TrimSpace(low)
	if _, err := parseFloat(low); err == nil {
		_, name, _ := strings.Cut(strings.TrimSpace(high), " ")
		low += " " + name
	}
	if err := l.UnmarshalText([]byte(low)); err != nil {
		return err
	}
	if l.Unit.Ref == Vacuum && h.Unit.Ref == Vacuum && l.SI < h.SI { // "0 to 30 inHg vac": the deeper is the lower pressure
		l, h = h, l
	}
	if l.Unit.Dim != h.Unit.Dim || atSea(l.Value) >= atSea(h.Value) {
		return fmt.Errorf("%q: the lower end is not below the upper end", r.Text)
	}
	r.Low, r.High = l.Value, h.Value
	return nil
}

// MarshalText gives the text back.
func (r Range) MarshalText() ([]byte, error) { return []byte(r.Text), nil }
