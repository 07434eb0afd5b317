package pressure

import (
	"math"

	"dryhold/analysis/fluid"
)

// budget lists what makes the change uncertain, each as a standard uncertainty
// in Pa; the formulas stand in the package comment.
func budget(r *Result, o Options) []Term {
	ratio := r.Expected / r.Start.Pressure
	ends := math.Hypot(1, ratio)
	atmosphere := o.Atmosphere
	if o.Gauge.Absolute {
		atmosphere = 0
	}
	seen := (r.End.Pressure - atmosphere) - ratio*(r.Start.Pressure-atmosphere)
	offset := o.Gauge.Offset / math.Sqrt(3) * ends
	if z := o.Gauge.ZeroStability; z > 0 {
		offset = math.Hypot(o.Gauge.Offset/math.Sqrt(3)*(1-ratio), z/math.Sqrt(3))
	}
	terms := []Term{
		{"gain", o.Gauge.Gain / math.Sqrt(3) * math.Abs(seen)},
		{"offset", offset},
		{"resolution", o.Gauge.Resolution / math.Sqrt(12) * ends},
		{"scatter", math.Hypot(r.End.Scatter, ratio*r.Start.Scatter)},
		{"temperature", math.Hypot(temperatureLimit(o), o.Thermometer) / math.Sqrt(3) * perKelvin(r) * math.Sqrt2},
	}
	if !o.Gauge.Absolute {
		terms = append(terms, Term{"atmosphere", atmosphereLimit(r, o) / math.Sqrt(3)})
	}
	return terms
}

// perKelvin is the change of the expected pressure in Pa/K with either
// temperature; the two slopes differ by under 10 % and the larger is taken.
func perKelvin(r *Result) float64 {
	slope := math.Max(r.Start.Pressure/r.Start.Temperature, r.Expected/r.End.Temperature)
	for _, step := range []float64{-0.5, 0.5} {
		T := r.End.Temperature + step
		if p, err := fluid.NitrogenIsochore(r.Start.Pressure, r.Start.Temperature, T); err == nil {
			slope = math.Max(slope, (p-r.Expected)/step)
		}
	}
	return slope
}

// temperatureLimit is the limit in K of the difference between the place of the
// sensor and the gas in the whole circuit: 1 K for one on the pipe, 3 K for one in
// the air or at a place not stated (common practice, no source). A good
// thermometer makes it no smaller.
func temperatureLimit(o Options) float64 {
	if o.TemperatureAt == "pipe" {
		return 1
	}
	return 3
}

// atmosphereLimit is the limit in Pa of the atmosphere's change that was not
// accounted for: 100 Pa an hour and 2 kPa at most (from memory, no source).
func atmosphereLimit(r *Result, o Options) float64 {
	if positive(o.AtmosphereChange) {
		return o.AtmosphereChange
	}
	return math.Min(100*r.Duration/3600, 2000)
}
