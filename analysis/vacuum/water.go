package vacuum

import "dryhold/analysis/fluid"

// saturation is the vapour pressure of water at T, the nearest end of the range outside it.
func saturation(t float64) float64 {
	p, err := fluid.WaterSaturation(min(max(t, 150), 500))
	if err != nil {
		return 0
	}
	return p
}

// saturatedAt is the temperature at which water or ice has the vapour pressure p.
func saturatedAt(p float64) float64 {
	t, err := fluid.WaterSaturationTemperature(max(p, 1))
	if err != nil {
		return 200
	}
	return t
}
