package sim

import "math"

const (
	gasConstant  = 8.314462618 // J/(mol K), exact by the SI to the digits given
	waterMolar   = 0.018015268 // kg/mol
	triplePoint  = 273.16      // K
	fusionHeat   = 3.336e5     // J/kg at the triple point, IAPWS (from memory)
	evaporation  = 2.5009e6    // J/kg at the triple point, IAPWS (from memory)
	liquidHeat   = 4218.0      // J/(kg K) at 0 degC
	iceHeat      = 2097.0      // J/(kg K) at 0 degC
	vapourHeat   = 1860.0      // J/(kg K), dilute
	airMolar     = 0.0289654   // kg/mol
	vapourThin   = 0.524       // viscosity of water vapour over that of air at 20 degC (9.548/18.206)
	diffusionGas = 100.0       // Pa of dry gas that halve the evaporation; common estimate
)

// Micron is one micron of mercury in Pa (conventional mmHg, exact).
const Micron = 0.133322387415

// Saturation returns the pressure (Pa) of water vapour over liquid water from
// 273.16 K upward, and over ice below, at t in K.
// Murphy and Koop, Q. J. R. Meteorol. Soc. 131 (2005) 1539, equations 7 and 10,
// natural logarithms; within 0.05 % of IAPWS from -40 to 60 degC.
func Saturation(t float64) float64 {
	if t < triplePoint {
		return math.Exp(9.550426 - 5723.265/t + 3.53068*math.Log(t) - 0.00728332*t)
	}
	l := math.Log(t)
	return math.Exp(54.842763 - 6763.22/t - 4.210*l + 0.000367*t +
		math.Tanh(0.0415*(t-218.8))*(53.878-1331.22/t-9.44523*l+0.014025*t))
}
