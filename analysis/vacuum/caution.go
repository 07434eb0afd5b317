package vacuum

import (
	"fmt"
	"math"
	"strings"
	"time"
)

// gasDependent says whether a gauge's reading depends on the gas, by its stated principle; unknown counts as dependent.
func gasDependent(principle string) bool {
	p := strings.ToLower(principle)
	return !(strings.Contains(p, "capacit") || strings.Contains(p, "diaphragm") || strings.Contains(p, "membrane") || strings.Contains(p, "piezo"))
}

// molarWater is the molar mass of water, kg/mol, and gas the molar gas constant, J/(mol K), exact.
const (
	molarWater = 0.018015268
	gas        = 8.314462618
)

// mass is the water that would explain the moisture's rise, by the ideal gas law m = ΔP V M/(R T).
func (h *Hold) mass(o Options, ambient float64) {
	h.MassOrder = gasDependent(o.Gauge.Principle)
	if o.Volume > 0 {
		h.MoistureMass = h.MoistureRise.scaled(o.Volume * molarWater / (gas * ambient)).widen(o.VolumeU)
	}
}

// cautions lists what limits a hold's meaning.
func (h *Hold) cautions(where string, o Options, f *fitted, nz noise) (out []Warning) {
	add := func(code string, facts map[string]float64, format string, a ...any) {
		out = append(out, Warning{Code: code, Text: fmt.Sprintf(format, a...), Where: where, Facts: facts})
	}
	if h.Rows < 30 {
		add("too-few-readings", map[string]float64{"readings": float64(h.Rows)}, "the hold has only %d readings: its intervals are wide", h.Rows)
	}
	left := f.before.left
	clock := func(t float64) string {
		return h.Start.Add(time.Duration(t * float64(time.Second))).Format(time.TimeOnly)
	}
	if left.end > 0 {
		add("end-departs", map[string]float64{"readings": float64(left.end)},
			"from %s on the readings leave the course of the hold, as when the pump runs again or gas is let in: they are left out (readings: %d); check when the hold ended", clock(left.departed), left.end)
	}
	if left.lone > 0 {
		add("reading-alone", map[string]float64{"readings": float64(left.lone)},
			"readings stand far from those before and after them, which agree, first at %s: they do not count for the cause (readings: %d); see whether the instrument or its link slipped", clock(left.alone), left.lone)
	}
	if q := nz.step; q > math.Abs(h.Rise) && q > 0 {
		add("resolution-coarse", map[string]float64{"step": q, "rise": h.Rise}, "the gauge's step of %s is coarser than the rise", inMicron(q))
	}
	if sat := saturation(f.warmest()); h.EndPressure > sat && h.MoistureRise.X > h.Threshold {
		add("above-saturation", map[string]float64{"saturation": sat, "end": h.EndPressure}, "the hold ends at %s, above the vapour pressure of water at the warmest ambient, %s: not water vapour alone", inMicron(h.EndPressure), inMicron(sat))
	}
	if d := f.driftRise(h); d > 0 && d >= math.Abs(h.Rise)/2 {
		add("ambient-drift", map[string]float64{"drift": d, "rise": h.Rise}, "the ambient changed so much that it may explain %s of the rise", inMicron(d))
	}
	switch o.Gauge.Position {
	case "pump side":
		add("gauge-at-pump", nil, "the gauge sat at the pump side: equalisation with the far end looks like moisture in the first minutes")
	case "":
		add("gauge-position-unknown", nil, "where the gauge sat is not stated: equalisation may have either sign")
	}
	if o.Gauge.Principle == "" {
		add("principle-unknown", nil, "the gauge's principle is not stated: water vapour may read high, no temperature follows from a plateau")
	} else if gasDependent(o.Gauge.Principle) && h.MoistureRise.X > h.Threshold {
		add("gas-dependent", nil, "the gauge's reading depends on the gas: the mass of water is an order of magnitude only")
	}
	if o.Gauge.Overdue {
		add("calibration-overdue", nil, "the gauge was past its calibration date")
	}
	return out
}

// warmest is the highest ambient of the hold.
func (h *hypotheses) warmest() float64 {
	t := h.ambient
	for _, a := range h.b.ambient {
		t = math.Max(t, a)
	}
	return t
}

// driftRise is the change of pressure that the recorded ambient's change could have made: 0.34 % of the pressure and 6 % of
// the moisture's part per kelvin.
func (h *hypotheses) driftRise(hold *Hold) float64 {
	if h.b.ambient == nil {
		return 0
	}
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, a := range h.b.ambient {
		lo, hi = math.Min(lo, a), math.Max(hi, a)
	}
	return (hi - lo) * (0.0034*hold.StartPressure + 0.06*hold.MoistureRise.X)
}

// holdWarnings are the cautions of all holds, each with its place.
func holdWarnings(holds []Hold) (out []Warning) {
	for i := range holds {
		for _, w := range holds[i].warnings {
			w.Where = fmt.Sprintf("hold %d", i+1)
			out = append(out, w)
		}
	}
	return out
}
