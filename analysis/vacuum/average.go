package vacuum

import (
	"math"
	"slices"

	"dryhold/analysis/fit"
)

// The prior of the hold: wide, and stated here in one place.
const (
	tauLow, tauHigh = 75.0, 3000.0 // s; the time constant of a store, equally likely on a logarithmic scale
	taus            = 17
	small, large    = 0.4, 2000.0 // Pa; a contribution is equally likely on a logarithmic scale between 3 and 15000 micron
	background      = 0.3         // Pa; what surfaces give off in any hold, too little to be named: a leak's estimate must allow for it
	transientError  = 0.25        // of a transient's size: how far it may differ from one exponential
	shapeError      = 0.015       // of the moisture's part: how far a store's real shape may differ from ours
	straightError   = 0.04        // of the moisture's part: a straight remainder of it, up or down, see [hypotheses.soft]
	lineError       = 0.02        // of a leak's part: what lines hold back of it, less and less as their conductance grows
	plainError      = 0.002       // the same for a steady inflow: a gauge's gain that changes with pressure
)

// kind says what a candidate of the average is made of.
type kind struct {
	leak, moist bool
	store       store
	col         int // of the moisture column
	drift       int // column of the ambient's change through the store
	trans       transient
}

// hypotheses are all candidate shapes of one hold.
type hypotheses struct {
	b       rows
	warped  []float64
	cols    [][]float64
	wiggles []int
	ground  int   // column of the gas that every surface gives off
	hoses   []int // columns of the fast equalisation of hoses and manifold, which every candidate has
	quiet   int   // column of the ambient's change through surfaces that give nothing off on the whole
	kinds   []kind
	cands   []fit.Candidate
	before  before
	swing   float64 // largest less smallest pressure
	ambient float64
	volume  float64
}

const colTime, colDrift = 0, 1

// newHypotheses builds the common columns.
func newHypotheses(b rows, past before, ambient, volume float64) *hypotheses {
	h := &hypotheses{b: b, warped: warp(b.t, b.p), before: past, swing: slices.Max(b.p) - slices.Min(b.p), ambient: ambient, volume: volume}
	end := h.end()
	h.add(func(i int) float64 { return b.t[i] / end })
	h.add(h.drift())
	h.ground = h.add(func(i int) float64 { return -math.Expm1(-2 * b.t[i] / end) })
	for k := 1; k <= 3; k++ {
		h.wiggles = append(h.wiggles, h.add(func(i int) float64 { return math.Cos(float64(k) * math.Pi * math.Sqrt(b.t[i]/end)) }))
	}
	h.quiet = h.follow(quietTime)
	for _, tau := range []float64{2.5, 8} {
		h.hoses = append(h.hoses, h.add(func(i int) float64 { return math.Exp(-b.t[i] / tau) }))
	}
	return h
}

func (h *hypotheses) end() float64 { return h.b.t[len(h.b.t)-1] }

func (h *hypotheses) add(f func(i int) float64) int {
	c := make([]float64, len(h.b.t))
	for i := range c {
		c[i] = f(i)
	}
	h.cols = append(h.cols, c)
	return len(h.cols) - 1
}

// combine makes the candidates: the four models, the shapes of the store, and the transients.
func (h *hypotheses) combine(trs []transient, coarse bool) {
	var rest *outflow
	if !coarse && liquid(h.swing) >= dry {
		rest = steady(h.b.t, h.b.p, h.ambient)
	}
	shapes, prior := stores(h.before.p, h.ambient, rest, coarse)
	size := 2 * len(trs) * (1 + len(shapes))
	h.kinds, h.cands = make([]kind, 0, size), make([]fit.Candidate, 0, size)
	cols, drifts := make([]int, len(shapes)), map[float64]int{}
	for i, s := range shapes {
		if s.wet() && liquid(h.swing) < dry {
			continue
		}
		top := s.at(h.end())
		cols[i] = h.add(func(k int) float64 { return s.at(h.b.t[k]) / top })
		if _, ok := drifts[s.tau]; !ok {
			drifts[s.tau] = h.follow(s.tau)
		}
	}
	for _, tr := range trs {
		h.put(kind{trans: tr}, 0.25*tr.prior)
		h.put(kind{leak: true, trans: tr}, 0.25*tr.prior)
		for i, s := range shapes {
			if s.wet() && liquid(h.swing) < dry {
				continue
			}
			k := kind{moist: true, store: s, col: cols[i], drift: drifts[s.tau], trans: tr}
			h.put(k, 0.25*prior[i]*tr.prior)
			k.leak = true
			h.put(k, 0.25*prior[i]*tr.prior)
		}
	}
}

