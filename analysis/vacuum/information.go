package vacuum

import (
	"math"

	"dryhold/analysis/fit"
	"dryhold/analysis/quantity"
)

// smallestLeak is the larger of the naming threshold and the detection limit for α = β = 5 %, 2 · 1.645 standard deviations
// of the leak's contribution with moisture allowed for (Currie, Anal. Chem. 40:586, 1968), as a throughput.
func (h *Hold) smallestLeak(m measured, volume float64) {
	if volume <= 0 || math.IsNaN(m.sigmaLeak) || m.length <= m.settle {
		return
	}
	h.SmallestLeak = math.Max(h.Threshold, 2*quantity.OneSided95*m.sigmaLeak) / (m.length - m.settle) * volume
	h.SmallestKnown = true
}

// stretchesTried are the lengths, in parts of the hold, that longerHold looks at.
var stretchesTried = [...]float64{1.1, 1.2, 1.35, 1.5, 1.75, 2, 2.5, 3, 3.5, 4}

const (
	enough    = 0.7 // the chance of a determined cause that longerHold asks for
	allowance = 1.5 // for what the best curve leaves out: other curves, and the naming rule's other limits
	longest   = 4   // times the hold
)

// longerHold is the least of these lengths, with readings at the same interval and of the same scatter, after which the cause should be
// determined. The true contributions are taken from the distribution that the hold has given; the widths of the
// intervals shrink as the standard deviations of the best curve with a leak and moisture do, by the curvature of its likelihood over the longer time.
// It is 0 where the cause is determined and where four times the hold would not do.
func (h *Hold) longerHold(f *fitted, m measured, nz noise) {
	i := f.bothCauses()
	if h.Cause != NotDetermined || i < 0 {
		return
	}
	now := f.expect(i, 1, m, nz)
	leakU, moistU := deviation(m.leak), deviation(m.moist)
	for _, x := range stretchesTried {
		e := f.expect(i, x, m, nz)
		half := [2]float64{quantity.K95 * leakU * e.leakU / now.leakU, quantity.K95 * moistU * e.moistU / now.moistU}
		chance := 0.0
		for j, p := range f.Particles {
			leak, moist := m.drawn.leak[j]*x, m.drawn.moist[j]*e.part
			thr := threshold(m.start, leak+moist)
			if determined(leak-thr, moist-thr, half) {
				chance += p.Weight
			}
		}
		if chance >= enough {
			h.LongerHold = math.Ceil(math.Min(longest, allowance*x)*m.length/60) * 60
			return
		}
	}
}

// determined tells whether the naming rule should settle a leak and moisture that lie this far above the threshold, with
// the half-widths of their intervals. Beside a cause that is named the other need only be unlikely, for which half of the half-width is enough.
func determined(leak, moist float64, half [2]float64) bool {
	switch {
	case leak > half[0] && moist > half[1]:
		return true
	case leak > half[0]:
		return moist < -half[1]/2
	case moist > half[1]:
		return leak < -half[0]/2
	}
	return leak < -half[0] && moist < -half[1]
}

// deviation is the standard deviation that an interval stands for.
func deviation(s fit.Spread) float64 { return (s.High - s.Low) / (2 * quantity.K95) }

// bothCauses is the likeliest candidate that has a leak and moisture, -1 without one.
func (f *fitted) bothCauses() int {
	best := -1
	for i, k := range f.kinds {
		if k.leak && k.moist && (best < 0 || f.Solved[i].LogLike > f.Solved[best].LogLike) {
			best = i
		}
	}
	return best
}

// expected are the standard deviations of the contributions in a longer hold, Pa, and by how much moisture's grows.
type expected struct{ leakU, moistU, part float64 }

// expect works out what x times the hold would show of candidate i.
func (f *fitted) expect(i int, x float64, m measured, nz noise) expected {
	k := f.kinds[i]
	end, n := f.end(), len(f.b.t)
	e := expected{part: k.store.at(x*end) / k.store.at(end)}
	longer := rows{t: make([]float64, n), p: make([]float64, n)}
	w := make([]float64, n)
	for j, t := range f.b.t {
		longer.t[j] = x * t
		longer.p[j] = math.Max(m.start+m.leak.Mean*x*t/end+m.moist.Mean*k.store.at(x*t)/k.store.at(end), micron)
		w[j] = x * f.w[j] * nz.variance(math.Max(f.b.p[j], 0.5)) / nz.variance(longer.p[j])
	}
	h := newHypotheses(longer, f.before, f.ambient, f.volume)
	decay := func(tau float64) int { return h.add(func(j int) float64 { return math.Exp(-h.warped[j] / tau) }) }
	if tau := k.trans.tau; tau > 0 {
		k.trans.col, k.trans.near, k.trans.lag = decay(tau), [2]int{decay(tau / 2.5), decay(tau * 2.5)}, 0
	}
	k.drift = h.follow(k.store.tau)
	k.hard = hard(h.add(func(j int) float64 { return k.store.at(longer.t[j]) / k.store.at(x*end) }))
	soft := h.soft(nil, &k, &fit.Solution{A: m.leak.Mean * x, B: m.moist.Mean * e.part, Last: m.transient})
	d := fit.NewDesign(longer.p, w, h.cols)
	line := hard(colTime)
	e.leakU = math.Sqrt(d.Solve(fit.Candidate{A: line, B: k.hard, Soft: soft}, f.s2).Variance)
	e.moistU = math.Sqrt(d.Solve(fit.Candidate{A: k.hard, B: line, Soft: soft}, f.s2).Variance)
	return e
}
