package vacuum

import (
	"math"

	"dryhold/analysis/fit"
)

// What the ambient does to water: its equilibrium pressure over surfaces rises by 6 % per kelvin (liquid water at 20 degC: 6.2 %, from the
// saturation line), dry gas by 1/T, 0.34 %.
const (
	wetDrift   = 0.06
	dryDrift   = 0.0034
	wetStart   = 0.5   // the share of the start pressure that may be water in equilibrium, where moisture comes out
	wetQuiet   = 0.16  // the same where none does
	quietTime  = 600.0 // s; how slowly such water follows the ambient
	unrecorded = 0.5   // K; the change of an ambient that was not recorded, in half an hour and more
)

// soft appends the nuisance of a candidate that is solved by x (nil: not yet, then of any with the same transient): the transient
// itself, the ambient's drift, and the error of the model, in proportion to what is modelled. A part of the moisture
// may be straight: where stores of several kinds take part one takes up what another gives, and the gas of a leak carries vapour
// from where it is given off to surfaces that take it up. So a small straight remainder beside moisture is no proof of a leak.
func (h *hypotheses) soft(out []fit.Soft, k *kind, x *fit.Solution) []fit.Soft {
	moist, drift := 0.0, h.quiet
	switch {
	case x != nil:
		moist, drift = x.B, k.drift
	case k.moist:
		moist = h.swing
	}
	if k.trans.tau > 0 && x != nil {
		for _, c := range k.trans.near {
			out = append(out, fit.Soft{Col: c, SD: transientError * math.Abs(x.Last)})
		}
	}
	if k.trans.lag > 0 {
		out = k.lags(out, x)
	}
	out = append(out, fit.Soft{Col: h.hoses, SD: 0.3 * (h.before.p + 3)})
	if !k.moist {
		out = append(out, fit.Soft{Col: h.ground, SD: background})
	}
	at, through, straight := h.driftSizes(k, moist, x != nil)
	if h.b.ambient == nil { // the unknown drift is straight itself
		out = append(out, fit.Soft{Col: colDrift, SD: math.Sqrt(at*at + through*through + straight*straight)})
	} else {
		out = append(out, fit.Soft{Col: colDrift, SD: at}, fit.Soft{Col: drift, SD: through})
		if k.moist {
			out = append(out, fit.Soft{Col: colTime, SD: straight + 1e-3})
		}
	}
	for i, w := range h.wiggles {
		out = append(out, fit.Soft{Col: w, SD: (shapeError*moist + plainError*h.swing + 0.1*micron) / float64(i+1)})
	}
	if k.trans.tau > 0 {
		out = append(out, fit.Soft{Col: k.trans.col, SD: h.size(k, x), Sign: h.before.sign})
	}
	return out
}

// driftSizes are standard deviations: of the coefficient of the ambient's change, for dry gas and for water that follows at once
// (half of what it could); of the same through the store, whose equilibrium pressure lies as far above the
// pressure as the pressure would rise if the hold went on; and of the moisture's straight part.
func (h *hypotheses) driftSizes(k *kind, moist float64, solved bool) (at, through, straight float64) {
	kelvin := 1.0
	if h.b.ambient == nil {
		kelvin = unrecorded * min(1, h.end()/1800)
	}
	at = math.Hypot(dryDrift*h.before.p, wetDrift/2*moist)*kelvin + 1e-4
	if !k.moist {
		return at, wetDrift * wetQuiet * h.before.p * kelvin, 0
	}
	end := moist
	if solved && !k.store.wet() {
		end /= k.store.at(h.end())
	}
	return at, wetDrift * (end + wetStart*h.before.p) * kelvin, straightError * moist
}

// drift is the column of the ambient: the recorded temperature's change in kelvin, or an unknown steady change of one
// kelvin.
func (h *hypotheses) drift() func(i int) float64 {
	if a := h.b.ambient; a != nil {
		return func(i int) float64 { return a[i] - a[0] }
	}
	return func(i int) float64 { return h.b.t[i] / h.end() }
}

// follow adds the column of the ambient's change c(t) as a store with time constant tau passes it on, the solution of
// tau dv/dt = c - v.
func (h *hypotheses) follow(tau float64) int {
	c := h.cols[colDrift]
	v := make([]float64, len(c))
	for i := 1; i < len(c); i++ {
		e := math.Exp(-(h.b.t[i] - h.b.t[i-1]) / tau)
		v[i] = v[i-1]*e + (c[i]+c[i-1])/2*(1-e)
	}
	h.cols = append(h.cols, v)
	return len(h.cols) - 1
}
