package vacuum

import (
	"math"

	"dryhold/analysis/fluid"
)

// lineTemperature is the temperature of the air in a hose, K.
const lineTemperature = 293.15

// Conductance of a round tube of inner diameter d and length l (m) for air at 20 °C and a mean pressure p (Pa), in m³/s,
// from laminar to molecular flow by Knudsen's interpolation:
//
//	C = π d⁴ p/(128 η l) + d³/(6 l) √(2πRT/M) (1 + 192 D p)/(1 + 237 D p)     (D in cm and p in mbar in the last factor)
//
// (textbooks, from memory; the last factor agrees with its derivation from the mean free path to 1.5 %). Ends, choking
// and turbulence are left out.
func Conductance(d, l, p float64) float64 {
	eta, err := fluid.Air.Viscosity(lineTemperature)
	if err != nil {
		return math.NaN()
	}
	laminar := math.Pi * math.Pow(d, 4) * p / (128 * eta * l)
	molecular := d * d * d / (6 * l) * math.Sqrt(2*math.Pi*fluid.R*lineTemperature/fluid.Air.MolarMass)
	k := 100 * d * p / 100
	return laminar + molecular*(1+192*k)/(1+237*k)
}
