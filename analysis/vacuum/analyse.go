package vacuum

import (
	"math"
	"time"

	"dryhold/analysis/fit"
	"dryhold/analysis/readings"
)

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
	out := lead(span, found)
	r, left := r.fittable(out, o.Gauge.Resolution)
	if len(r.t) < fewest || r.t[len(r.t)-1] <= r.t[0] {
		h.Reason = Reason{Code: "too-few-readings", Text: "too few readings in the hold to fit a curve",
			Facts: map[string]float64{"readings": float64(len(r.t)), "needed": fewest}}
		return h
	}
	past := before{out: out, left: left, fall: fallBefore(s, span.Start.Sub(s.Start).Seconds())}
	f, nz := fitRows(r, past, o)
	h.fill(f, f.measure(nz, o.Gauge, o.VolumeU), nz, o)
	return h
}

// fitRows fits the readings of a hold, of whose past all is known but the pressure and the gauge's side.
func fitRows(r rows, past before, o Options) (*fitted, noise) {
	nz := measureNoise(r, step(r.p, o.Gauge.Resolution))
	b, count := blocks(r)
	past.p = b.p[0]
	switch o.Gauge.Position {
	case "far end":
		past.sign = 1
	case "pump side":
		past.sign = -1
	}
	return fitHold(b, count, nz, past, ambientOf(&b, o), o.Volume), nz
}

// fill turns the measured values into those of the record.
func (h *Hold) fill(f *fitted, m measured, nz noise, o Options) {
	g := newBudget(o.Gauge, nz.step)
	h.StartPressure, h.EndPressure, h.Rise = m.start, m.end, m.end-m.start
	h.Settle = h.Start.Add(time.Duration(m.settle * float64(time.Second)))
	h.Transient = m.transientReason(f.before)
	h.Threshold = threshold(m.start, h.Rise)
	h.LeakContr, h.MoistureRise = valueOf(m.leakContr), valueOf(m.moistContr)
	length := m.length - m.settle
	h.LeakRise = h.LeakContr.scaled(1 / length)
	if o.Volume > 0 {
		h.LeakRate = valueOf(m.leakRate).scaled(o.Volume / length)
	}
	if m.tauKnown {
		h.MoistureTime = valueOf(m.tau)
	}
	leakP, moistP, earlyP := f.above(m.drawn, h.Threshold)
	h.Cause = name(h.LeakContr, h.MoistureRise, h.Threshold, leakP, earlyP)
	h.Noise = math.Sqrt(nz.variance(m.start))
	h.EffectiveRows = float64(h.Rows) / math.Max(1, f.s2)
	h.RiseU = g.rise(h.Rise, h.Noise)
	h.mass(o, f.ambient)
	h.smallestLeak(m, o.Volume)
	h.explain(m, leakP, moistP, earlyP)
	h.longerHold(f, m, nz)
	h.Models = f.models()
	f.band(h)
	h.warnings = h.cautions("", o, f, nz)
}

func valueOf(s fit.Spread) Value { return Value{s.Mean, s.Low, s.High, true} }

// ambientOf is the mean ambient of the hold; a column with gaps is not used.
func ambientOf(b *rows, o Options) float64 {
	sum, n := 0.0, 0
	for _, x := range b.ambient {
		if !math.IsNaN(x) {
			sum, n = sum+x, n+1
		}
	}
	if n < len(b.t) {
		b.ambient = nil
	}
	switch {
	case n > 0:
		return sum / float64(n)
	case o.AmbientKelvin > 0:
		return o.AmbientKelvin
	}
	return 293.15
}
