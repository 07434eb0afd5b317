package analysis

import (
	"math"

	"dryhold/analysis/decision"
	"dryhold/analysis/fluid"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

// holds fills holds[] without decisions, the earlier attempts, the deciding hold
// with its decision, and its curves.
func (r *runner) holds(s *readings.Series, res vacuum.Result, a agreed) {
	r.attempts(s, res, a)
	for i, h := range res.Holds {
		x := r.hold(h, s, a)
		r.rec.Holds = append(r.rec.Holds, x)
		if i == res.Deciding {
			r.decide(&x, h, s, res, a)
			r.deciding(x, h, s)
		}
	}
}

// deciding keeps the hold that the record is about.
func (r *runner) deciding(x record.Hold, h vacuum.Hold, s *readings.Series) {
	r.rec.Hold = &x
	r.rec.Loss = r.loss(h, x.Inflow)
	r.rec.Traces.Hold = traceOf(s, h.Start, h.End, 900)
	if len(h.CurveTime) == 0 {
		return
	}
	shift := h.Start.Sub(s.Start).Seconds()
	b := &record.Band{Y: h.Curve, Low: h.BandLow, High: h.BandHigh, T: make(record.Floats, len(h.CurveTime))}
	for i, t := range h.CurveTime {
		b.T[i] = t + shift
	}
	r.rec.Traces.Fit = b
}

// hold is one isolation without its decision.
func (r *runner) hold(h vacuum.Hold, s *readings.Series, a agreed) record.Hold {
	out := record.Hold{
		Start: r.stamp(h.Start), End: r.stamp(h.End), Found: h.Found, SettleEnd: r.stamp(h.Settle), SettleHow: h.Transient.Text, SettleNote: note(h.Transient),
		Cause: string(h.Cause), CauseReason: h.Reason.Text, CauseNote: note(h.Reason),
		LeakRate: value(h.LeakRate, "Pa m3/s"), LeakRise: value(h.LeakRise, "Pa/s"), LeakPart: value(h.LeakContr, "Pa"),
		MoistureRise: value(h.MoistureRise, "Pa"), MoistureTime: value(h.MoistureTime, "s"), MoistureMass: value(h.MoistureMass, "kg"),
		Readings: h.Rows, Ambient: ambient(s, h.Start, h.End),
	}
	if len(h.Models) > 0 { // else the readings were too few for a curve, and all of these are unknown
		out.StartPressure, out.EndPressure, out.Rise = plain(h.StartPressure, "Pa"), plain(h.EndPressure, "Pa"), plain(h.Rise, "Pa")
		out.Threshold, out.Residual = plain(h.Threshold, "Pa"), plain(h.Noise, "Pa")
	}
	if a.Limit > 0 {
		out.Limit = record.Plain(a.Limit, "Pa")
	}
	if h.SmallestKnown {
		out.SmallestLeak = plain(h.SmallestLeak, "Pa m3/s")
		if r.volume.v > 0 {
			out.SmallestRise = plain(h.SmallestLeak/r.volume.v, "Pa/s")
		}
	}
	if h.LongerHold > 0 {
		out.LongerHold = plain(h.LongerHold, "s")
	}
	if !h.AtLimit.IsZero() {
		out.LimitAt = r.stamp(h.AtLimit)
	}
	if h.ReadingKnown {
		out.ReadingAtLimit = plain(h.Reading, "Pa")
		out.AtLeast = h.AtLeast
		if h.Uncertainty > 0 && !h.AtLeast { // 0: no accuracy is stated
			out.StandardUncertainty = plain(h.Uncertainty, "Pa")
			out.Budget = r.readingBudget(s.ID, h)
		}
	}
	out.Inflow = h.Cause == vacuum.Leak || h.Cause == vacuum.LeakMoisture || h.LeakRise.Known && h.LeakRise.Low > 0
	for _, m := range h.Models {
		x := record.Model{Name: m.Name, RSS: m.RSS, AICc: m.AICc, Weight: m.Weight, Parameters: map[string]*record.Value{}}
		for k, v := range m.Parameters {
			if p := plain(v, unitOf[k]); p != nil {
				x.Parameters[k] = p
			}
		}
		out.Models = append(out.Models, x)
	}
	return out
}

// unitOf is the unit of each model parameter.
var unitOf = map[string]string{"start pressure": "Pa", "leak rise": "Pa/s", "moisture rise": "Pa", "moisture time": "s",
	"transient": "Pa", "transient time": "s"}

func note(v vacuum.Reason) *record.Note {
	if v.Code == "" {
		return nil
	}
	return &record.Note{Code: v.Code, Text: v.Text, Facts: facts(v.Facts)}
}

func decisionNote(v decision.Reason) *record.Note {
	if v.Code == "" {
		return nil
	}
	n := &record.Note{Code: v.Code, Text: v.Text, Facts: facts(v.Facts)}
	if v.Code == decision.TooFewRounds {
		for _, f := range n.Facts {
			f.Unit = "1"
		}
	}
	return n
}

// decide compares the deciding hold with the criterion. Without one, common
// practice stands beside for comparison and never decides.
func (r *runner) decide(out *record.Hold, h vacuum.Hold, s *readings.Series, res vacuum.Result, a agreed) {
	e := r.evidence(h, s, res)
	j := decision.Judge(a.Criterion, e)
	out.Criterion = a.criterion()
	out.Decision, out.DecisionReason, out.DecisionNote = string(j.Outcome), j.Reason.Text, decisionNote(j.Reason)
	if j.Reason.Code == decision.NoReading && !h.ReadingKnown {
		out.DecisionReason, out.DecisionNote = h.ReadingReason.Text, note(h.ReadingReason)
	}
	for _, p := range j.Parts {
		out.Criteria = append(out.Criteria, part(p, a.source))
		if p.Name == "limit" && p.U > 0 && !p.AtLeast {
			out.GuardBand = record.Plain(p.Guard, "Pa")
		}
	}
	if a.given {
		return
	}
	p, err := decision.Find("common-practice")
	if err != nil {
		return
	}
	c := decision.Judge(p.Criterion(), e)
	out.Criteria = append(out.Criteria, record.Criterion{Name: p.Name, Text: p.Text, Source: p.Source, Certainty: p.Certainty,
		Limit: record.Plain(p.Limit.SI, "Pa"), Minutes: record.Plain(p.Minutes*60, "s"), Decision: string(c.Outcome),
		Note: decisionNote(c.Reason), Comparison: true})
}

func part(p decision.Part, source string) record.Criterion {
	c := record.Criterion{What: p.Name, Text: p.Name, Source: source, Decision: string(p.Outcome), Note: decisionNote(p.Reason)}
	if p.Limit > 0 {
		c.Limit = record.Plain(p.Limit, "Pa")
	}
	if p.U > 0 {
		c.Reading = record.Plain(p.Reading, "Pa")
		if c.AtLeast = p.AtLeast; !c.AtLeast {
			c.U = record.Plain(p.U, "Pa")
		}
	}
	return c
}

// loss tells a shown inflow as refrigerant lost in a year at the pressure of
// the refrigerant's vapour over liquid at 20 °C, from the least molecular to
// the most viscous value: a bracket, only if the inflow is outside air.
func (r *runner) loss(h vacuum.Hold, shown bool) *record.Loss {
	const standstill = 293.15
	if !shown || !h.LeakRate.Known || r.coolant == nil {
		return nil
	}
	p, err := r.coolant.BubblePressure(standstill)
	if err != nil {
		return nil
	}
	open := fluid.Opening{Atmosphere: r.atmosphere, Inside: h.StartPressure, Temperature: standstill}
	mid, err := open.YearlyLoss(h.LeakRate.X, r.coolant.Vapour(), p)
	if err != nil || h.LeakRate.X <= 0 {
		return nil
	}
	low := mid.Low() * math.Max(0, h.LeakRate.Low) / h.LeakRate.X
	high := mid.High() * h.LeakRate.High / h.LeakRate.X
	return &record.Loss{Refrigerant: r.coolant.Name, Pressure: record.Plain(p, "Pa"), Temperature: record.Plain(standstill, "K"),
		PerYear: record.Between(math.Sqrt(mid.Low()*mid.High()), low, high, "kg")}
}
