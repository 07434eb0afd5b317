package startup

import (
	"fmt"
	"math"

	"dryhold/analysis/fluid"
	"dryhold/analysis/quantity"
)

// The limits of the sources, with the arithmetic of a value that is written in °F: 55 °F is not below 55 °F.
var (
	coldOutside = quantity.Fahrenheit.SI(55) // California RA3 (2013), not below
	leastTarget = quantity.DeltaF.SI(5)      // California RA3 (2008), a lower target superheat is undefined
	superheatBy = quantity.DeltaF.SI(5)
	subcoolBy   = quantity.DeltaF.SI(3)
)

const (
	steady = 10.0 // minutes: common practice, no published source
	ra3    = "tolerance: California Reference Appendix RA3 (2008), RA3.2.2, installer's 5 °F"
	acca   = "tolerance: 3 °F, from memory of ANSI/ACCA 5, not confirmed"
	maker  = "tolerance: stated in the job"
)

// Evaluate returns a row for every quantity that the job gives readings for, in
// a fixed order. It never fails: what cannot be worked out or should not be
// judged says why.
func Evaluate(in Input) []Row {
	var rows []Row
	if in.SuctionPressure.given() && in.SuctionTemperature.given() {
		rows = append(rows, superheat(in))
	}
	if in.LiquidPressure.given() && in.LiquidTemperature.given() {
		rows = append(rows, subcooling(in))
	}
	if in.ReturnAir.given() && in.SupplyAir.given() {
		rows = append(rows, split(in))
	}
	return append(rows, electrical(in)...)
}

func superheat(in Input) Row {
	r := Row{Name: "superheat", Unit: "K", Source: ra3}
	if !r.saturate(in, in.SuctionPressure, (*fluid.Refrigerant).DewTemperature, (*fluid.Refrigerant).DewPressure) {
		return r
	}
	r.Value = in.SuctionTemperature.Value - r.Saturation
	r.U = math.Hypot(r.U, in.SuctionTemperature.U)
	r.aim(in, in.TargetSuperheat, superheatBy)
	if r.Target != nil && in.TargetSuperheat < leastTarget {
		r.refuse("target-too-low", "a target superheat below 5 °F is not defined", nil)
	}
	return r
}

func subcooling(in Input) Row {
	r := Row{Name: "subcooling", Unit: "K", Source: acca}
	if !r.saturate(in, in.LiquidPressure, (*fluid.Refrigerant).BubbleTemperature, (*fluid.Refrigerant).BubblePressure) {
		return r
	}
	r.Value = r.Saturation - in.LiquidTemperature.Value
	r.U = math.Hypot(r.U, in.LiquidTemperature.U)
	r.aim(in, in.TargetSubcooling, subcoolBy)
	return r
}

type property = func(*fluid.Refrigerant, float64) (float64, error)

// saturate fills in the saturation temperature at p and its uncertainty.
func (r *Row) saturate(in Input, p Estimate, temperature, pressure property) bool {
	if in.Refrigerant == nil {
		r.unknown("refrigerant-unknown", "the refrigerant is not in the table of saturation pressures", nil)
		return false
	}
	T, err := temperature(in.Refrigerant, p.Value)
	if err != nil {
		r.unknown("out-of-range", outside(in.Refrigerant, p.Value), map[string]float64{"pressure": p.Value})
		return false
	}
	r.Saturation = T
	r.U = math.Hypot(p.U/slope(in.Refrigerant, pressure, T), in.Refrigerant.Spread/math.Sqrt(3))
	return true
}

// outside says that a pressure in Pa is not in a refrigerant's table, in units that a reader knows.
func outside(f *fluid.Refrigerant, p float64) string {
	return fmt.Sprintf("%.5g psia lies outside the saturation table of %s (%.0f to %.0f °C); check the unit, and gauge against absolute",
		quantity.Psia.From(p), f.Name, quantity.Celsius.From(f.Coldest), quantity.Celsius.From(f.Hottest))
}

// slope is dp/dT in Pa/K, one-sided at the ends of the range.
func slope(f *fluid.Refrigerant, pressure property, T float64) float64 {
	a, b := math.Max(T-0.01, f.Coldest), math.Min(T+0.01, f.Hottest)
	low, err1 := pressure(f, a)
	high, err2 := pressure(f, b)
	if err1 != nil || err2 != nil || b <= a {
		return math.NaN()
	}
	return (high - low) / (b - a)
}

// aim sets the target, or says why the value should not be judged.
func (r *Row) aim(in Input, target, tolerance float64) {
	if in.Tolerance > 0 {
		tolerance, r.Source = in.Tolerance, maker
	}
	if !in.OutdoorAir.given() {
		r.Notes = append(r.Notes, Note{Code: "outdoor-unknown", Text: "the outdoor temperature is not stated"})
	}
	if r.Value < -10 || r.Value > 60 {
		r.Notes = append(r.Notes, Note{Code: "implausible", Text: "check the refrigerant, the temperature's unit, and gauge against absolute pressure",
			Facts: map[string]float64{"value": r.Value}})
	}
	switch why := conditions(in); {
	case why != nil:
		r.Why = why
	case !(target > 0):
		r.refuse("no-target", "the plate's target is not stated", nil)
	default:
		r.Target = &Target{Low: target - tolerance, High: target + tolerance}
	}
}

// conditions says why a running circuit should not be judged, or returns nil.
func conditions(in Input) *Note {
	yes := func(b *bool) bool { return b != nil && *b }
	switch {
	case yes(in.VariableSpeed) && !yes(in.TestMode):
		return &Note{Code: "variable-speed", Text: "a variable-speed unit outside its test mode"}
	case !(in.MinutesSteady >= steady):
		return &Note{Code: "not-steady", Text: fmt.Sprintf("fewer than %g minutes of steady running are stated", steady),
			Facts: map[string]float64{"asked": steady * 60, "steady": in.MinutesSteady * 60}}
	case in.OutdoorAir.given() && in.OutdoorAir.Value < coldOutside:
		return &Note{Code: "cold-outside", Text: "it was below 55 °F (12.8 °C) outside", Facts: map[string]float64{"outdoor": in.OutdoorAir.Value}}
	}
	return nil
}

// split is the air's temperature drop across the indoor coil. No neutral source
// gives it a target: it depends on humidity and air flow.
func split(in Input) Row {
	r := Row{Name: "temperature split", Unit: "K", Value: in.ReturnAir.Value - in.SupplyAir.Value,
		U: math.Hypot(in.ReturnAir.U, in.SupplyAir.U)}
	r.refuse("no-limit", "the split depends on humidity and air flow; no source gives a general limit", nil)
	return r
}

// unknown is refuse for what could not be worked out at all.
func (r *Row) unknown(code, text string, facts map[string]float64) {
	r.refuse(code, text, facts)
	r.Value, r.U, r.Unknown = 0, 0, true
}

func (r *Row) refuse(code, text string, facts map[string]float64) {
	r.Target, r.Why = nil, &Note{Code: code, Text: text, Facts: facts}
}
