package fluid

import "math"

// StandardAtmosphere is the standard atmosphere in Pa, exact.
const StandardAtmosphere = 101325.0

// StationPressureSpread is the relative change of the pressure at a place with
// the weather that a pressure worked out from the altitude cannot know: about
// 3 % either way (common practice, no published source).
const StationPressureSpread = 0.03

// StationPressure returns the mean pressure of the air in Pa at an altitude in
// m (-500 to 11000) above sea level in the International Standard Atmosphere:
//
//	p = 101325 Pa (1 - 0.0065 H / 288.15 m)^5.255876
//
// The exponent is g0 M0/(R* L) = 9.80665·0.0289644/(8.31432·0.0065), US Standard
// Atmosphere 1976. H is the geopotential altitude; taking the map's altitude for
// it changes p by less than 0.1 % up to 4500 m.
func StationPressure(altitude float64) (float64, error) {
	if err := within("station pressure", "altitude", altitude, -500, 11000, "m"); err != nil {
		return 0, err
	}
	const exponent = 9.80665 * 0.0289644 / (8.31432 * 0.0065)
	return StandardAtmosphere * math.Pow(1-0.0065*altitude/288.15, exponent), nil
}
