package vacuum

import (
	"math"
	"slices"

	"dryhold/analysis/readings"
)

const (
	ceiling   = 3000.0 // Pa: above it a circuit counts as not evacuated
	blockTime = 5.0    // s: readings closer than this are averaged
	shortest  = 280.0  // s: an isolation shorter than about five minutes is not called a hold
)

// trace is the recording as the search for phases sees it: means of ln p over blocks of a few seconds, usable readings
// only. No block spans a reading out of range or a gap.
type trace struct {
	t, y, v  []float64 // s after the start of the series, ln(p/Pa), variance of y
	from, to []int     // readings [from, to) of the block
	cut      []bool    // a gap or an out-of-range reading lies before this block
	interval float64   // median sampling interval, s
	near     bool      // the gauge is at the pump side: it shows the isolation at once
}

// newTrace averages readings closer than block seconds. A gap is more than three median intervals, and than two blocks.
func newTrace(s *readings.Series, block float64, near bool) *trace {
	tr := &trace{interval: medianInterval(s.T), near: near}
	n := len(s.T)
	gap := max(3*tr.interval, 2*block)
	within := block - min(0.05, tr.interval/4, block/4) // the last digit of a time must not decide where a block ends
	cut := true
	for i := 0; i < n; {
		if !usable(s, i) {
			cut, i = true, i+1
			continue
		}
		if i > 0 && s.T[i]-s.T[i-1] > gap {
			cut = true
		}
		var t, y float64
		j := i
		for ; j < n && usable(s, j) && s.T[j] < s.T[i]+within && (j == i || s.T[j]-s.T[j-1] <= gap); j++ {
			t += s.T[j]
			y += math.Log(s.P[j])
		}
		m := float64(j - i)
		tr.t, tr.y, tr.v = append(tr.t, t/m), append(tr.y, y/m), append(tr.v, 1/m)
		tr.from, tr.to, tr.cut = append(tr.from, i), append(tr.to, j), append(tr.cut, cut)
		cut, i = false, j
	}
	tr.weigh(s)
	return tr
}

func usable(s *readings.Series, i int) bool {
	return s.Mark[i] == readings.Used && s.P[i] > 0 && !math.IsInf(s.P[i], 0)
}

// high tells whether reading i says that the circuit is not evacuated.
func high(s *readings.Series, i int) bool {
	return s.Mark[i] == readings.OverRange || usable(s, i) && s.P[i] > ceiling
}

func medianInterval(t []float64) float64 {
	if len(t) < 2 {
		return 0
	}
	const most = 2001 // evenly spread over the recording
	stride := max(1, (len(t)-1)/most)
	d := make([]float64, 0, most+1)
	for i := 1; i < len(t); i += stride {
		d = append(d, t[i]-t[i-1])
	}
	slices.Sort(d)
	return d[len(d)/2]
}

// weigh sets the variance of every block: proportional scatter, from each block's distance to the line through its
// neighbours, and the resolution step displayed at that pressure. The scatter does not fall as 1/m: gauges' noise is
// correlated over seconds.
func (tr *trace) weigh(s *readings.Series) {
	steps := displaySteps(s)
	n := len(tr.t)
	d := make([]float64, 0, n)
	for i := 1; i+1 < n; i++ {
		if tr.cut[i] || tr.cut[i+1] {
			continue
		}
		a := (tr.t[i] - tr.t[i-1]) / (tr.t[i+1] - tr.t[i-1])
		e := tr.y[i] - tr.y[i-1]*(1-a) - tr.y[i+1]*a
		d = append(d, e*e/(1+a*a+(1-a)*(1-a)))
	}
	scatter := 0.005 * 0.005
	if len(d) > 5 {
		slices.Sort(d)
		scatter = max(d[len(d)/2]/0.455, 1e-6) // the median of a squared normal deviate is 0.455
	}
	for i := range tr.v {
		p := math.Exp(tr.y[i])
		q := steps[band(p)] / p
		tr.v[i] = scatter + q*q/12
	}
}

// band is the power of two in which p lies.
func band(p float64) int {
	_, e := math.Frexp(p)
	return min(max(e+32, 0), 63)
}

// displaySteps finds the finest step between neighbouring readings in every band of pressure.
func displaySteps(s *readings.Series) (steps [64]float64) {
	for i := 1; i < len(s.P); i++ {
		d := math.Abs(s.P[i] - s.P[i-1])
		if !(d > 1e-6*s.P[i]) || math.IsInf(d, 0) {
			continue
		}
		b := band(s.P[i])
		if steps[b] == 0 || d < steps[b] {
			steps[b] = d
		}
	}
	return steps
}

// tolerance is what an isolation must be located to: three sampling intervals, 30 s at least.
func (tr *trace) tolerance() float64 { return max(3*tr.interval, 30) }

// slope is the weighted slope of y over blocks [a, b), and its standard deviation.
func (tr *trace) slope(a, b int) (m, sd float64) {
	var w, wt, wy float64
	for i := a; i < b; i++ {
		w += 1 / tr.v[i]
		wt += tr.t[i] / tr.v[i]
		wy += tr.y[i] / tr.v[i]
	}
	var tt, ty float64
	for i := a; i < b; i++ {
		d := tr.t[i] - wt/w
		tt += d * d / tr.v[i]
		ty += d * (tr.y[i] - wy/w) / tr.v[i]
	}
	if !(tt > 0) {
		return 0, math.Inf(1)
	}
	return ty / tt, 1 / math.Sqrt(tt)
}

// mean of y over blocks [a, b).
func (tr *trace) mean(a, b int) float64 {
	s := 0.0
	for i := a; i < b; i++ {
		s += tr.y[i]
	}
	return s / float64(b-a)
}
