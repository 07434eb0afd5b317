package record

import (
	"encoding/json"
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

// Finite reports whether there is a value and it is a number.
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

// MarshalJSON writes nine significant digits and leaves out what is not finite.
func (m Model) MarshalJSON() ([]byte, error) {
	type plain struct {
		Name       string            `json:"name"`
		Parameters map[string]*Value `json:"parameters"`
		RSS        json.RawMessage   `json:"rss,omitempty"`
		AICc       json.RawMessage   `json:"aicc,omitempty"`
		Weight     json.RawMessage   `json:"weight,omitempty"`
	}
	digits := func(x float64) json.RawMessage {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return nil
		}
		return json.RawMessage(number(x))
	}
	return json.Marshal(plain{m.Name, m.Parameters, digits(m.RSS), digits(m.AICc), digits(m.Weight)})
}

// number has nine significant digits and no negative zero.
func number(x float64) string {
	if x == 0 {
		return "0"
	}
	return strconv.FormatFloat(x, 'g', 9, 64)
}
