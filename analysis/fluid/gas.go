package fluid

import "math"

// Gas is what a gas flow through a leak or a hose needs to know of a gas at low
// density.
type Gas struct {
	Name      string
	MolarMass float64 // kg/mol

	viscosity   func(T float64) float64
	cold, hot   float64 // K, range of viscosity
	viscosityOf string  // source of viscosity
}

// Viscosity returns the dynamic viscosity in Pa s of the dilute gas at T in K.
// It is right within 0.1 % up to one atmosphere for [Air] and [Nitrogen].
func (g Gas) Viscosity(T float64) (float64, error) {
	if err := within("viscosity of "+g.Name, "temperature", T, g.cold, g.hot, "K"); err != nil {
		return 0, err
	}
	return g.viscosity(T), nil
}

// Source names the publication behind [Gas.Viscosity].
func (g Gas) Source() string { return g.viscosityOf }

const lemmonJacobsen = "Lemmon and Jacobsen, Int. J. Thermophys. 25:21 (2004), dilute gas"

// Air is dry air, 200 to 400 K.
var Air = Gas{Name: "air", MolarMass: 28.9586e-3, cold: 200, hot: 400, viscosityOf: lemmonJacobsen,
	viscosity: func(T float64) float64 { return dilute(T, 28.9586, 0.360, 103.3) }}

// Nitrogen is nitrogen, 200 to 400 K.
var Nitrogen = Gas{Name: "nitrogen", MolarMass: 28.01348e-3, cold: 200, hot: 400, viscosityOf: lemmonJacobsen,
	viscosity: func(T float64) float64 { return dilute(T, 28.01348, 0.3656, 98.94) }}

// dilute is the Chapman-Enskog viscosity in Pa s as Lemmon and Jacobsen (2004)
// write it, with M in g/mol, σ in nm and ε/k in K:
//
//	η0 = 0.0266958e-6 √(MT) / (σ² Ω(T*)),  T* = T/(ε/k),  ln Ω = Σ b_i (ln T*)^i
func dilute(T, M, σ, εk float64) float64 {
	x := math.Log(T / εk)
	Ω := math.Exp(0.431 + x*(-0.4623+x*(0.08406+x*(0.005341-x*0.00331))))
	return 0.0266958e-6 * math.Sqrt(M*T) / (σ * σ * Ω)
}

// powerLaw is the viscosity in Pa s of a vapour that has η0 at 273.15 K and η40
// at 313.15 K, by η ~ T^n, which kinetic theory gives for soft spheres.
func powerLaw(η0, η40 float64) func(T float64) float64 {
	n := math.Log(η40/η0) / math.Log(313.15/273.15)
	return func(T float64) float64 { return η0 * math.Pow(T/273.15, n) }
}

// MassFlow returns the mass flow in kg/s of an ideal gas of the given molar mass
// in kg/mol at T in K, from the throughput q in Pa m³/s: q M/(R T).
func MassFlow(q, molarMass, T float64) float64 { return q * molarMass / (R * T) }
