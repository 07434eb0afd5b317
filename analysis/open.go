package analysis

import (
	"fmt"
	"math"

	"dryhold/analysis/decision"
	"dryhold/analysis/fluid"
	"dryhold/analysis/record"
)

// notDetermined lists what the readings could not show, what matters most
// first, each with what would settle it.
func (r *runner) notDetermined() {
	h := r.rec.Hold
	if h == nil {
		r.open("no-hold", "what the circuit does with the pump isolated: no hold is recorded", "a hold with the pump isolated, logged")
		return
	}
	if h.Inflow {
		r.open("place", "where the inflow enters: from outside, past a closed valve, or through a hose inside the boundary",
			"close the service valves, take the hoses off and repeat the hold")
	}
	if h.Decision == "not determined" {
		r.open("decision", "whether the criterion was met: "+h.DecisionReason, r.settleDecision(h))
	}
	switch {
	case h.CauseNote != nil && h.CauseNote.Code == belowResolution:
		r.open("readings-unit", "what made the pressure rise: "+h.CauseReason, rightUnit)
	case h.Cause == "not determined":
		r.open("cause", "what made the pressure rise: "+h.CauseReason, r.longer(h))
	}
	r.open("operating-pressure", "tightness under operating pressure: a hold has at most one atmosphere acting, from outside to inside",
		"a leak check at operating pressure")
	if r.cold() {
		r.open("cold", "dryness of the circuit: at this temperature water gives off too little vapour for the criterion to show it",
			"warm the whole circuit and repeat the hold")
	}
	r.open("water-left", "water that remains in the oil or as ice: the hold reads the vapour released, not what remains",
		"the maker's oil test, where it is called for")
	if r.volume.v <= 0 {
		r.open("volume", "the leak rate: the circuit's internal volume is not given", "the circuit's volume, or diameter, wall and length of its lines")
	}
}

// belowResolution is the code of readings whose unit was most likely mistaken.
const (
	belowResolution = "below-resolution"
	rightUnit       = "the unit of the readings put right in the job, and the record made again"
)

func (r *runner) open(code, text, settle string) {
	r.rec.Open = append(r.rec.Open, record.Note{Code: code, Text: text, Settle: settle})
}

func (r *runner) settleDecision(h *record.Hold) string {
	if h.Criterion == nil {
		return "a criterion that is agreed and stated with the hold"
	}
	switch h.DecisionNote.Code {
	case decision.NoAccuracy:
		return "the gauge's accuracy, from its data sheet or its calibration"
	case belowResolution:
		return rightUnit
	case "too-uncertain":
		return "a gauge of smaller uncertainty, or another criterion"
	case "overdue":
		return "the gauge's calibration report after the job, or a new hold with another gauge"
	}
	return "a new hold over the whole time agreed"
}

// longer says which hold would settle the cause.
func (r *runner) longer(h *record.Hold) string {
	switch {
	case h.CauseNote != nil && h.CauseNote.Code == "too-few-readings":
		return "a new hold with more readings, at least one a minute"
	case h.LongerHold == nil && r.rec.Job.Boundary.GaugeAt == "far end":
		return "a longer hold"
	case h.LongerHold == nil:
		return "a longer hold, with the gauge away from the pump side"
	}
	return fmt.Sprintf("a hold of about %.0f minutes", math.Ceil(h.LongerHold.V/60))
}

// coldMargin: saturation at the coldest part must be this many times the limit
// before the hold can say something of water (common practice, no source).
const coldMargin = 3

// cold reports whether water at the lowest recorded temperature would give off
// too little vapour for the limit to show it.
func (r *runner) cold() bool {
	h := r.rec.Hold
	if h == nil || h.Ambient == nil || h.Limit == nil {
		return false
	}
	p, err := fluid.WaterSaturation(h.Ambient.Low)
	return err == nil && p < coldMargin*h.Limit.V
}