func (h *hypotheses) put(k kind, prior float64) {
	c := fit.Candidate{Prior: prior}
	if k.leak {
		c.A = &fit.Hard{Col: colTime, Small: small, Large: large}
	}
	if k.moist {
		c.B = &fit.Hard{Col: k.col, Small: small, Large: large}
	}
	h.kinds, h.cands = append(h.kinds, k), append(h.cands, c)
}

// hopeless is the log-likelihood ratio below the best, in units of the scatter found, at which a candidate is dropped before
// its model's error is allowed for.
const hopeless = 60

// adapt drops what is hopeless and puts the error of every other candidate's model in proportion to what the candidate
// explains with it. It returns the most likely one.
func (h *hypotheses) adapt(d *fit.Design) int {
	all := h.first(d)
	best := math.Inf(-1)
	for _, x := range all {
		best = max(best, x.LogLike)
	}
	floor := best - hopeless*max(1, -2*best/float64(len(h.b.t)))
	n, kept, likeliest := 0, map[string]bool{}, 0
	best = math.Inf(-1)
	var rough [softs]fit.Soft
	var plain struct { // the candidate before, if that is the same without a leak
		soft    []fit.Soft
		logLike float64
	}
	for i, k := range h.kinds {
		if all[i].LogLike < floor && kept[k.name()] {
			plain.soft = nil
			continue
		}
		kept[k.name()] = true
		c := h.cands[i]
		c.Soft = h.soft(rough[:0], &k, &all[i])
		x := d.Solve(c, 1)
		if k.leak && plain.soft != nil && x.LogLike < plain.logLike { // with a leak no candidate can be less likely than without
			c.Soft = plain.soft
			if y := d.Solve(c, 1); y.LogLike > x.LogLike {
				x = y
			}
		}
		c.Soft = h.soft(make([]fit.Soft, 0, len(c.Soft)), &k, &x) // the transient's size depends on the rest of the solution, which depends on it
		if x.LogLike > best {
			best, likeliest = x.LogLike, n
		}
		if k.moist && k.store.wet() {
			c.Prior *= liquid(x.B)
		}
		plain.soft = nil
		if !k.leak {
			plain.soft, plain.logLike = c.Soft, x.LogLike
		}
		h.kinds[n], h.cands[n] = k, c
		n++
	}
	h.kinds, h.cands = h.kinds[:n], h.cands[:n]
	return likeliest
}

// first solves all candidates before their model's error is known. Their nuisance is that of the transient, and of moisture or none.
func (h *hypotheses) first(d *fit.Design) []fit.Solution {
	all := make([]fit.Solution, len(h.cands))
	var trans transient
	var shared [2]*fit.Nuisance
	for i, k := range h.kinds {
		if i == 0 || k.trans != trans {
			trans, shared = k.trans, [2]*fit.Nuisance{}
		}
		n := &shared[0]
		if k.moist {
			n = &shared[1]
		}
		if *n == nil {
			*n = d.Integrate(h.soft(nil, &k, nil), 1)
		}
		all[i] = (*n).Solve(h.cands[i].A, h.cands[i].B)
	}
	return all
}

// name is the model's name in the record.
func (k kind) name() string {
	switch {
	case k.leak && k.moist:
		return "leak and moisture"
	case k.leak:
		return "leak"
	case k.moist:
		return "moisture"
	}
	return "nothing"
}
