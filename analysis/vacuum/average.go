package vacuum

import (
	"math"
	"slices"

	"dryhold/analysis/fit"
)

// The prior of the hold: wide, and stated here in one place. All of it is in this file.
const (
	tauLow, tauHigh = 60.0, 2400.0 // s; the range of the time constant of a store, equally likely on a logarithmic scale
	taus            = 18
	small, large    = 0.4, 2000.0 // Pa; a contribution is equally likely on a logarithmic scale between 3 and 15000 micron
	transients      = 7
)

var (
	transientLow, transientHigh = 3.0, 240.0               // s
	transientShare              = [...]float64{0.03, 0.25} // of the start pressure: standard deviations of its size
	shapePrior                  = [shapes]float64{0.5, 0.3, 0.2}
)

// What a candidate of the average is made of.
type kind struct {
	leak, moist bool
	shape       int
	tau         float64
	trans       float64 // 0: none
	col         int     // of the moisture column
	tcol        int     // of the transient column
}

// hypotheses are all candidate shapes of one hold.
type hypotheses struct {
	b      rows
	warped []float64
	cols   [][]float64
	kinds  []kind
	cands  []fit.Candidate
}

const colTime, colDrift = 0, 1

// newHypotheses builds the columns and the candidates. sign is the side on which the transient must lie: +1 where the
// gauge reads above the mean of the system at first (far end), -1 below (pump side), 0 unknown.
func newHypotheses(b rows, p0, riseTotal, sign float64) *hypotheses {
	h := &hypotheses{b: b, warped: warp(b.t, b.p)}
	n, end := len(b.t), b.t[len(b.t)-1]
	add := func(f func(i int) float64) int {
		c := make([]float64, n)
		for i := range c {
			c[i] = f(i)
		}
		h.cols = append(h.cols, c)
		return len(h.cols) - 1
	}
	add(func(i int) float64 { return b.t[i] / end })
	add(h.drift())
	var store []kind
	for _, tau := range logspace(tauLow, tauHigh, taus) {
		for shape := range shapes {
			top := rise(shape, end, tau)
			col := add(func(i int) float64 { return rise(shape, b.t[i], tau) / top })
			store = append(store, kind{moist: true, shape: shape, tau: tau, col: col})
		}
	}
	trans := []kind{{}}
	for _, tau := range logspace(transientLow, transientHigh, transients) {
		if tau > end/3 {
			break
		}
		col := add(func(i int) float64 { return math.Exp(-h.warped[i] / tau) })
		trans = append(trans, kind{trans: tau, tcol: col})
	}
	h.combine(store, trans, p0, riseTotal, sign)
	return h
}

// drift is the column of the ambient: the recorded temperature's change in kelvin, or an unknown steady change that would
// be one kelvin at the end.
func (h *hypotheses) drift() func(i int) float64 {
	if a := h.b.ambient; a != nil && !slices.ContainsFunc(a, math.IsNaN) {
		return func(i int) float64 { return a[i] - a[0] }
	}
	end := h.b.t[len(h.b.t)-1]
	return func(i int) float64 { return h.b.t[i] / end }
}

// combine crosses the four models with the shapes of the store and of the transient.
func (h *hypotheses) combine(store, trans []kind, p0, riseTotal, sign float64) {
	end := h.b.t[len(h.b.t)-1]
	kelvin := 1.0 // of the drift column that may be real
	if h.b.ambient == nil {
		kelvin = 0.5 * math.Min(1, end/1800)
	}
	dry := 0.0034 * p0 * kelvin
	wet := math.Hypot(dry, 0.03*math.Max(0, riseTotal)*kelvin)
	leak := &fit.Hard{Col: colTime, Small: small, Large: large}
	put := func(k kind, prior float64) {
		for _, tr := range trans {
			k.trans, k.tcol = tr.trans, tr.tcol
			sd := dry
			if k.moist {
				sd = wet
			}
			drift := fit.Soft{Col: colDrift, SD: sd}
			c := fit.Candidate{Prior: prior * 0.3, Soft: []fit.Soft{drift}}
			if k.leak {
				c.A = leak
			}
			if k.moist {
				c.B = &fit.Hard{Col: k.col, Small: small, Large: large}
			}
			if tr.trans == 0 {
				h.kinds, h.cands = append(h.kinds, k), append(h.cands, c)
				continue
			}
			for _, share := range transientShare {
				c.Prior = prior * 0.7 / float64(len(trans)-1) / float64(len(transientShare))
				c.Soft = []fit.Soft{{Col: k.tcol, SD: share * (p0 + 3), Sign: sign}, drift}
				h.kinds, h.cands = append(h.kinds, k), append(h.cands, c)
			}
		}
	}
	put(kind{}, 0.25)
	put(kind{leak: true}, 0.25)
	for _, s := range store {
		prior := 0.25 * shapePrior[s.shape] / taus
		put(s, prior)
		s.leak = true
		put(s, prior)
	}
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
