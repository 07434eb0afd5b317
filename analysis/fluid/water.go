package fluid

import "math"

// Triple point of water (IAPWS R14-08).
const (
	TripleTemperature = 273.16  // K
	TriplePressure    = 611.657 // Pa
)

const (
	iceLowest     = 50.0    // K, IAPWS R14-08
	liquidHighest = 647.096 // K, critical temperature, IAPWS-IF97
)

// WaterSaturation returns the pressure in Pa at which water vapour is in
// equilibrium at T in K (50 to 647.096): over ice below the triple point
// (IAPWS R14-08(2011), sublimation pressure), over liquid from there
// (IAPWS-IF97, equation 30).
func WaterSaturation(T float64) (float64, error) {
	if err := within("saturation pressure of water", "temperature", T, iceLowest, liquidHighest, "K"); err != nil {
		return 0, err
	}
	return math.Exp(lnWater(T)), nil
}

// WaterSaturationTemperature returns the temperature in K at which water vapour
// of pressure p in Pa is in equilibrium with ice (below 611.657 Pa) or liquid:
// the inverse of [WaterSaturation].
func WaterSaturationTemperature(p float64) (float64, error) {
	low, high := math.Exp(lnIce(iceLowest)), math.Exp(lnLiquid(liquidHighest))
	if err := within("saturation temperature of water", "pressure", p, low, high, "Pa"); err != nil {
		return 0, err
	}
	if p < TriplePressure {
		return invert(lnIce, math.Log(p), iceLowest, TripleTemperature), nil
	}
	// IF97 gives 611.6570 Pa at 273.16 K; the extra kelvin below keeps the root inside
	// the bracket whatever its last digit.
	return invert(lnLiquid, math.Log(p), TripleTemperature-1, liquidHighest), nil
}

// lnWater is ln(p/Pa) over the phase that is stable at T.
func lnWater(T float64) float64 {
	if T < TripleTemperature {
		return lnIce(T)
	}
	return lnLiquid(T)
}

// lnIce is ln(p/Pa) over ice: ln(p/pt) = (1/θ) Σ a_i θ^b_i, θ = T/273.16 K
// (IAPWS R14-08(2011), sublimation curve).
func lnIce(T float64) float64 {
	θ := T / TripleTemperature
	ln := math.Log(θ) // its powers take a third of math.Pow's time so
	sum := -21.2144006*math.Exp(0.00333333333*ln) +
		27.3203819*math.Exp(1.20666667*ln) -
		6.10598130*math.Exp(1.70333333*ln)
	return math.Log(TriplePressure) + sum/θ
}

// lnLiquid is ln(p/Pa) over liquid water by IAPWS-IF97, equation 30.
func lnLiquid(T float64) float64 {
	ϑ := T - 0.23855557567849/(T-650.17534844798)
	A := ϑ*ϑ + 1167.0521452767*ϑ - 724213.16703206
	B := -17.073846940092*ϑ*ϑ + 12020.824702470*ϑ - 3232555.0322333
	C := 14.915108613530*ϑ*ϑ - 4823.2657361591*ϑ + 405113.40542057
	return math.Log(1e6) + 4*math.Log(2*C/(-B+math.Sqrt(B*B-4*A*C)))
}
