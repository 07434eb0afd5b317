package job

import (
	"math"

	"dryhold/analysis/fluid"
)

// Atmosphere is the air pressure at the site in Pa, where it is from
// ("barometer", "altitude" or "standard atmosphere"), and its standard
// uncertainty in Pa.
//
// A barometer without ± is taken to be right within 2 hPa, an altitude's
// pressure within fluid.StationPressureSpread, the standard atmosphere of an
// unknown place within 15 % (common practice, no published source); each is an
// error limit, u = a/√3 (JCGM 100, 4.3.7).
func (j *Job) Atmosphere() (pa float64, from string, u float64) {
	if b := j.Job.Barometer; b.Given() {
		if b.U > 0 {
			return b.SI, "barometer", b.U
		}
		return b.SI, "barometer", 200 / math.Sqrt(3)
	}
	if a := j.Job.Altitude; a.Given() {
		if p, err := fluid.StationPressure(a.SI); err == nil {
			return p, "altitude", p * fluid.StationPressureSpread / math.Sqrt(3)
		}
	}
	return fluid.StandardAtmosphere, "standard atmosphere", fluid.StandardAtmosphere * 0.15 / math.Sqrt(3)
}
