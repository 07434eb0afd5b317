package vacuum

import (
	"dryhold/analysis/fit"
	"dryhold/analysis/quantity"
	"fmt"
	"math"
)

// micron is the micron of mercury; the thresholds of the naming rule are stated in it.
var micron = quantity.Micron.Scale

// level is the coverage of every interval; the upper limit of an interval of coverage ifThere is the one-sided 95 % limit.
const (
	level   = 0.95
	ifThere = 0.90
)

// measured is what the fit of one hold gives, in seconds from the isolation and, but for what is said to have it, without the error of the
// gauge's gain.
type measured struct {
	start, end     float64 // pressure at the settle time and at the end
	settle, length float64
	leak, moist    fit.Spread // contributions from settle to the end, Pa
	leakContr      fit.Spread // the same with the gain's error
	moistContr     fit.Spread
	leakRate       fit.Spread // of the leak's contribution with the errors of gain and volume
	tau            fit.Spread
	tauKnown       bool
	sigmaLeak      float64 // standard deviation of a leak's contribution, with moisture allowed for
	transient      float64 // its most likely size, Pa, at the isolation
	transientTau   float64
	early          float64 // upper end of the moisture's contribution from the isolation on, Pa
	parts          parts
	drawn          drawn
}

// measure reads the averaged distribution; volumeU is the relative standard uncertainty of the volume.
func (f *fitted) measure(nz noise, g Gauge, volumeU float64) measured {
	n := len(f.b.t)
	m := measured{length: f.b.t[n-1]}
	f.settle(&m, nz)
	m.parts = f.contributions(m.settle)
	m.drawn = f.draw(&m.parts)
	leak := f.distribution(m.drawn.leak, func(k *kind) bool { return k.leak })
	moist := f.distribution(m.drawn.moist, func(k *kind) bool { return k.moist })
	gain := g.Gain / math.Sqrt(3)
	u := math.Hypot(gain, lineError)
	m.leak, m.leakContr, m.leakRate = leak.spread(0, 0), leak.spread(u, 0), leak.spread(math.Hypot(u, volumeU), 0)
	m.moist, m.moistContr = moist.spread(0, m.parts.sd), moist.spread(math.Hypot(gain, waterError), m.parts.sd)
	m.early = fit.Upper(f.distribution(m.drawn.early, func(k *kind) bool { return k.moist }).all, level)
	m.tau, m.tauKnown = f.times()
	m.sigmaLeak = f.sigmaLeak() * m.parts.leak
	return m
}

// times is the distribution of the moisture's time constant, each of the grid standing for the times nearest to it.
func (f *fitted) times() (s fit.Spread, known bool) {
	step := math.Pow(tauHigh/tauLow, 0.4/(taus-1))
	cell := logspace(1/step, step, 5)
	v := make([]fit.Weighted, 0, len(cell)*len(f.kinds))
	for i, k := range f.kinds {
		if !k.moist || f.Weight[i] == 0 {
			continue
		}
		for _, x := range cell {
			v = append(v, fit.Weighted{X: k.store.tau * x, Weight: f.Weight[i] / float64(len(cell))})
		}
	}
	return fit.Summarise(v, level), len(v) > 0
}

// transientReason says how the equalisation was treated.
func (m measured) transientReason(b before) Reason {
	facts := map[string]float64{"settle": m.settle, "size": m.transient, "time": m.transientTau, "left out": b.out, "readings left out": float64(b.left.start)}
	left := fmt.Sprintf("the first %s (readings: %d) are left out", minutes(b.out), b.left.start)
	if m.settle == b.out {
		return Reason{"no-transient", left + "; no equalisation is seen after them, but it is allowed for in the fit", facts}
	}
	return Reason{"transient-fitted", fmt.Sprintf("%s; equalisation is fitted together with the rise; it takes %s, and all contributions count from there",
		left, minutes(m.settle)), facts}
}

// nothing is the size of a transient, Pa, that no gauge sees and rounding decides.
const nothing = 1e-6

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
		last := f.Solved[i].Last
		if math.Abs(last) < nothing {
			continue
		}
		for j := range size {
			size[j] += w * math.Abs(last) * f.cols[k.trans.col][j]
		}
		m.transient += w * last
		m.transientTau += w * math.Abs(last) * k.trans.tau
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
			v += w * f.Solved[i].Variance
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
