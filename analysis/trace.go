package analysis

import (
	"math"
	"sort"
	"time"

	"dryhold/analysis/readings"
	"dryhold/analysis/record"
)

// traceOf decimates the stretch from..to of a recording into at most 2n points:
// each of n spans keeps its lowest and its highest reading, so that no spike is
// lost. Times are s after the recording's start.
func traceOf(s *readings.Series, from, to time.Time, n int) *record.Trace {
	a, b := from.Sub(s.Start).Seconds(), to.Sub(s.Start).Seconds()
	lo, hi := sort.SearchFloat64s(s.T, a), sort.Search(len(s.T), func(i int) bool { return s.T[i] > b })
	t := &record.Trace{T: record.Floats{}, Y: record.Floats{}}
	gap := 3 * medianInterval(s)
	last := math.Inf(-1)
	size := max(1, (hi-lo+n-1)/n)
	if hi-lo <= 2*n {
		size = 1
	}
	for i := lo; i < hi; i += size {
		low, high := extremes(s, i, min(i+size, hi), t)
		if low < 0 {
			continue
		}
		first, second := min(low, high), max(low, high)
		if len(t.T) > 0 && s.T[first]-last > gap+float64(size-1)*gap/3 {
			t.Breaks = append(t.Breaks, len(t.T))
		}
		t.T, t.Y = append(t.T, s.T[first]), append(t.Y, s.P[first])
		if second != first {
			t.T, t.Y = append(t.T, s.T[second]), append(t.Y, s.P[second])
		}
		last = s.T[second]
	}
	return t
}

// extremes finds the lowest and the highest usable reading in [i, k), -1 for
// none, and notes over-range times in t.
func extremes(s *readings.Series, i, k int, t *record.Trace) (low, high int) {
	low, high = -1, -1
	over := false
	for ; i < k; i++ {
		if s.Mark[i] == readings.OverRange && !over {
			over = true
			t.OverRange = append(t.OverRange, s.T[i])
		}
		if s.Mark[i] != readings.Used || math.IsNaN(s.P[i]) {
			continue
		}
		if low < 0 || s.P[i] < s.P[low] {
			low = i
		}
		if high < 0 || s.P[i] > s.P[high] {
			high = i
		}
	}
	return low, high
}

func medianInterval(s *readings.Series) float64 {
	if len(s.T) < 2 {
		return 0
	}
	d := make([]float64, len(s.T)-1)
	for i := range d {
		d[i] = s.T[i+1] - s.T[i]
	}
	sort.Float64s(d)
	return d[len(d)/2]
}
