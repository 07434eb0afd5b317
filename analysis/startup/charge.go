package startup

import (
	"math"

	"dryhold/analysis/fluid"
	"dryhold/analysis/quantity"
)

// rounding is how far a sum of masses may miss a limit that it meets, as pounds and ounces in kg do.
const rounding = 1e-9

// ChargeInput is what the job gives of the charge, in kg; zero means not stated.
type ChargeInput struct {
	Factory       float64
	LineAllowance float64
	Added         Estimate // weighed in; negative when weighed out
	Plate         float64
	AddedStated   bool // Added was given, though it may be zero
}

// Charge is what the circuit holds.
type Charge struct {
	Total      Estimate  // kg, factory charge and what was weighed in
	Difference *Estimate // kg, weighed in less the line allowance
	OverPlate  bool      // Total exceeds the plate by more than 1.645 u
	CO2e       []CO2e    // one for each edition of the GWP
	Duties     []Note
}

// CO2e is the charge as mass of carbon dioxide.
type CO2e struct {
	Mass Estimate // kg
	GWP  fluid.GWP
}

// EvaluateCharge adds up the charge. refrigerant may be nil. The line allowance
// is what should have been weighed in, so it is compared and not added.
func EvaluateCharge(in ChargeInput, refrigerant *fluid.Refrigerant) Charge {
	c := Charge{Total: Estimate{in.Factory + in.Added.Value, in.Added.U}}
	if in.AddedStated && in.LineAllowance > 0 {
		c.Difference = &Estimate{in.Added.Value - in.LineAllowance, in.Added.U}
	}
	c.OverPlate = in.Plate > 0 && c.Total.Value > in.Plate*(1+rounding)+quantity.OneSided95*c.Total.U
	if refrigerant == nil || !(c.Total.Value > 0) || math.IsInf(c.Total.Value, 0) {
		return c
	}
	for _, g := range refrigerant.GWP {
		c.CO2e = append(c.CO2e, CO2e{Estimate{c.Total.Value * g.Value, c.Total.U * g.Value}, g})
	}
	c.Duties = duties(refrigerant, c.Total.Value)
	return c
}
