package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"dryhold/analysis/decision"
	"dryhold/analysis/fluid"
	"dryhold/analysis/job"
	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/analysis/startup"
)

func seconds(s float64) time.Duration { return time.Duration(s * float64(time.Second)) }

// positive leaves out what is zero, negative or not finite.
func positive(x float64, unit string) *record.Value {
	if !(x > 0) || math.IsInf(x, 0) {
		return nil
	}
	return record.Plain(x, unit)
}

// recovery compares the level reached before opening with 40 CFR 82.156.
func (r *runner) recovery() {
	c := r.job.Recovery
	if c == nil {
		return
	}
	out := &record.Recovery{Refrigerant: c.Refrigerant, Mass: positive(c.Mass.SI, "kg"), Cylinder: c.Cylinder}
	r.rec.Recovery = out
	if !c.Level.Given() {
		return
	}
	level := c.Level.Pa(r.atmosphere)
	if level < 0 { // deeper than the local air can be: counted from the standard atmosphere, as the rule counts
		level = max(0, c.Level.Pa(fluid.StandardAtmosphere))
	}
	out.Level = record.Plain(level, "Pa")
	fluidIn, err := fluid.LookUp(c.Refrigerant)
	if err != nil {
		out.Decision = "not judged"
		out.Note = &record.Note{Code: "unknown-refrigerant", Text: "the level to be reached is known only for the refrigerants in the table: " + err.Error()}
		return
	}
	need, err := startup.RecoveryLevel(fluidIn, c.Mass.SI, false)
	if err != nil {
		out.Decision = "not judged"
		out.Note = &record.Note{Code: "no-level", Text: err.Error()}
		return
	}
	out.Required, out.Source = record.Plain(need.Absolute, "Pa"), need.Source
	out.Decision = "pass"
	if level > need.Absolute*(1+1e-6) {
		out.Decision = "fail"
	}
	out.Note = &record.Note{Code: "recovery-level", Names: map[string]string{"class": need.Class},
		Text: fmt.Sprintf("%s refrigerant, %s; a level for opening, not for dryness", need.Class, need.Doubt)}
}

// charge adds up what the circuit holds and the duties that follow.
func (r *runner) charge() {
	c := r.job.Charge
	if c == nil {
		return
	}
	in := startup.ChargeInput{Factory: c.Factory.SI, LineAllowance: c.LineAllowance.SI, Plate: c.Plate.SI,
		Added: startup.Estimate{Value: c.Added.SI, U: r.uncertainty(c.Instrument, c.Added.Value)}, AddedStated: c.Added.Given()}
	res := startup.EvaluateCharge(in, r.coolant)
	out := &record.Charge{Factory: stated(c.Factory.Value, "kg"), Allowance: stated(c.LineAllowance.Value, "kg"),
		Plate: stated(c.Plate.Value, "kg"), Instrument: c.Instrument}
	if c.Added.Given() {
		out.Added = estimate(in.Added, "kg")
	}
	if c.Factory.Given() || c.Added.Given() {
		out.Total = estimate(res.Total, "kg")
	}
	if res.Difference != nil {
		out.Difference = estimate(*res.Difference, "kg")
	}
	if len(res.CO2e) > 0 {
		e := res.CO2e[0]
		out.GWP, out.GWPEdition, out.CO2e = record.Plain(e.GWP.Value, "1"), e.GWP.Edition+", "+e.GWP.Source, estimate(e.Mass, "kg")
	}
	for _, d := range res.Duties {
		out.Checks = append(out.Checks, record.Note{Code: d.Code, Text: d.Text, Facts: facts(d.Facts)})
	}
	if res.OverPlate {
		r.warn(record.Note{Code: "over-plate", Where: "charge", Text: "the total charge is above what the plate says, by more than the scale's uncertainty"})
	}
	r.rec.Charge = out
}

// startup judges the readings of the running circuit.
func (r *runner) startup() {
	s := r.job.Startup
	if s == nil {
		return
	}
	in := r.startupInput(s)
	out := &record.Startup{Rows: []record.Judged{}}
	inexact := map[string]bool{
		"superheat":  r.inexact(s.PressureGauge, s.SuctionPressure.Value) || r.inexact(s.Thermometer, s.SuctionTemperature.Value),
		"subcooling": r.inexact(s.PressureGauge, s.LiquidPressure.Value) || r.inexact(s.Thermometer, s.LiquidTemperature.Value),
	}
	lower := record.Note{Code: "accuracy-unknown", Where: "start-up",
		Text: "the accuracy of the gauge or of the thermometer is not stated: the uncertainty is a lower limit"}
	for _, row := range startup.Evaluate(in) {
		j := r.judged(row)
		switch {
		case j.Note != nil || j.Decision == "not judged":
		case inexact[row.Name]: // beside the decision too
			j.Note = &record.Note{Code: lower.Code, Text: lower.Text}
		case j.U == nil:
			j.Note = &record.Note{Code: "value-alone", Text: "judged by the value alone: its uncertainty is not stated"}
		}
		out.Rows = append(out.Rows, j)
	}
	r.rec.Startup = out
	if inexact["superheat"] || inexact["subcooling"] {
		r.warn(lower)
	}
}

