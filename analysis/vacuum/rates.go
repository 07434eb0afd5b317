package vacuum

import (
	"math"

	"dryhold/analysis/quantity"
)

// rates is -d ln(p - pa)/dt at five pressures a decade, from a line through the readings within a factor of 1.35 (2.7 where
// there are few) of each; pa
// is 0 where not known. The pull-down's rate is the greatest of them below 1 kPa, of those known to a quarter; the
// interval is that of the line, widened for scatter beyond the noise and for correlated readings (factor 1.5).
func (tr *trace) rates(a, b int, pa Value) (out []RateAt, rate Value) {
	base := 0.0
	if pa.Known {
		base = pa.X
	}
	for e := 25; e >= 0; e-- {
		p := math.Pow(10, float64(e)/5)
		r, sd, ok := tr.rateAt(a, b, p, base)
		if !ok || r <= 0 {
			continue
		}
		out = append(out, RateAt{p, r})
		if p < 1000 && r > rate.X && quantity.K95*sd < 0.25*r {
			rate = Value{r, r - quantity.K95*sd, r + quantity.K95*sd, true}
		}
	}
	return out, rate
}

// rateAt widens the stretch around p until it holds six readings.
func (tr *trace) rateAt(a, b int, p, base float64) (rate, sd float64, ok bool) {
	for _, w := range [...]float64{0.3, 0.6, 1} {
		if rate, sd, ok = tr.rateWithin(a, b, p, base, w); ok {
			return rate, sd, ok
		}
	}
	return 0, 0, false
}

func (tr *trace) rateWithin(a, b int, p, base, window float64) (rate, sd float64, ok bool) {
	y := math.Log(p)
	i := a
	for i < b && tr.y[i] > y+window {
		i++
	}
	if i == a && a < b && tr.y[a] < y {
		return 0, 0, false
	}
	var n normal
	count := 0
	t0, lowest := 0.0, y
	for ; i < b && tr.y[i] > y-window; i++ {
		if count > 0 && tr.cut[i] {
			return 0, 0, false
		}
		if count == 0 {
			t0 = tr.t[i]
		}
		x := math.Exp(tr.y[i])
		if x < 1.3*base {
			break
		}
		g := x / (x - base) // d ln(x - base)/d ln x
		n.add([5]float64{1, tr.t[i] - t0}, 2, math.Log(x-base), 1/(tr.v[i]*g*g))
		count++
		lowest = tr.y[i]
	}
	if count < 6 || lowest > y {
		return 0, 0, false
	}
	c, ok := n.solve(2)
	if !ok {
		return 0, 0, false
	}
	scatter := 1.5 * max(1, n.chi2(c, 2)/float64(count-2))
	return -c[1], math.Sqrt(scatter * n.variance([5]float64{0, 1}, 2)), true
}
