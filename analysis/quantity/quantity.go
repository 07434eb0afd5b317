package quantity

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// Value is a quantity as the caller wrote it and in SI.
type Value struct {
	SI   float64 // SI value; a gauge or vacuum pressure keeps its reference
	U    float64 // standard uncertainty in SI; "± x" states 95 %, so U = x/1.96
	Unit Unit    // the unit it was written in
	Text string  // as written; empty when the key was absent
}

// Given reports whether the quantity was written at all.
func (v Value) Given() bool { return v.Text != "" }

// Pa is the absolute pressure, given the local atmosphere in Pa.
func (v Value) Pa(atmosphere float64) float64 {
	switch v.Unit.Ref {
	case Gauge:
		return v.SI + atmosphere
	case Vacuum:
		return atmosphere - v.SI
	}
	return v.SI
}

// MarshalText gives the text back as it was written.
func (v Value) MarshalText() ([]byte, error) { return []byte(v.Text), nil }

// Factors of the standard uncertainty, for a normal distribution (JCGM 100, table G.1:
// 95 % and 90 %, of which half lies on either side).
const (
	K95        = 1.96  // coverage factor: half of a two-sided 95 % interval
	OneSided95 = 1.645 // up to a one-sided 95 % limit
)

// Parse reads "35 ft", "9.6 L ± 15 %" or "3 lb 4 oz". The decimal mark is a
// point. An error says what is wrong and how to write it.
func Parse(text string, dim Dimension) (Value, error) {
	s := strings.ReplaceAll(strings.TrimSpace(text), "\u00a0", " ")
	if s == "" {
		return Value{}, fmt.Errorf("empty; write a number and a unit, for example %s", example(dim))
	}
	s = strings.ReplaceAll(s, "+/-", "±")
	main, spread, has := strings.Cut(s, "±")
	v, err := parsePlain(main, dim)
	if err != nil {
		return Value{}, err
	}
	v.Text = text
	if has {
		half, err := parseSpread(strings.TrimSpace(spread), v)
		if err != nil {
			return Value{}, err
		}
		if math.IsInf(half, 0) {
			return Value{}, fmt.Errorf("%q behind ± is too large", strings.TrimSpace(spread))
		}
		v.U = half / K95
	}
	return v, nil
}

func parsePlain(s string, dim Dimension) (Value, error) {
	num, unit, rest, err := scanNumber(s, dim)
	if err != nil {
		return Value{}, err
	}
	v := Value{SI: unit.SI(num), Unit: unit}
	if math.IsInf(v.SI, 0) {
		return Value{}, fmt.Errorf("%q is too large", strings.TrimSpace(s))
	}
	if unit.Ref == Vacuum && num < 0 {
		return Value{}, fmt.Errorf("%q: a vacuum is counted downward from the air and has no minus sign", strings.TrimSpace(s))
	}
	if rest == "" {
		return v, nil
	}
	second, unit2, rest2, err := scanNumber(rest, dim)
	if err != nil || rest2 != "" || !compound(unit, unit2) || num < 0 || second < 0 {
		return Value{}, fmt.Errorf("%q is not one quantity; write %s", strings.TrimSpace(s), example(dim))
	}
	v.SI += unit2.SI(second)
	return v, nil
}

// compound allows "3 lb 4 oz" and "5 ft 6 in".
func compound(a, b Unit) bool {
	return a.Name == "lb" && b.Name == "oz" || a.Name == "ft" && b.Name == "in" ||
		a.Name == "h" && b.Name == "min" || a.Name == "min" && b.Name == "s"
}

// pointed shows a number with its one comma as the decimal mark; nothing where the
// comma may part thousands.
func pointed(digits string) string {
	whole, part, _ := strings.Cut(digits, ",")
	if whole == "" || len(part) == 3 || strings.ContainsAny(part, ",.") || strings.Contains(whole, ".") {
		return ""
	}
	return " (" + whole + "." + part + ")"
}

// mixed is a number with a fraction, as tube is named: "1 1/8", "1-1/8".
var mixed = regexp.MustCompile(`^[0-9]+[ -][0-9]+/[0-9]+`)