// electricalAsStated is what was read for a quantity that could not be worked out from it.
func (r *runner) electricalAsStated(name string) string {
	var list []string
	switch name {
	case "voltage unbalance":
		for _, v := range r.job.Startup.Voltages {
			list = append(list, v.Text)
		}
	case "current":
		for _, c := range r.job.Startup.Currents {
			list = append(list, c.Text)
		}
	}
	return strings.Join(list, ", ")
}

// inexact reports whether one of the readings has no uncertainty, neither of its own nor from its instrument.
func (r *runner) inexact(id string, list ...quantity.Value) bool {
	return slices.ContainsFunc(list, func(v quantity.Value) bool { return v.Given() && r.uncertainty(id, v) == 0 })
}

func (r *runner) startupInput(s *job.Startup) startup.Input {
	pressure := func(p quantity.Pressure) startup.Estimate {
		if !p.Given() {
			return startup.Estimate{}
		}
		e := startup.Estimate{Value: p.Pa(r.atmosphere), U: r.uncertainty(s.PressureGauge, p.Value)}
		if p.Unit.Ref != quantity.Absolute {
			e.U = math.Hypot(e.U, r.atmosphereU)
		}
		return e
	}
	temp := func(t quantity.Temperature) startup.Estimate {
		if !t.Given() {
			return startup.Estimate{}
		}
		return startup.Estimate{Value: t.SI, U: r.uncertainty(s.Thermometer, t.Value)}
	}
	in := startup.Input{Refrigerant: r.coolant,
		SuctionPressure: pressure(s.SuctionPressure), LiquidPressure: pressure(s.LiquidPressure),
		SuctionTemperature: temp(s.SuctionTemperature), LiquidTemperature: temp(s.LiquidTemperature),
		ReturnAir: temp(s.ReturnAir), SupplyAir: temp(s.SupplyAir), OutdoorAir: temp(s.OutdoorAir),
		PlateCurrent: s.PlateCurrent.SI, TargetSuperheat: s.TargetSuperheat.SI, TargetSubcooling: s.TargetSubcooling.SI,
		Tolerance: s.Tolerance.SI, VariableSpeed: s.VariableSpeed, TestMode: s.TestMode}
	for _, v := range s.Voltages {
		in.Voltages = append(in.Voltages, startup.Estimate{Value: v.SI, U: v.U})
	}
	for _, c := range s.Currents {
		in.Currents = append(in.Currents, startup.Estimate{Value: c.SI, U: c.U})
	}
	if s.Insulation.Given() {
		in.Insulation = startup.Estimate{Value: s.Insulation.SI, U: s.Insulation.U}
	}
	if s.MinutesSteady != nil {
		in.MinutesSteady = *s.MinutesSteady
	}
	return in
}

// judged compares one quantity with its target; a value outside the conditions
// is not judged.
func (r *runner) judged(row startup.Row) record.Judged {
	j := record.Judged{Name: row.Name, U: positive(row.U, row.Unit), Source: row.Source, Decision: "not judged",
		Saturation: positive(row.Saturation, "K"), Value: plain(row.Value, row.Unit)}
	if row.Unknown {
		j.Value, j.Stated = nil, r.electricalAsStated(row.Name)
	}
	if row.Unit == "ohm" { // a trend, not a result: no interval, and no unit of results.json
		j.Value, j.U, j.Stated = nil, nil, r.job.Startup.Insulation.Text
	}
	if row.Why != nil {
		j.Note = &record.Note{Code: row.Why.Code, Text: row.Why.Text, Facts: facts(row.Why.Facts)}
	}
	for _, n := range row.Notes {
		r.warn(record.Note{Code: n.Code, Text: n.Text, Where: "start-up, " + row.Name, Facts: facts(n.Facts)})
	}
	t := row.Target
	if t == nil {
		return j
	}
	j.High = record.Plain(t.High, row.Unit)
	if t.OneSided {
		j.Decision = string(decision.Upper(row.Value, row.U, t.High))
	} else {
		j.Low = record.Plain(t.Low, row.Unit)
		j.Decision = string(decision.Window(row.Value, row.U, t.Low, t.High))
	}
	return j
}

// uncertainty is the standard uncertainty of a stated value: its own ±, or the
// accuracy and resolution of the instrument that read it; 0 where neither is known.
func (r *runner) uncertainty(id string, v quantity.Value) float64 {
	if v.U > 0 {
		return v.U
	}
	in := r.instrument(id)
	if in == nil || !in.Accuracy.Given() {
		return 0
	}
	limit := in.Accuracy.Limit(v.SI, in.Range.Span())
	step := in.Resolution.SI - in.Resolution.Unit.Offset
	return math.Hypot(limit/math.Sqrt(3), step/math.Sqrt(12))
}

func stated(v quantity.Value, unit string) *record.Value {
	if !v.Given() {
		return nil
	}
	return estimate(startup.Estimate{Value: v.SI, U: v.U}, unit)
}

func estimate(e startup.Estimate, unit string) *record.Value {
	if e.U <= 0 {
		return plain(e.Value, unit)
	}
	return record.Between(e.Value, e.Value-quantity.K95*e.U, e.Value+quantity.K95*e.U, unit)
}
