package vacuum

import (
	"math"

	"dryhold/analysis/fit"
	"dryhold/analysis/quantity"
)

// micron is the micron of mercury; the thresholds of the naming rule are stated in it.
var micron = quantity.Micron.Scale

// level is the coverage of every interval.
const level = 0.95

// measured is what the fit of one hold gives, all in indicated pressure and seconds from the isolation.
type measured struct {
	start, end     float64 // pressure at the settle time and at the end
	settle, length float64
	leak, moist    fit.Spread // contributions from settle to the end, Pa
	tau            fit.Spread
	tauKnown       bool
	share          map[string]float64 // of the four models
	sigmaLeak      float64            // standard deviation of a leak's contribution, with moisture allowed for
	transient      float64            // its most likely size, Pa, at the isolation
	transientTau   float64
}

// measure reads the averaged distribution.
func (f *fitted) measure(nz noise) measured {
	n := len(f.b.t)
	m := measured{length: f.b.t[n-1], share: map[string]float64{}}
	f.settle(&m, nz)
	leakShare := 1 - m.settle/m.length
	moistShare := make([]float64, len(f.kinds))
	for i, k := range f.kinds {
		if k.moist {
			moistShare[i] = 1 - rise(k.shape, m.settle, k.tau)/rise(k.shape, m.length, k.tau)
		}
	}
	leak := make([]fit.Weighted, len(f.Particles))
	moist := make([]fit.Weighted, len(f.Particles))
	var taus []fit.Weighted
	for j, p := range f.Particles {
		leak[j] = fit.Weighted{X: p.A * leakShare, Weight: p.Weight}
		moist[j] = fit.Weighted{X: p.B * moistShare[p.Candidate], Weight: p.Weight}
	}
	for i, k := range f.kinds {
		m.share[k.name()] += f.Weight[i]
		if k.moist && f.Weight[i] > 0 {
			taus = append(taus, fit.Weighted{X: k.tau, Weight: f.Weight[i]})
		}
	}
	m.leak, m.moist = fit.Summarise(leak, level), fit.Summarise(moist, level)
	if len(taus) > 0 {
		m.tau, m.tauKnown = fit.Summarise(taus, level), true
	}
	m.sigmaLeak = f.sigmaLeak() * leakShare
	return m
}

// settle finds when the transient, averaged over all hypotheses, has become small: under a third of the scatter of a
// reading, or half a micron, or 1 % of the rise.
func (f *fitted) settle(m *measured, nz noise) {
	n := len(f.b.t)
	size := make([]float64, n)
	for i, w := range f.Weight {
		k := f.kinds[i]
		if k.trans == 0 || w < 1e-3 {
			continue
		}
		a, b := f.design.Mode(f.cands[i], f.s2)
		soft, _ := f.design.Coefficients(f.cands[i], f.s2, a, b)
		for j := range size {
			size[j] += w * math.Abs(soft[0]) * f.cols[k.tcol][j]
		}
		m.transient += w * soft[0]
		m.transientTau += w * math.Abs(soft[0]) * k.trans
	}
	if size[0] > 0 {
		m.transientTau /= size[0]
	}
	y := f.curve(f.best, f.s2)
	m.end = y[n-1]
	for j := range size {
		tol := max(math.Sqrt(nz.variance(f.b.p[j]))/3, micron/2, 0.01*math.Abs(m.end-y[j]))
		if size[j] <= tol || j == n/2 {
			m.settle, m.start = f.b.t[j], y[j]
			if j == 0 {
				m.settle = 0
			}
			return
		}
	}
}

// sigmaLeak is the standard deviation that the contribution of a leak would have, averaged over the hypotheses that have
// one, in the proportion of their weights.
func (f *fitted) sigmaLeak() float64 {
	var v, sum float64
	for i, w := range f.Weight {
		if f.kinds[i].leak && w > 0 {
			s := f.design.Deviation(f.cands[i], f.s2)
			v += w * s * s
			sum += w
		}
	}
	if sum == 0 {
		return math.NaN()
	}
	return math.Sqrt(v / sum)
}

// threshold is the contribution above which a cause is named: 5 micron, 3 % of the start pressure and 10 % of the rise.
func threshold(start, rise float64) float64 { return max(5*micron, 0.03*start, 0.1*rise) }
