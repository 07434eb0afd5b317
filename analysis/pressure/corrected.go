package pressure

import (
	"dryhold/analysis/fluid"
	"dryhold/analysis/readings"
)

// Corrected returns the recording as it would have been had the gas kept the
// temperature T in K: times in s after the start of s, pressures in Pa absolute.
// Readings without a temperature, or outside the range of the nitrogen
// equation, are left out; skipped counts them.
func Corrected(s *readings.Series, T float64) (t, p []float64, skipped int) {
	for i := range s.T {
		if s.Mark[i] != readings.Used || i >= len(s.Ambient) {
			skipped++
			continue
		}
		q, err := fluid.NitrogenIsochore(s.P[i], s.Ambient[i], T)
		if err != nil {
			skipped++
			continue
		}
		t, p = append(t, s.T[i]), append(p, q)
	}
	return t, p, skipped
}
