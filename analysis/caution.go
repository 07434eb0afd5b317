package analysis

import (
	"slices"
	"strings"

	"dryhold/analysis/record"
)

// iceRisk is the ambient in K below which evacuating a wet circuit is warned of
// (2 °C: UFGS-15182, 3.3.3, superseded numbering).
const iceRisk = 275.15

// cautions lists the codes that this job calls for: danger to people first,
// then to the equipment, then to the result. Their texts live in templates.
func (r *runner) cautions() {
	j, rec := r.job, r.rec
	opened := oneOf(j.Job.Kind, "replacement", "repair", "relocation", "retrofit") || j.Recovery != nil
	nitrogen := j.PressureTest != nil || len(rec.Breaks) > 0
	charged := j.Charge != nil && j.Charge.Added.Given() || rec.Startup != nil
	evacuated := rec.PullDown != nil || rec.Hold != nil
	flammable, unknown := r.coolant != nil && r.coolant.Flammable(), r.coolant == nil
	for _, c := range []struct {
		code string
		when bool
	}{
		{"inflow", rec.Hold != nil && rec.Hold.Inflow},
		{"no-charge", !charged},
		{"flammable", flammable},
		{"class-unknown", unknown},
		{"over-design", r.warned("above-design")},
		{"test-gas", nitrogen},
		{"regulator", nitrogen},
		{"clear", j.PressureTest != nil},
		{"weakest", j.PressureTest != nil},
		{"nitrogen-air", nitrogen},
		{"frost", charged || opened},
		{"lockout", rec.Startup != nil},
		{"capacitor", rec.Startup != nil},
		{"flame", r.brazed()},
		{"venting", opened},
		{"cylinder", j.Recovery != nil},
		{"trapped", charged},
		{"area", flammable || unknown || charged},
		{"energise", evacuated},
		{"own-pump", evacuated},
		{"zeotrope-liquid", charged && r.coolant != nil && r.coolant.Zeotropic()},
		{"tagged", j.PressureTest != nil && !evacuated},
		{"liquid-charge", charged && oneOf(r.systemKind(), "water")},
		{"cold", r.cold() || r.below(iceRisk)},
		{"oil", evacuated},
		{"recheck", r.repaired()},
		{"licensed", true},
	} {
		if c.when {
			rec.Cautions = append(rec.Cautions, record.Caution{Code: c.code, Facts: r.cautionFacts(c.code)})
		}
	}
}

func (r *runner) cautionFacts(code string) map[string]*record.Value {
	if code != "cold" {
		return nil
	}
	return map[string]*record.Value{"t": record.Plain(iceRisk, "K")}
}

// systemKind is "water" where a part of the equipment exchanges heat with water.
func (r *runner) systemKind() string {
	for _, e := range r.job.Equipment {
		if strings.Contains(strings.ToLower(e.Role), "water") || strings.Contains(strings.ToLower(e.Role), "chiller") {
			return "water"
		}
	}
	return ""
}

func (r *runner) below(t float64) bool {
	h := r.rec.Hold
	return h != nil && h.Ambient != nil && h.Ambient.Low < t
}

func (r *runner) warned(code string) bool {
	return slices.ContainsFunc(r.rec.Warnings, func(n record.Note) bool { return n.Code == code })
}

func (r *runner) repaired() bool {
	for _, a := range r.job.Attempts {
		if a.Repair != "" {
			return true
		}
	}
	return r.job.Job.Kind == "repair"
}

// brazed reports whether the job's own words tell of brazing, or opened piping makes it likely.
func (r *runner) brazed() bool {
	words := r.job.Job.Kind
	for _, a := range r.job.Attempts {
		words += " " + a.Repair
	}
	for _, e := range r.job.Events {
		words += " " + e.What
	}
	words = strings.ToLower(words)
	return strings.Contains(words, "braz") || strings.Contains(words, "solder") || oneOf(r.job.Job.Kind, "replacement", "repair", "relocation", "retrofit")
}
