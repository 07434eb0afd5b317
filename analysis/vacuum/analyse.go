package vacuum

import (
	"math"
	"time"

	"dryhold/analysis/readings"
)

// Analyse works out one recording. It never fails: what cannot be determined is said in the result.
func Analyse(s *readings.Series, o Options) Result {
	out := Result{Deciding: -1}
	for _, a := range o.Attempts {
		out.Holds = append(out.Holds, analyseHold(s, a, "stated", o))
	}
	if !o.Hold.Start.IsZero() {
		out.Deciding = len(out.Holds)
		out.Holds = append(out.Holds, analyseHold(s, o.Hold, "stated", o))
	}
	return out
}

// within returns the usable readings of the span, in seconds from its start, and whether a reading was over range.
func within(s *readings.Series, span Span) (r rows, over bool) {
	a, b := span.Start.Sub(s.Start).Seconds(), span.End.Sub(s.Start).Seconds()
	for i, t := range s.T {
		if t < a || t > b {
			continue
		}
		if s.Mark[i] == readings.OverRange {
			over = true
		}
		if s.Mark[i] != readings.Used || math.IsNaN(s.P[i]) {
			continue
		}
		r.t = append(r.t, t-a)
		r.p = append(r.p, s.P[i])
		if s.Ambient != nil {
			r.ambient = append(r.ambient, s.Ambient[i])
		}
	}
	return r, over
}

// fewest is the number of readings below which a hold is not fitted.
const fewest = 8

func analyseHold(s *readings.Series, span Span, found string, o Options) Hold {
	h := Hold{Start: span.Start, End: span.End, Settle: span.Start, Found: found, Cause: NotDetermined}
	r, over := within(s, span)
	h.Rows, h.AtLeast = len(r.t), over
	if len(r.t) < fewest || r.t[len(r.t)-1] <= r.t[0] {
		h.Reason = Reason{Code: "too-few-readings", Text: "too few readings in the hold to fit a curve",
			Facts: map[string]float64{"readings": float64(len(r.t)), "needed": fewest}}
		return h
	}
	q := step(r.p, o.Gauge.Resolution)
	nz := measureNoise(r, q)
	b, count := blocks(r)
	sign := 0.0
	switch o.Gauge.Position {
	case "far end":
		sign = 1
	case "pump side":
		sign = -1
	}
	f := fitHold(b, count, nz, math.Max(b.p[0], lowest(b.p)), sign)
	m := f.measure(nz)
	h.fill(f, m, nz, o)
	return h
}

// fill turns the measured values into those of the record.
func (h *Hold) fill(f *fitted, m measured, nz noise, o Options) {
	g := newBudget(o.Gauge, nz.step)
	h.StartPressure, h.EndPressure, h.Rise = m.start, m.end, m.end-m.start
	h.Settle = h.Start.Add(time.Duration(m.settle * float64(time.Second)))
	h.Threshold = threshold(m.start, h.Rise)
	gain := o.Gauge.Gain / math.Sqrt(3)
	leak := Value{m.leak.Mean, m.leak.Low, m.leak.High, true}.widen(gain)
	moist := Value{m.moist.Mean, m.moist.Low, m.moist.High, true}.widen(gain)
	h.LeakContr, h.MoistureRise = leak, moist
	h.Cause = name(leak, moist, h.Threshold)
	length := m.length - m.settle
	h.LeakRise = leak.scaled(1 / length)
	if o.Volume > 0 {
		h.LeakRate = Value{m.leak.Mean, m.leak.Low, m.leak.High, true}.scaled(o.Volume / length).widen(math.Hypot(gain, o.VolumeU))
	}
	h.MoistureTime = Value{m.tau.Mean, m.tau.Low, m.tau.High, m.tauKnown}
	h.Noise = math.Sqrt(nz.variance(m.start))
	h.Uncertainty = g.reading(m.end, h.Noise)
	h.RiseU = g.rise(h.Rise, h.Noise)
}
