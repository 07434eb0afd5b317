package vacuum

import "math"

// smallestLeak is the larger of the naming threshold and the detection limit for α = β = 5 %, 2 · 1.645 standard deviations
// of the leak's contribution with moisture allowed for (Currie, Anal. Chem. 40:586, 1968), as a throughput.
func (h *Hold) smallestLeak(m measured, volume float64) {
	if volume <= 0 || math.IsNaN(m.sigmaLeak) || m.length <= m.settle {
		return
	}
	h.SmallestLeak = math.Max(h.Threshold, 2*1.645*m.sigmaLeak) / (m.length - m.settle) * volume
	h.SmallestKnown = true
}

// growth is the power of the hold's length with which the readings' power to tell a line from a curve grows: the bend of a
// slow store grows with the square of the time, the scatter of its measure falls with its square root.
const growth = 2.5

// longerHold is the length at which the intervals, narrowing with that power against contributions that grow in proportion,
// would leave the threshold outside. It is 0 where the cause is determined and where four times the hold would not do.
func (h *Hold) longerHold(m measured) {
	if h.Cause != NotDetermined {
		return
	}
	need := 1.0
	for _, v := range []Value{h.LeakContr, h.MoistureRise} {
		half := (v.High - v.Low) / 2
		if off := math.Max(math.Abs(v.X-h.Threshold), h.Threshold/3); v.Low < h.Threshold && v.High > h.Threshold {
			need = math.Max(need, half/off)
		}
	}
	length := m.length * math.Max(1.2, math.Pow(need, 1/(growth-1)))
	if length <= 4*m.length {
		h.LongerHold = math.Ceil(length/60) * 60
	}
}
