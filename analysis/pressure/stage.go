package pressure

import (
	"math"
	"time"

	"dryhold/analysis/readings"
)

const (
	steadyRate   = 0.01 / 60 // 1/s of the highest pressure: slower is a hold
	steadyWindow = 30.0      // s over which the rate is taken
	shortest     = 60.0      // s, the shortest hold that counts
	above        = 20e3      // Pa above the start of the recording: a circuit not yet filled is no stage
)

// Stages finds the times for which a pressure was held: the pressure changes
// over 30 s (or from one reading to the next, where they are further apart) by
// less than 1 % of the highest pressure a minute, for a minute or longer.
func Stages(s *readings.Series) []Stage {
	t, p := valid(s)
	if len(t) < 2 {
		return nil
	}
	highest, lowest := p[0], p[0]
	for _, x := range p {
		highest, lowest = math.Max(highest, x), math.Min(lowest, x)
	}
	if lowest > highest/2 { // filled before the recording began
		lowest = math.Min(lowest, 150e3-above)
	}
	var list []Stage
	from := -1
	for i, j := 0, 0; i < len(t); i++ {
		for j < len(t)-1 && t[j] < t[i]+steadyWindow {
			j++
		}
		last := i == len(t)-1
		steady := !last && j > i && math.Abs(p[j]-p[i]) <= steadyRate*highest*(t[j]-t[i]) && p[i] > lowest+above
		if steady && from < 0 {
			from = i
		}
		if from >= 0 && (!steady || last) {
			if st, ok := stage(s, t, p, from, i); ok {
				list = append(list, st)
			}
			from = -1
		}
	}
	return list
}

// stage is readings from..to as a stage, if it is long enough.
func stage(s *readings.Series, t, p []float64, from, to int) (Stage, bool) {
	m, _ := mean(p[from : to+1])
	return Stage{at(s, t[from]), at(s, t[to]), m}, t[to]-t[from] >= shortest
}

func at(s *readings.Series, t float64) time.Time {
	return s.Start.Add(time.Duration(t * float64(time.Second)))
}

// valid returns the times and pressures of the readings that are numbers.
func valid(s *readings.Series) (t, p []float64) {
	for i := range s.T {
		if s.Mark[i] == readings.Used && positive(s.P[i]) {
			t, p = append(t, s.T[i]), append(p, s.P[i])
		}
	}
	return t, p
}
