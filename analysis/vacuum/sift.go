package vacuum

import (
	"math"

	"dryhold/analysis/fit"
)

const (
	hopeless = 60   // the log-likelihood ratio to the best, in units of the scatter found, below which a candidate is not looked at again
	alike    = 1e-6 // the same between two ways to solve a candidate that only rounding tells apart
	useless  = 15   // the logarithm of the ratio to the greatest of prior times likelihood, below which it is not averaged over
)

// sift solves the candidates, finds the scatter about the best, and keeps those that can count, each with the error of its model in
// proportion to what it explains with it. The likeliest of each of the four models stays in any case.
func (f *fitted) sift() {
	all := f.adapt(f.first())
	f.best = 0
	for i, x := range all {
		if x.LogLike > all[f.best].LogLike+alike {
			f.best = i
		}
	}
	f.cands[f.best].Soft = f.soft(nil, &f.kinds[f.best], &all[f.best])
	f.scale()
	odds := make([]float64, len(all))
	most := math.Inf(-1)
	for i, x := range all {
		odds[i] = x.LogLike/f.s2 + math.Log(f.cands[i].Prior)
		most = max(most, odds[i])
	}
	stays := f.likeliest(odds)
	n, best := 0, 0
	room := make([]fit.Soft, len(all)*fit.MostSoft)
	for i, k := range f.kinds {
		if odds[i] < most-useless && stays[k.model()] != i && i != f.best {
			continue
		}
		if i == f.best {
			best = n
		}
		f.kinds[n], f.cands[n] = k, f.cands[i]
		f.cands[n].Soft = f.soft(room[n*fit.MostSoft:n*fit.MostSoft:(n+1)*fit.MostSoft], &k, &all[i])
		n++
	}
	f.best, f.kinds, f.cands = best, f.kinds[:n], f.cands[:n]
}

// likeliest are the candidates of the four models with the greatest score.
func (h *hypotheses) likeliest(score []float64) (best [4]int) {
	best = [4]int{-1, -1, -1, -1}
	for i := range h.kinds {
		if b := &best[h.kinds[i].model()]; *b < 0 || score[i] > score[*b] {
			*b = i
		}
	}
	return best
}

// first solves all candidates before their model's error is known. Their nuisance is that of the transient, and of moisture or none.
func (f *fitted) first() []fit.Solution {
	all := make([]fit.Solution, len(f.cands))
	var trans transient
	var shared [2]*fit.Nuisance
	for i, k := range f.kinds {
		if i == 0 || k.trans != trans {
			trans, shared = k.trans, [2]*fit.Nuisance{}
		}
		n := &shared[0]
		if k.moist {
			n = &shared[1]
		}
		if *n == nil {
			*n = f.design.Integrate(f.soft(nil, &k, nil), 1)
		}
		all[i] = (*n).Solve(f.cands[i].A, f.cands[i].B)
	}
	return all
}

// adapt drops what is hopeless by these solutions and solves the others again with their model's error.
func (f *fitted) adapt(rough []fit.Solution) []fit.Solution {
	score := make([]float64, len(rough))
	best := math.Inf(-1)
	for i, x := range rough {
		score[i] = x.LogLike
		best = max(best, x.LogLike)
	}
	floor := best - hopeless*max(1, -2*best/float64(len(f.b.t)))
	stays := f.likeliest(score)
	n, last := 0, -2
	out := rough[:0]
	var buffer [fit.MostSoft]fit.Soft
	for i, k := range f.kinds {
		if score[i] < floor && stays[k.model()] != i {
			continue
		}
		c := f.cands[i]
		c.Soft = f.soft(buffer[:0], &k, &rough[i])
		x := f.design.Solve(c, 1)
		if k.leak && last == i-1 && x.LogLike < out[n-1].LogLike-alike { // it is the candidate before with a leak, and can't be less likely
			c.Soft = f.soft(buffer[:0], &f.kinds[n-1], &out[n-1])
			if y := f.design.Solve(c, 1); y.LogLike > x.LogLike+alike {
				x = y
			}
		}
		if k.moist && k.store.wet() {
			c.Prior *= liquid(x.B)
		}
		c.Soft = nil
		f.kinds[n], f.cands[n] = k, c
		out = append(out, x)
		n, last = n+1, i
	}
	f.kinds, f.cands = f.kinds[:n], f.cands[:n]
	return out
}
