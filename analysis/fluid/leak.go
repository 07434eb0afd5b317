package fluid

import "math"

// Year is a Julian year in s, exact.
const Year = 31557600.0

// Opening is what was seen of an opening during a hold under vacuum: outside
// air at Atmosphere flowed in against Inside, both Pa absolute, at T in K. It
// says how much of another gas would flow out through the same opening.
//
// Not in the model: liquid in the opening, plugging by oil, an opening that
// widens or closes with pressure, and gas that is not ideal.
type Opening struct {
	Atmosphere, Inside, Temperature float64
}

// Bracket holds the two limits between which a quantity lies whatever the
// opening's size and shape.
type Bracket struct {
	Molecular float64 // the opening is narrow against the mean free path
	Viscous   float64 // laminar flow of a continuum
}

// Times returns the bracket multiplied by k.
func (b Bracket) Times(k float64) Bracket { return Bracket{b.Molecular * k, b.Viscous * k} }

// Low is the smaller limit.
func (b Bracket) Low() float64 { return math.Min(b.Molecular, b.Viscous) }

// High is the larger limit.
func (b Bracket) High() float64 { return math.Max(b.Molecular, b.Viscous) }

// Outflow returns the ratio Q_out/Q_in of throughputs (Pa m³/s, same
// temperature) of gas flowing out from pressure p in Pa absolute to the
// atmosphere, to the air that flowed in:
//
//	viscous:   (η_air/η_gas) (p² - p_atm²)/(p_atm² - p_in²)
//	molecular: √(M_air/M_gas) (p - p_atm)/(p_atm - p_in)
//
// from the laminar conductance ~ (p1²-p2²)/η and the molecular one ~
// √(T/M)(p1-p2). It fails where p does not exceed the atmosphere, where the
// inside was not below it, and outside the range of a viscosity.
func (o Opening) Outflow(gas Gas, p float64) (Bracket, error) {
	const what = "flow through the same opening"
	if err := within(what, "atmosphere", o.Atmosphere, 1e3, 2e5, "Pa"); err != nil {
		return Bracket{}, err
	}
	if err := within(what, "pressure of the hold", o.Inside, 0, 0.5*o.Atmosphere, "Pa"); err != nil {
		return Bracket{}, err
	}
	if err := within(what, "pressure", p, o.Atmosphere, 2e7, "Pa"); err != nil {
		return Bracket{}, err
	}
	ηAir, err := Air.Viscosity(o.Temperature)
	if err != nil {
		return Bracket{}, err
	}
	ηGas, err := gas.Viscosity(o.Temperature)
	if err != nil {
		return Bracket{}, err
	}
	a, v := o.Atmosphere, o.Inside
	return Bracket{
		Molecular: math.Sqrt(Air.MolarMass/gas.MolarMass) * (p - a) / (a - v),
		Viscous:   ηAir / ηGas * (p*p - a*a) / (a*a - v*v),
	}, nil
}

// YearlyLoss returns the mass in kg of gas lost per year from pressure p in Pa
// absolute, if inflow in Pa m³/s is outside air through one opening.
func (o Opening) YearlyLoss(inflow float64, gas Gas, p float64) (Bracket, error) {
	ratio, err := o.Outflow(gas, p)
	if err != nil {
		return Bracket{}, err
	}
	return ratio.Times(MassFlow(inflow, gas.MolarMass, o.Temperature) * Year), nil
}
