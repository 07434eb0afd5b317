package vacuum

import (
	"math"

	"dryhold/analysis/quantity"
)

// asymptote fits p = pa + A exp(-t/T) to the tail of the pull-down, from three times its lowest pressure on, and from 1.7 times.
// A pump-down is not one exponential; where the two disagree, the interval holds both. The later tail gives the value. It
// is known where both are, and the interval is narrower than half of the value on either side.
func (tr *trace) asymptote(a, b int) Value {
	long, v := tr.tail(a, b, 3), tr.tail(a, b, 1.7)
	v.Low, v.High = min(v.Low, long.Low), max(v.High, long.High)
	if !v.Known || !long.Known || !(v.Low > 0) || v.High-v.X > 0.5*v.X || v.X-v.Low > 0.5*v.X {
		return Value{}
	}
	return v
}

// tail fits from times the lowest pressure on; the interval is the profile of the likelihood over T with that of pa at each T.
// Known is false where the tail lasts less than one and a half of T.
func (tr *trace) tail(a, b int, times float64) Value {
	low := math.Inf(1)
	for i := a; i < b; i++ {
		low = min(low, tr.y[i])
	}
	from := b
	for from > a && !tr.cut[min(from, b-1)] && tr.y[from-1] < low+math.Log(times) {
		from--
	}
	n := b - from
	if n < 10 {
		return Value{}
	}
	step := max(1, n/200)
	length := tr.t[b-1] - tr.t[from]
	type point struct{ chi, pa, sd, tau float64 }
	var prof []point
	var t, p, w []float64
	for i := from; i < b; i += step {
		x := math.Exp(tr.y[i])
		t, p, w = append(t, tr.t[i]-tr.t[from]), append(p, x), append(w, 1/(tr.v[i]*x*x))
	}
	best := point{chi: math.Inf(1)}
	scan := func(low, high, factor float64) {
		for tau := low; tau < high; tau *= factor {
			var nm normal
			for i, x := range t {
				nm.add([5]float64{1, math.Exp(-x / tau)}, 2, p[i], w[i])
			}
			c, ok := nm.solve(2)
			if !ok || c[1] <= 0 {
				continue
			}
			pt := point{nm.chi2(c, 2), c[0], math.Sqrt(nm.variance([5]float64{1}, 2)), tau}
			prof = append(prof, pt)
			if pt.chi < best.chi {
				best = pt
			}
		}
	}
	scan(length/12, 4*length, 1.25)
	if best.tau > 0 {
		scan(best.tau/1.25, best.tau*1.25, 1.015)
	}
	if len(prof) == 0 {
		return Value{}
	}
	scatter := 1.5 * max(1, best.chi/float64(max(len(t)-3, 1)))
	v := Value{X: best.pa, Low: math.Inf(1), High: math.Inf(-1), Known: best.tau < length/1.5}
	for _, p := range prof {
		if p.chi <= best.chi+3.84*scatter {
			w := quantity.K95 * math.Sqrt(scatter) * p.sd
			v.Low, v.High = min(v.Low, p.pa-w), max(v.High, p.pa+w)
		}
	}
	return v
}
