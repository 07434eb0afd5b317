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
	shapeError      = 0.035       // of the moisture's part: how far a store's real shape may differ from ours
	plainError      = 0.002       // the same for a steady inflow: a gauge's gain that changes with pressure
)

// kind says what a candidate of the average is made of.
type kind struct {
	leak, moist bool
	store       store
	col         int // of the moisture column
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

// drift is the column of the ambient: the recorded temperature's change in kelvin, or an unknown steady change of one
// kelvin.
func (h *hypotheses) drift() func(i int) float64 {
	if a := h.b.ambient; a != nil {
		return func(i int) float64 { return a[i] - a[0] }
	}
	return func(i int) float64 { return h.b.t[i] / h.end() }
}

// combine makes the candidates: the four models, the shapes of the store, and the transients.
func (h *hypotheses) combine(trs []transient, coarse bool) {
	var rest *outflow
	if !coarse && liquid(h.swing) >= dry {
		rest = steady(h.b.t, h.b.p, h.ambient)
	}
	shapes, prior := stores(h.end(), h.before.p, h.ambient, rest, coarse)
	size := 2 * len(trs) * (1 + len(shapes))
	h.kinds, h.cands = make([]kind, 0, size), make([]fit.Candidate, 0, size)
	cols := make([]int, len(shapes))
	for i, s := range shapes {
		if s.wet() && liquid(h.swing) < dry {
			continue
		}
		top := s.at(h.end())
		cols[i] = h.add(func(k int) float64 { return s.at(h.b.t[k]) / top })
	}
	for _, tr := range trs {
		h.put(kind{trans: tr}, 0.25*tr.prior)
		h.put(kind{leak: true, trans: tr}, 0.25*tr.prior)
		for i, s := range shapes {
			if s.wet() && liquid(h.swing) < dry {
				continue
			}
			k := kind{moist: true, store: s, col: cols[i], trans: tr}
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
	c.Soft = h.soft(k, nil)
	h.kinds, h.cands = append(h.kinds, k), append(h.cands, c)
}

// soft is the nuisance of a candidate that is solved by x (nil: not yet): the transient
// itself, the ambient's drift, and the error of the model, in proportion to what is modelled.
func (h *hypotheses) soft(k kind, x *fit.Solution) (out []fit.Soft) {
	moist := 0.0
	if x != nil {
		moist = x.B
	}
	if k.trans.tau > 0 {
		out = append(out, fit.Soft{Col: k.trans.col, SD: h.size(k, x), Sign: h.before.sign})
		if x != nil {
			for _, c := range k.trans.near {
				out = append(out, fit.Soft{Col: c, SD: transientError * math.Abs(x.First)})
			}
		}
		if k.trans.lag > 0 {
			out = append(out, fit.Soft{Col: k.trans.lag, SD: 0.3 * k.trans.gain})
		}
	}
	for _, c := range h.hoses {
		out = append(out, fit.Soft{Col: c, SD: 0.3 * (h.before.p + 3)})
	}
	out = append(out, fit.Soft{Col: colDrift, SD: h.driftSize(moist)})
	if !k.moist {
		out = append(out, fit.Soft{Col: h.ground, SD: background})
	}
	for i, w := range h.wiggles {
		out = append(out, fit.Soft{Col: w, SD: (shapeError*moist + plainError*h.swing + 0.1*micron) / float64(i+1)})
	}
	return out
}

// driftSize is the standard deviation of the drift column's coefficient: dry gas follows p/T (0.34 % per kelvin), what
// water gives changes by 6 % per kelvin, of which half is allowed for.
func (h *hypotheses) driftSize(moist float64) float64 {
	kelvin := 1.0
	if h.b.ambient == nil {
		kelvin = 0.5 * math.Min(1, h.end()/1800)
	}
	return math.Hypot(0.0034*h.before.p, 0.03*moist)*kelvin + 1e-4
}

// hopeless is the log-likelihood ratio below the best, in units of the scatter found, at which a candidate is dropped before
// its model's error is allowed for.
const hopeless = 60

// adapt drops what is hopeless and puts the error of every other candidate's model in proportion to what the candidate
// explains with it.
func (h *hypotheses) adapt(d *fit.Design) {
	all := make([]fit.Solution, len(h.cands))
	best := math.Inf(-1)
	for i, c := range h.cands {
		all[i] = d.Solve(c, 1)
		best = math.Max(best, all[i].LogLike)
	}
	floor := best - hopeless*math.Max(1, -2*best/float64(len(h.b.t)))
	n, kept := 0, map[string]bool{}
	for i, k := range h.kinds {
		if all[i].LogLike < floor && kept[k.name()] {
			continue
		}
		kept[k.name()] = true
		c := h.cands[i]
		c.Soft = h.soft(k, &all[i])
		if k.trans.tau > 0 { // its size depends on the rest of the solution, which depends on it
			x := d.Solve(c, 1)
			c.Soft = h.soft(k, &x)
		}
		if k.moist && k.store.wet() {
			c.Prior *= liquid(all[i].B)
		}
		h.kinds[n], h.cands[n] = k, c
		n++
	}
	h.kinds, h.cands = h.kinds[:n], h.cands[:n]
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
