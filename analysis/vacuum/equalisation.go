package vacuum

import (
	"math"

	"dryhold/analysis/fit"
	"dryhold/analysis/readings"
)

// before is what the recording tells of the circuit at the isolation and before it.
type before struct {
	p    float64 // pressure at the isolation
	sign float64 // side of the transient: +1 where the gauge reads above the mean of the circuit (far end), -1 below (pump side), 0 unknown
	fall float64 // Pa/s, how fast the pressure fell under the pump; NaN where that is not recorded
	out  float64 // s, what is left out at the start of the hold
	left left    // the readings that are not fitted
}

// lookBack are the stretches, in s from the isolation, in which the fall is measured: the largest counts.
var lookBack = [...][2]float64{{-120, 0}, {-300, 0}, {-300, -60}}

// fallBefore measures the fall of the pressure before start: the steepest line through the readings of a stretch, at least 0.
func fallBefore(s *readings.Series, start float64) float64 {
	fall := math.NaN()
	for _, w := range lookBack {
		var n, st, sp, stt, stp float64
		for i, t := range s.T {
			if x := t - start; usable(s, i) && x >= w[0] && x < w[1] {
				n, st, sp, stt, stp = n+1, st+x, sp+s.P[i], stt+x*x, stp+x*s.P[i]
			}
		}
		if d := n*stt - st*st; n >= 4 && d > 0 {
			if f := max(0, -(n*stp-st*sp)/d); !(fall >= f) {
				fall = f
			}
		}
	}
	return fall
}

// transient is an equalisation between the parts of a circuit: exponential on the time scale of [warp].
type transient struct {
	tau   float64 // s; 0: none
	gain  float64 // how large it can be, see [hypotheses.size]
	col   int
	near  [2]int // columns of a faster and a slower one
	held  [2]int // columns of what it holds up of a steady inflow, at a shorter and a longer time
	lag   int    // column of what flows through the line during the hold; 0: not known yet
	prior float64
}

const (
	trLow      = 3.0 // s; the shortest time constant of equalisation
	transients = 9
)

// transients lists the equalisations that are tried, none first.
func (h *hypotheses) transients() []transient {
	out := []transient{{}}
	for _, tau := range logspace(trLow, min(max(h.typical()*20, 60), 1800), transients) {
		if tau > h.end() {
			break
		}
		decay := func(tau float64) int { return h.add(func(i int) float64 { return math.Exp(-h.warped[i] / tau) }) }
		t := transient{tau: tau, col: decay(tau), near: [2]int{decay(tau / 2.5), decay(tau * 2.5)}}
		for _, g := range h.gains() {
			t.gain, t.prior = g[0], g[1]*math.Exp(-square(math.Log(tau/h.typical())/spreadLn)/2)
			out = append(out, t)
		}
	}
	sum := 0.0
	for _, t := range out[1:] {
		sum += t.prior
	}
	for i := range out[1:] {
		out[i+1].prior *= 0.8 / sum
	}
	out[0].prior = 0.2
	return out
}

// gains are the gains with their prior probabilities: at the far end the share of the gas that is given off behind the line, at the
// pump side also how many times the far part is larger than the near one.
func (h *hypotheses) gains() [][2]float64 {
	if h.before.sign > 0 {
		return [][2]float64{{0.8, 1}}
	}
	return [][2]float64{{0.8, 0.7}, {4, 0.3}}
}

// size is the standard deviation of a transient's size. While the pump runs, the gas that comes from the far part V2, given off there
// (q2) or left over as its pressure falls, flows through the line's conductance C and holds a difference Δp = (q2 - V2 dp/dt)/C.
// After the isolation that difference decays with τ = V1 V2/((V1+V2) C): the far end falls by Δp V1/V = τ (q2/V2 - dp/dt), the
// pump side rises by Δp V2/V, V2/V1 times as much. The hold's own rise tells q2: what is given off after the isolation was given
// off before it too. Behind a line the pressure is higher, and falls faster in proportion, than at the pump side.
func (h *hypotheses) size(k *kind, x *fit.Solution) float64 {
	if x == nil {
		return h.before.p + 3
	}
	tau := k.trans.tau
	rate := x.A / h.end()
	if k.moist {
		rate += x.B * k.store.at(tau) / tau / k.store.at(h.end())
	}
	size := tau * rate
	if math.IsNaN(h.before.fall) {
		size += 0.2 * h.before.p
	} else {
		size += tau * h.before.fall * (1 + max(0, -x.Last)/(h.before.p+3))
	}
	size = k.trans.gain*size + 0.003*h.before.p
	if h.before.sign > 0 { // the gauge falls to the mean of the circuit, and that is above nothing
		size = min(size, h.before.p/2)
	}
	return size
}

