package record

import (
	"math"
	"strconv"
)

// Value is a number with its unit and, where it has one, its interval.
type Value struct {
	V          float64
	Unit       string // Pa, s, Pa m3/s, Pa/s, 1/s, m3/s, kg, K, m3 or 1
	Low, High  float64
	Confidence float64 // of the interval, for example 0.95; 0: no interval
}

// Plain is a value without an interval.
func Plain(v float64, unit string) *Value { return &Value{V: v, Unit: unit} }

// Between is a value with a 95 % interval.
func Between(v, low, high float64, unit string) *Value {
	return &Value{V: v, Unit: unit, Low: low, High: high, Confidence: 0.95}
}

// Finite reports whether the value can be stored; an unknown is left out instead.
func (v *Value) Finite() bool {
	return v != nil && !math.IsNaN(v.V) && !math.IsInf(v.V, 0)
}

// MarshalJSON writes nine significant digits.
func (v Value) MarshalJSON() ([]byte, error) {
	b := append([]byte(nil), `{"value":`...)
	b = append(b, number(v.V)...)
	b = append(b, `,"unit":`...)
	b = strconv.AppendQuote(b, v.Unit)
	if v.Confidence > 0 {
		b = append(b, `,"low":`...)
		b = append(b, number(v.Low)...)
		b = append(b, `,"high":`...)
		b = append(b, number(v.High)...)
		b = append(b, `,"confidence":`...)
		b = append(b, number(v.Confidence)...)
	}
	return append(b, '}'), nil
}

// number has nine significant digits and no negative zero.
func number(x float64) string {
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'g', 9, 64)
}
