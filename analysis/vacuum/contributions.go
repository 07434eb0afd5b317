package vacuum

import (
	"math"
	"slices"

	"dryhold/analysis/fit"
)

// parts turn the coefficients of a particle into contributions.
type parts struct {
	leak  float64   // factor from a leak's coefficient to its contribution from the settle time on
	moist []float64 // the same for moisture, by candidate; 0 where there is none
	rest  []waters  // by candidate
	sd    float64   // standard deviation of what the other columns add to moisture, Pa
}

// waters are what the other columns of a candidate add to the moisture's contribution: what follows the ambient, what is
// straight, and what makes its shape differ; counted from the settle time and from the isolation on.
type waters struct{ late, early fit.Effect }

// unlikely is the weight of a candidate below which what its other columns add is not worked out.
const unlikely = 3e-5

// contributions works out the parts for contributions that count from settle to the end.
func (f *fitted) contributions(settle float64) parts {
	p := parts{leak: 1 - settle/f.end(), moist: make([]float64, len(f.kinds)), rest: make([]waters, len(f.kinds))}
	n, from := len(f.b.t), 0
	for from < n-1 && f.b.t[from] < settle {
		from++
	}
	variance := 0.0
	for i, k := range f.kinds {
		if !k.moist {
			continue
		}
		p.moist[i] = 1 - k.store.at(settle)/k.store.at(f.end())
		if f.Weight[i] < unlikely {
			continue
		}
		var late, early [fit.MostSoft]float64
		soft := f.cands[i].Soft
		for j, s := range soft {
			if f.ofWater(s.Col, &k) {
				x := f.cols[s.Col]
				late[j], early[j] = x[n-1]-x[from], x[n-1]-x[0]
			}
		}
		e := f.design.Effects(f.cands[i], f.s2, late[:len(soft)], early[:len(soft)])
		p.rest[i] = waters{e[0], e[1]}
		variance += f.Weight[i] * e[0].Variance
	}
	p.sd = math.Sqrt(variance)
	return p
}

// ofWater tells whether what a nuisance column explains counts as moisture's.
func (h *hypotheses) ofWater(col int, k *kind) bool {
	switch col {
	case colTime, colDrift, k.drift, h.wiggles[0], h.wiggles[1], h.wiggles[2]:
		return true
	}
	return false
}

// of returns the contributions of a particle, Pa; early is moisture's from the isolation on.
func (p *parts) of(x fit.Particle) (leak, moist, early float64) {
	leak = x.A * p.leak
	if share := p.moist[x.Candidate]; share > 0 {
		w := &p.rest[x.Candidate]
		moist = max(0, x.B*share+w.late.At+w.late.ByA*x.A+w.late.ByB*x.B)
		early = max(0, x.B+w.early.At+w.early.ByA*x.A+w.early.ByB*x.B)
	}
	return leak, moist, early
}

// drawn are the contributions of the particles, Pa, in their order.
type drawn struct{ leak, moist, early []float64 }

// draw works them out.
func (f *fitted) draw(p *parts) drawn {
	n := len(f.Particles)
	d := drawn{make([]float64, n), make([]float64, n), make([]float64, n)}
	for j, x := range f.Particles {
		d.leak[j], d.moist[j], d.early[j] = p.of(x)
	}
	return d
}

// above returns the probabilities that the leak's and the moisture's contributions are above the threshold.
// early is the moisture's with its part before the settle time.
func (f *fitted) above(d drawn, thr float64) (leak, moist, early float64) {
	for j, x := range f.Particles {
		if d.leak[j] > thr {
			leak += x.Weight
		}
		if d.moist[j] > thr {
			moist += x.Weight
		}
		if d.early[j] > thr {
			early += x.Weight
		}
	}
	return leak, moist, early
}

// distribution is that of a contribution: over all hypotheses, and over those alone that have it.
type distribution struct{ all, with []fit.Weighted }

// distribution gathers the values of the particles; has tells what has the contribution. Those that have not are zero.
func (f *fitted) distribution(values []float64, has func(*kind) bool) distribution {
	heaps, without := fit.NewHeaps(slices.Max(values)), 0.0
	for j, x := range f.Particles {
		if has(&f.kinds[x.Candidate]) {
			heaps.Add(values[j], x.Weight)
		} else {
			without += x.Weight
		}
	}
	with := heaps.Values()
	return distribution{append([]fit.Weighted{{X: 0, Weight: without}}, with...), with}
}

// spread is the summary, with a relative standard uncertainty u common to all and another, sd, in Pa. Its upper end is not below the
// one-sided 95 % limit of those hypotheses alone that have the contribution: nothing in nature is exactly zero, and that is what is not
// excluded if it is there. What surfaces give off in any hold is within it too.
func (d *distribution) spread(u, sd float64) fit.Spread {
	s := fit.Summarise(fit.Blur(d.all, u, sd), level)
	s.High = s.Mean + math.Hypot(s.High-s.Mean, background)
	if len(d.with) > 0 {
		s.High = max(s.High, fit.Upper(fit.Blur(d.with, u, sd), ifThere))
	}
	return s
}
