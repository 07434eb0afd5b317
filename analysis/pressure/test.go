package pressure

import (
	"fmt"
	"math"
	"strings"

	"dryhold/analysis/fluid"
	"dryhold/analysis/quantity"
)

// detection is the factor of a detection limit with errors of both kinds of 5 %.
const detection = 2 * quantity.OneSided95

// Evaluate works out a test from its start and end. It never fails: what cannot
// be worked out is in the finding's reason.
func Evaluate(start, end State, o Options) Result {
	res := Result{Found: "stated values", Start: start, End: end, Duration: end.Time.Sub(start.Time).Seconds(),
		Highest: math.Max(start.Pressure, end.Pressure)}
	res.Held = res.Duration
	res.evaluate(o)
	return res
}

func (r *Result) evaluate(o Options) {
	r.Warnings = append(r.Warnings, warnings(r, o)...)
	r.Obstacle = r.obstacle(o)
	if why := r.open(); why != nil {
		r.conclude(NotDetermined, *why)
		return
	}
	var err error
	if r.Expected, err = fluid.NitrogenIsochore(r.Start.Pressure, r.Start.Temperature, r.End.Temperature); err != nil {
		r.conclude(NotDetermined, Note{Code: "out-of-range", Text: "a pressure or temperature lies outside what nitrogen was worked out for " +
			"(-23 to 57 °C, up to 6 MPa absolute); check the units", Facts: map[string]float64{"pressure": r.Start.Pressure, "temperature": r.End.Temperature}})
		return
	}
	r.Change = r.End.Pressure - r.Expected
	r.Budget = budget(r, o)
	for _, t := range r.Budget {
		r.U = math.Hypot(r.U, t.U)
	}
	r.SmallestDrop = detection * r.U
	r.leak(o)
	r.judge(o)
}

// open says why nothing can be worked out, or returns nil.
func (r *Result) open() *Note {
	switch {
	case !(r.Duration > 0):
		return &Note{Code: "no-duration", Text: "the end of the test is not after its start"}
	case !positive(r.Start.Pressure) || !positive(r.End.Pressure):
		return &Note{Code: "no-pressure", Text: "a pressure at the start and at the end is needed"}
	case !positive(r.Start.Temperature) || !positive(r.End.Temperature):
		return &Note{Code: "no-temperature", Text: "without a temperature at both ends a change of pressure cannot be told from a change of temperature"}
	}
	return nil
}

func positive(x float64) bool { return x > 0 && !math.IsInf(x, 1) }

// leak fills in the smallest leak and the loss, where the volume is known.
func (r *Result) leak(o Options) {
	if !positive(o.Volume) {
		return
	}
	r.SmallestLeak = o.Volume * r.SmallestDrop / r.Duration
	if r.Change >= -quantity.K95*r.U {
		return
	}
	q := -r.Change * o.Volume / r.Duration
	half := quantity.K95 * math.Hypot(q*o.VolumeU, r.U*o.Volume/r.Duration)
	r.Loss = &Interval{q, math.Max(0, q-half), q + half}
}

func (r *Result) judge(o Options) {
	facts := map[string]float64{"change": r.Change, "expanded": quantity.K95 * r.U, "smallest_drop": r.SmallestDrop}
	switch {
	case r.Change < -quantity.K95*r.U:
		r.conclude(LossShown, Note{Code: "loss", Facts: facts,
			Text: "the pressure fell further than temperature and uncertainty explain"})
	case r.Change > quantity.K95*r.U:
		r.conclude(NotDetermined, Note{Code: "gained", Facts: facts,
			Text: "the pressure rose further than the temperature explains: gas was added, or the temperature is not that of the gas"})
	case r.unfinished(o) != nil:
		r.conclude(NotDetermined, *r.unfinished(o))
	default:
		r.conclude(NoLossShown, Note{Code: "within", Facts: facts,
			Text: "the change of pressure lies within what temperature and uncertainty explain"})
	}
}

func (r *Result) conclude(f Finding, why Note) { r.Finding, r.Reason = f, why }

// unfinished says why a test cannot show that nothing was lost, or returns nil; a
// loss shows all the same.
func (r *Result) unfinished(o Options) *Note {
	switch {
	case o.Gauge.Overdue:
		return &Note{Code: "overdue", Text: "the gauge's calibration was overdue"}
	case r.Held < o.Required:
		return &Note{Code: "too-short", Facts: map[string]float64{"held": r.Held, "asked": o.Required},
			Text: fmt.Sprintf("the test ended after %.4g of the %.4g minutes agreed", math.Floor(r.Held/6)/10, o.Required/60)}
	}
	return nil
}

// obstacle is what forbids a pass whatever the pressures show.
func (r *Result) obstacle(o Options) *Note {
	for i := range r.Warnings {
		if r.Warnings[i].Severe {
			return &r.Warnings[i]
		}
	}
	return r.unfinished(o)
}

func nitrogen(gas string) bool {
	g := strings.ToLower(gas)
	return strings.Contains(g, "nitrogen") || g == "n2" || g == "ofn"
}