// scanNumber reads one number (or a fraction such as 3/8 or 1 1/8) and its unit;
// what follows a second number starts rest.
func scanNumber(s string, dim Dimension) (num float64, unit Unit, rest string, err error) {
	s = strings.TrimSpace(s)
	if strings.HasPrefix(s, "−") { // U+2212
		return scanNumber("-"+strings.TrimPrefix(s, "−"), dim)
	}
	i := len(mixed.FindString(s))
	for i < len(s) && strings.IndexByte("0123456789.+-/eE,", s[i]) >= 0 {
		if (s[i] == 'e' || s[i] == 'E') && !exponent(s[i:]) {
			break
		}
		i++
	}
	digits := s[:i]
	if digits == "" {
		return 0, unit, "", fmt.Errorf("%q does not start with a number; write %s", s, example(dim))
	}
	if strings.Contains(digits, ",") {
		return 0, unit, "", fmt.Errorf("%q has a comma; write the decimal mark as a point%s and no thousands mark", digits, pointed(digits))
	}
	if num, err = parseFloat(digits); err != nil {
		return 0, unit, "", err
	}
	name := s[i:]
	if j := strings.IndexFunc(name, unicode.IsDigit); j > 0 && name[j-1] == ' ' {
		name, rest = name[:j], name[j:]
	}
	unit, err = findUnit(strings.TrimSpace(name), dim)
	return num, unit, rest, err
}

func exponent(s string) bool {
	t := strings.TrimLeft(s[1:], "+-")
	return t != "" && t[0] >= '0' && t[0] <= '9'
}

func parseFloat(s string) (float64, error) {
	if mixed.FindString(s) == s && s != "" {
		i := strings.IndexAny(s, " -")
		whole, err := parseFloat(s[:i])
		part, err2 := parseFloat(s[i+1:])
		return whole + part, errors.Join(err, err2)
	}
	if a, b, ok := strings.Cut(s, "/"); ok {
		x, err1 := strconv.ParseFloat(a, 64)
		y, err2 := strconv.ParseFloat(b, 64)
		if err1 == nil && err2 == nil && y != 0 {
			return x / y, nil
		}
		return 0, fmt.Errorf("%q is not a fraction", s)
	}
	x, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsInf(x, 0) || math.IsNaN(x) {
		return 0, fmt.Errorf("%q is not a number", s)
	}
	return x, nil
}

func findUnit(name string, dim Dimension) (Unit, error) {
	if name == "" {
		if dim == DimNone {
			return One, nil
		}
		return Unit{}, fmt.Errorf("the unit is missing; write %s", example(dim))
	}
	if ways, ok := Ambiguous(name); ok {
		return Unit{}, fmt.Errorf("%q does not say from where it is counted; write %s or %s", name, ways[0], ways[1])
	}
	u, ok := LookUp(name)
	if !ok {
		return Unit{}, fmt.Errorf("unknown unit %q; write %s", name, example(dim))
	}
	if dim == DimDifference && u.Dim == DimTemperature {
		return Unit{u.Name, DimDifference, u.Scale, 0, Absolute}, nil
	}
	if u.Dim != dim {
		return Unit{}, fmt.Errorf("%q is a unit of %s, not of %s; write %s", name, u.Dim, dim, example(dim))
	}
	return u, nil
}

// parseSpread reads what stands behind ±: a percentage or a quantity. It
// returns the half-width in SI.
func parseSpread(s string, v Value) (float64, error) {
	if p, ok := strings.CutSuffix(s, "%"); ok {
		if v.Unit.Dim == DimTemperature {
			return 0, fmt.Errorf("%q of a temperature depends on where its scale begins; write for example \"± 0.5 K\"", s)
		}
		x, err := parseFloat(strings.TrimSpace(p))
		if err != nil || x < 0 {
			return 0, fmt.Errorf("%q behind ± is not a percentage", s)
		}
		return math.Abs(v.SI) * x / 100, nil
	}
	if x, err := parseFloat(s); err == nil && x >= 0 {
		return v.Unit.Scale * x, nil
	}
	num, unit, rest, err := scanNumber(s, v.Unit.Dim)
	if err != nil || rest != "" || num < 0 {
		return 0, fmt.Errorf("%q behind ± is neither a percentage nor a quantity of the same kind", s)
	}
	return math.Abs(unit.Scale * num), nil
}

var dimNames = [...]string{"ratio", "pressure", "temperature", "temperature difference", "length", "volume", "mass", "time",
	"volume flow rate", "throughput", "voltage", "current", "resistance", "pressure rate", "mass rate"}

func (d Dimension) String() string { return dimNames[d] }

var examples = [...]string{`"15 %"`, `"500 micron", "450 psig" or "83.4 kPa"`, `"21.5 °C" or "70 °F"`, `"5 K" or "10 °F"`,
	`"35 ft", "3/8 in" or "12 m"`, `"9.6 L ± 15 %"`, `"3.2 kg" or "7 lb 1 oz"`, `"30 min"`, `"4 cfm" or "6 m3/h"`,
	`"1e-5 Pa m3/s"`, `"460 V"`, `"12.5 A"`, `"20 Mohm"`, `"2 micron/min"`, `"5 g/year"`}

func example(d Dimension) string { return examples[d] }

// Example is how a quantity of this kind is written in a job file.
func (d Dimension) Example() string { return examples[d] }