// lagging is the column of the difference that the hold's own gas holds up: where it is given off on one side of the line, the
// other lags behind by a part of
//
//	∫ dp/du exp(-(s(t) - s(u))/τ) du
//
// of which more or less is seen at the gauge. As the pressure and with it the conductance grows the lag falls, and a straight
// inflow looks bent. y is the hold's smooth curve.
func (h *hypotheses) lagging(y []float64, tau float64) int {
	c := make([]float64, len(y))
	for i := 1; i < len(y); i++ {
		e := math.Exp(-(h.warped[i] - h.warped[i-1]) / tau)
		c[i] = c[i-1]*e + (y[i]-y[i-1])*math.Sqrt(e)
	}
	return h.add(func(i int) float64 { return c[i] })
}

// typical is the time constant of equalisation that is most likely: through a line of 13 mm and 5 m between two halves of
// the volume, by Knudsen's formula (see [Conductance]) at the start pressure. Where the volume is not known it is 20 L.
func (h *hypotheses) typical() float64 {
	v := h.volume
	if v <= 0 {
		v = 0.02
	}
	return v / 4 / Conductance(0.013, 5, max(h.before.p, 1))
}

// spreadLn is the standard deviation of the logarithm of that time constant: lines of 8 to 22 mm and 1 to 25 m.
const spreadLn = 1.0

// warp returns the time scale on which equalisation through a line is exponential. A line's conductance is, from laminar to
// molecular, nearly proportional to p + pm (the laminar part to the mean pressure, the molecular part constant), so that
//
//	d(p2-p1)/dt = -(p2-p1)/τ · (p+pm)/(p0+pm)
//
// and exp(-s/τ) with ds = (p+pm)/(p0+pm) dt solves it for a pressure p that changes: that at the gauge, and at the pump side, where the
// other part is above it, a fifth of the way to that at the end. pm is where both parts are equal.
func warp(t, p []float64, pumpSide bool) []float64 {
	s := make([]float64, len(t))
	if len(t) == 0 {
		return s
	}
	own, other := 1.0, 0.0
	if pumpSide {
		own, other = 0.8, 0.2*p[len(p)-1]
	}
	f := func(i int) float64 { return (own*p[i] + other + equalParts) / (own*p[0] + other + equalParts) }
	s[0] = t[0] * f(0)
	for i := 1; i < len(t); i++ {
		s[i] = s[i-1] + (t[i]-t[i-1])*(f(i)+f(i-1))/2
	}
	return s
}

// equalParts is the pressure at which the laminar and the molecular conductance of a line are equal, Pa:
// 135 D p = 12.1 (mbar, cm) for D of 0.6 to 2 cm is 4 to 14 Pa.
const equalParts = 9

// heldUp adds the column of what a line holds up of a steady inflow, which began with the isolation and raises the pressure by 1 in the hold.
func (h *hypotheses) heldUp(tau float64) int {
	c := make([]float64, len(h.b.t))
	held, t, s := 0.0, 0.0, 0.0
	for i := range c {
		dt, ds := h.b.t[i]-t, h.warped[i]-s
		if e := math.Exp(-ds / tau); ds > 0 {
			held = held*e + dt/ds*tau*(1-e)
		}
		c[i] = held / h.end()
		t, s = h.b.t[i], h.warped[i]
	}
	h.cols = append(h.cols, c)
	return len(h.cols) - 1
}

// lagShare is, of a transient's gain, the standard deviation of the part of the gas that a line holds up; heldApart is how far its time
// constant may be from the transient's, to either side; leastHeld keeps a standard deviation that goes with the inflow above zero, Pa.
const (
	lagShare  = 0.75
	heldApart = 1.5
	leastHeld = 1e-3
)

// lags appends what the line holds up of the hold's own gas: between two volumes the ratio of the other to the gauge's of the gas from the gauge's
// side, and -1 of that from the other. Of a steady inflow, whose rise is known, its shape is known but for the line's time; of moisture it is that
// of what is seen.
func (k *kind) lags(out []fit.Soft, x *fit.Solution) []fit.Soft {
	sd := lagShare * k.trans.gain
	if !k.leak || k.moist || x == nil {
		out = append(out, fit.Soft{Col: k.trans.lag, SD: sd})
	}
	if k.leak && x != nil {
		for _, c := range k.trans.held {
			out = append(out, fit.Soft{Col: c, SD: sd*x.A + leastHeld})
		}
	}
	return out
}
