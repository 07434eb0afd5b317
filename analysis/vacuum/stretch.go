package vacuum

import (
	"slices"

	"dryhold/analysis/readings"
)

// stretch is the time between two fillings with gas: an evacuation, what follows it, and how it ended.
type stretch struct {
	lo, hi   int     // blocks [lo, hi)
	from, to float64 // s: the first and the last reading
	depart   float64 // s: where the fall from high pressure begins
	filled   bool    // it ends with a sudden rise to high pressure
	high     bool    // it begins at high pressure
}

// stretches cuts the recording at sudden rises to high pressure; top is that of the gauge's range, 0 where not stated. A slow rise past the ceiling
// or the gauge's range is part of a hold.
func stretches(s *readings.Series, top float64) []stretch {
	var out []stretch
	n := len(s.T)
	if n == 0 {
		return nil
	}
	top = max(top, rangeTop(s))
	cur := stretch{from: s.T[0], high: high(s, 0)}
	low := false // a low reading was seen
	for i := range n {
		switch {
		case !high(s, i):
			low = low || usable(s, i)
			continue
		case !low:
			continue
		}
		if last := fill(s, i, top); last >= 0 {
			cur.to, cur.filled = s.T[last], true
			out = append(out, cur)
			cur = stretch{from: s.T[last+1], high: true}
			low = false
		}
	}
	cur.to = s.T[n-1]
	out = append(out, cur)
	for k := range out {
		out[k].depart = departure(s, out[k])
	}
	return out
}

// departure is where the fall from high pressure begins: the last reading before the first low one that is over range or at
// least 0.9 of the highest.
func departure(s *readings.Series, st stretch) float64 {
	at, top := st.from, 0.0
	first, _ := slices.BinarySearch(s.T, st.from)
	reached := false // the filling has reached high pressure
	last := first
	for i := first; i < len(s.T) && s.T[i] <= st.to; i++ {
		if !high(s, i) && usable(s, i) && (reached || !st.high) {
			break
		}
		reached = reached || high(s, i)
		if usable(s, i) {
			top = max(top, s.P[i])
		}
		last = i
	}
	for i := first; i <= last && i < len(s.T); i++ {
		if s.Mark[i] == readings.OverRange || usable(s, i) && s.P[i] >= 0.9*top {
			at = s.T[i]
		}
	}
	return at
}

// fill tells whether reading i, which is high, belongs to a rise too fast for a hold: a half more within ten seconds (or one
// interval) or since a rise of 20 Pa/s began, and 20 Pa/s. It returns the last reading before the rise, or -1.
func fill(s *readings.Series, i int, top float64) int {
	p := top
	if usable(s, i) {
		p = s.P[i]
	}
	j := tenBefore(s, i)
	for j >= 0 {
		k := tenBefore(s, j)
		if k < 0 || !steep(s, k, j) {
			break
		}
		j = k
	}
	if j < 0 || s.P[j]*1.3 > p || p-s.P[j] < 20*(s.T[i]-s.T[j]) && s.P[j]*3 > p {
		return -1
	}
	for j > 0 && usable(s, j-1) && steep(s, j-1, j) {
		j--
	}
	for j+1 < i && usable(s, j+1) && s.P[j+1] < 1.05*s.P[j] {
		j++
	}
	return j
}

// tenBefore is the last usable reading ten seconds before reading i, or where they are rarer the one before it; -1 where there is none.
func tenBefore(s *readings.Series, i int) int {
	j := i - 1
	for ; j >= 0 && (!usable(s, j) || s.T[i]-s.T[j] < 10 && j > 0 && s.T[i]-s.T[j-1] < 20); j-- {
	}
	return j
}

// steep tells whether the pressure rises from reading j to reading i as it does when gas is let in.
func steep(s *readings.Series, j, i int) bool {
	return s.P[j] < 0.95*s.P[i] && s.P[i]-s.P[j] > 20*(s.T[i]-s.T[j])
}

// rangeTop is the highest reading: what an over-range reading is above at least.
func rangeTop(s *readings.Series) float64 {
	top := 0.0
	for i := range s.P {
		if usable(s, i) {
			top = max(top, s.P[i])
		}
	}
	return top
}
