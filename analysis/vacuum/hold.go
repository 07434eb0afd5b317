package vacuum

import (
	"fmt"
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
	early          float64   // upper end of the moisture's contribution from the isolation on, Pa
	leakShare      float64   // factor from a leak's coefficient to its contribution
	moistShare     []float64 // the same for moisture, by candidate
}

// measure reads the averaged distribution.
func (f *fitted) measure(nz noise) measured {
	n := len(f.b.t)
	m := measured{length: f.b.t[n-1], share: map[string]float64{}}
	f.settle(&m, nz)
	m.leakShare, m.moistShare = 1-m.settle/m.length, make([]float64, len(f.kinds))
	for i, k := range f.kinds {
		if k.moist {
			m.moistShare[i] = 1 - k.store.at(m.settle)/k.store.at(m.length)
		}
	}
	leak := make([]fit.Weighted, len(f.Particles))
	moist := make([]fit.Weighted, len(f.Particles))
	early := make([]fit.Weighted, len(f.Particles))
	var times []fit.Weighted
	for j, p := range f.Particles {
		leak[j] = fit.Weighted{X: p.A * m.leakShare, Weight: p.Weight}
		early[j] = fit.Weighted{X: p.B, Weight: p.Weight}
		moist[j] = fit.Weighted{X: p.B * m.moistShare[p.Candidate], Weight: p.Weight}
	}
	m.early = fit.Upper(early, level)
	for i, k := range f.kinds {
		m.share[k.name()] += f.Weight[i]
		if k.moist && f.Weight[i] > 0 {
			for _, x := range []float64{-0.4, -0.2, 0, 0.2, 0.4} { // the cell of the grid that tau stands for
				times = append(times, fit.Weighted{X: k.store.tau * math.Pow(tauHigh/tauLow, x/float64(taus-1)), Weight: f.Weight[i] / 5})
			}
		}
	}
	m.leak = f.ends(leak, func(k *kind) bool { return k.leak })
	m.moist = f.ends(moist, func(k *kind) bool { return k.moist })
	if len(times) > 0 {
		m.tau, m.tauKnown = fit.Summarise(times, level), true
	}
	m.sigmaLeak = f.sigmaLeak() * m.leakShare
	return m
}

// ends is the summary of a contribution over all hypotheses. Its upper end is taken over those hypotheses alone that have the
// contribution: nothing in nature is exactly zero, and the upper end is what is not excluded if it is there. What surfaces give off in any
// hold is within it too.
func (f *fitted) ends(v []fit.Weighted, has func(*kind) bool) fit.Spread {
	with := make([]fit.Weighted, 0, len(v))
	for i, p := range f.Particles {
		if has(&f.kinds[p.Candidate]) {
			with = append(with, v[i])
		}
	}
	s := fit.Summarise(v, level)
	s.High = s.Mean + math.Hypot(s.High-s.Mean, background)
	if len(with) > 0 {
		s.High = math.Max(s.High, fit.Upper(with, level))
	}
	return s
}

// above returns the probabilities that the leak's and the moisture's contributions are above the threshold.
// early is the moisture's with its part before the settle time.
func (f *fitted) above(m measured, thr float64) (leak, moist, early float64) {
	for _, p := range f.Particles {
		if p.A*m.leakShare > thr {
			leak += p.Weight
		}
		if p.B*m.moistShare[p.Candidate] > thr {
			moist += p.Weight
		}
		if p.B > thr {
			early += p.Weight
		}
	}
	return leak, moist, early
}

// transientReason says how the equalisation was treated.
func (m measured) transientReason(b before) Reason {
	facts := map[string]float64{"settle": m.settle, "size": m.transient, "time": m.transientTau, "left out": b.out, "readings left out": float64(b.rows)}
	left := fmt.Sprintf("the first %s (readings: %d) are left out", minutes(b.out), b.rows)
	if m.settle == b.out {
		return Reason{"no-transient", left + "; no equalisation is seen after them, but it is allowed for in the fit", facts}
	}
	return Reason{"transient-fitted", fmt.Sprintf("%s; equalisation is fitted together with the rise; it takes %s, and all contributions count from there",
		left, minutes(m.settle)), facts}
}

// settle finds when the transient, averaged over all hypotheses, has become small: under half the scatter of a
// reading, half a micron, half a percent of the pressure or 2 % of the rise, whichever is the largest.
func (f *fitted) settle(m *measured, nz noise) {
	n := len(f.b.t)
	size := make([]float64, n)
	for i, w := range f.Weight {
		k := f.kinds[i]
		if k.trans.tau == 0 || w < 1e-3 {
			continue
		}
		first := f.design.Solve(f.cands[i], f.s2).First
		for j := range size {
			size[j] += w * math.Abs(first) * f.cols[k.trans.col][j]
		}
		m.transient += w * first
		m.transientTau += w * math.Abs(first) * k.trans.tau
	}
	if size[0] > 0 {
		m.transientTau /= size[0]
	}
	y := f.curve(f.best, f.s2)
	m.end = y[n-1]
	for j := range size {
		tol := max(math.Sqrt(nz.variance(f.b.p[j]))/2, micron/2, 0.005*y[j], 0.02*math.Abs(m.end-y[j]))
		if size[j] <= tol || j == n/2 {
			m.settle, m.start = f.b.t[j], y[j]
			if j == 0 {
				m.settle = f.before.out
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
		if f.kinds[i].leak && w > 1e-4 {
			v += w * f.design.Solve(f.cands[i], f.s2).Variance
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
