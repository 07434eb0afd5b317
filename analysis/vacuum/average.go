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
	lineError       = 0.03        // of a leak's contribution: what lines hold back of it, less and less as their conductance grows
	waterError      = 0.08        // of moisture's: what equalisation and surfaces that take water up add to it or take from it
	hoseTime        = 8.0         // s; how fast hoses and manifold equalise at most
	plainError      = 0.002       // the same for a steady inflow: a gauge's gain that changes with pressure
)

// kind says what a candidate of the average is made of.
type kind struct {
	leak, moist bool
	store       store     // of the moisture
	hard        *fit.Hard // its column
	drift       int       // column of the ambient's change through the store
	trans       transient
}

// hypotheses are all candidate shapes of one hold.
type hypotheses struct {
	b       rows
	warped  []float64
	cols    [][]float64
	wiggles []int
	ground  int // column of the gas that every surface gives off
	hoses   int // column of the fast equalisation of hoses and manifold, which every candidate has
	quiet   int // column of the ambient's change through surfaces that give nothing off on the whole
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
	h := &hypotheses{b: b, warped: warp(b.t, b.p, past.sign <= 0), before: past, swing: slices.Max(b.p) - slices.Min(b.p), ambient: ambient, volume: volume}
	end := h.end()
	h.add(func(i int) float64 { return b.t[i] / end })
	h.add(h.drift())
	h.ground = h.add(func(i int) float64 { return -math.Expm1(-2 * b.t[i] / end) })
	for k := 1; k <= 3; k++ {
		h.wiggles = append(h.wiggles, h.add(func(i int) float64 { return math.Cos(float64(k) * math.Pi * math.Sqrt(b.t[i]/end)) }))
	}
	h.quiet = h.follow(quietTime)
	h.hoses = h.add(func(i int) float64 { return math.Exp(-b.t[i] / hoseTime) }) // a quicker one is over before what is not left out
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
	wet := liquid(h.swing) >= dry
	if wet && !coarse {
		rest = steady(h.b.t, h.b.p, h.ambient)
	}
	parts := newColumns(h.b.t, rest)
	shapes, prior := stores(h.before.p, h.ambient, rest, wet, coarse)
	moist, drifts := make([]kind, len(shapes)), map[float64]int{}
	for i, s := range shapes {
		if _, ok := drifts[s.tau]; !ok {
			drifts[s.tau] = h.follow(s.tau)
		}
		h.cols = append(h.cols, parts.of(s))
		col := len(h.cols) - 1
		moist[i] = kind{moist: true, store: s, hard: hard(col), drift: drifts[s.tau]}
	}
	size := 2 * len(trs) * (1 + len(shapes))
	h.kinds, h.cands = make([]kind, 0, size), make([]fit.Candidate, 0, size)
	line := hard(colTime)
	for _, tr := range trs {
		h.put(kind{trans: tr}, line, tr.prior)
		for i, k := range moist {
			k.trans = tr
			h.put(k, line, prior[i]*tr.prior)
		}
	}
}

// hard is a column of interest with the prior of every contribution.
func hard(col int) *fit.Hard { return &fit.Hard{Col: col, Small: small, Large: large} }

// put adds a candidate without a leak and the same with one.
func (h *hypotheses) put(k kind, line *fit.Hard, prior float64) {
	c := fit.Candidate{B: k.hard, Prior: prior / 4}
	h.kinds, h.cands = append(h.kinds, k), append(h.cands, c)
	k.leak, c.A = true, line
	h.kinds, h.cands = append(h.kinds, k), append(h.cands, c)
}

// modelNames are the names of the models in the record.
var modelNames = [4]string{"nothing", "leak", "moisture", "leak and moisture"}

// model is the index of the candidate's model.
func (k *kind) model() (i int) {
	if k.leak {
		i++
	}
	if k.moist {
		i += 2
	}
	return i
}
