package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"dryhold/analysis/decision"
	"dryhold/analysis/fluid"
	"dryhold/analysis/job"
	"dryhold/analysis/pressure"
	"dryhold/analysis/quantity"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
)

// beforeAndAfter works out the tests and steps around the evacuation.
func (r *runner) beforeAndAfter() {
	r.standing()
	r.recovery()
	r.charge()
	r.startup()
}

// standing works out the standing pressure test and sets it beside the hold.
func (r *runner) standing() {
	t := r.job.PressureTest
	if t == nil {
		return
	}
	o := r.pressureOptions(t)
	s := r.series[t.Readings]
	res, from := pressure.Result{}, "readings"
	if s != nil {
		r.scale(s, "pressure test")
		res = pressure.FromReadings(s, t.Start.Time, t.End.Time, o)
	} else {
		from = "stated, not logged"
		start, end := r.statedEnds(t)
		res = pressure.Evaluate(start, end, o)
	}
	out := r.standingRecord(t, res, from)
	r.judgeStanding(out, t, res)
	r.carry(out, res)
	for _, w := range res.Warnings {
		r.warn(record.Note{Code: w.Code, Text: w.Text, Where: "pressure test", Facts: facts(w.Facts)})
	}
	r.rec.Pressure = out
	if s != nil && s.Len() > 0 {
		r.rec.Traces.Pressure = traceOf(s, s.Start, s.At(s.Len()-1), 600)
		r.rec.Traces.Corrected = corrected(s, res)
		r.rec.Traces.PressureStart = r.stamp(s.Start)
	}
}

func (r *runner) pressureOptions(t *job.PressureTest) pressure.Options {
	o := pressure.Options{Atmosphere: r.atmosphere, TemperatureAt: sensorAt(t.TemperatureAt), Gas: t.Gas, Required: t.Duration.SI, Volume: r.volume.v}
	if r.volume.v > 0 {
		o.VolumeU = r.volume.u / r.volume.v
	}
	if t.DesignPressure.Given() {
		o.Design = t.DesignPressure.Pa(r.atmosphere)
	}
	if t.StartBarometer.Given() && t.EndBarometer.Given() {
		o.Atmosphere = t.StartBarometer.SI
		o.AtmosphereChange = 2 * 200 // Pa: each barometer reading within 2 hPa
	}
	if in := r.instrument(t.Thermometer); in != nil && in.Accuracy.Given() {
		o.Thermometer = in.Accuracy.Limit(293.15, in.Range.Span())
	}
	in := r.instrument(t.Instrument)
	if in == nil {
		in = r.instrumentOf(t.Readings)
	}
	if in != nil {
		o.Gauge = r.pressureGauge(in)
	}
	return o
}

// sensorAt reads from the job's own words whether the sensor was on the pipe.
func sensorAt(words string) string {
	fields := strings.FieldsFunc(strings.ToLower(words), func(c rune) bool { return !unicode.IsLetter(c) })
	if slices.ContainsFunc(fields, func(w string) bool { return oneOf(w, "air", "ambient", "near", "not") }) {
		return words
	}
	if slices.ContainsFunc(fields, func(w string) bool { return oneOf(w, "pipe", "line", "tube") }) {
		return "pipe"
	}
	return words
}

func (r *runner) pressureGauge(in *job.Instrument) pressure.Gauge {
	g := pressure.Gauge{Gain: in.Accuracy.Relative, Offset: in.Accuracy.Absolute, ZeroStability: in.ZeroStability.SI,
		Resolution: in.Resolution.SI, Overdue: r.overdue(in)}
	if in.Range.Given() {
		g.Bottom, g.Top = in.Range.Low.Pa(r.atmosphere), in.Range.High.Pa(r.atmosphere)
		g.Offset += in.Accuracy.OfRange * in.Range.Span()
		g.Absolute = in.Range.High.Unit.Ref == quantity.Absolute
	}
	return g
}

// statedEnds are the ends of a test that was not logged; each takes its own
// barometer where one is given. A single one serves for both rather than be set
// beside the standard atmosphere.
func (r *runner) statedEnds(t *job.PressureTest) (a, b pressure.State) {
	end := func(p quantity.Pressure, barometer quantity.Pressure, temp quantity.Temperature) pressure.State {
		at := r.atmosphere
		if barometer.Given() {
			at = barometer.SI
		}
		s := pressure.State{Temperature: temp.SI}
		if p.Given() {
			s.Pressure = p.Pa(at)
		}
		return s
	}
	first, last := t.StartBarometer, t.EndBarometer
	if r.rec.Job.BarometerFrom != "barometer" && first.Given() != last.Given() {
		if !first.Given() {
			first = last
		}
		last = first
	}
	a = end(t.StartPressure, first, t.StartTemperature)
	b = end(t.EndPressure, last, t.EndTemperature)
	a.Time, b.Time = t.Start.Time, t.End.Time
	if b.Time.IsZero() || a.Time.IsZero() {
		a.Time = r.job.Job.Date.Time
		b.Time = a.Time.Add(seconds(t.Duration.SI))
	}
	return a, b
}

func (r *runner) standingRecord(t *job.PressureTest, res pressure.Result, from string) *record.Pressure {
	out := &record.Pressure{Kind: t.Kind, Gas: t.Gas, From: from, Duration: positive(res.Duration, "s"),
		StartPressure: positive(res.Start.Pressure, "Pa"), EndPressure: positive(res.End.Pressure, "Pa"),
		StartTemperature: positive(res.Start.Temperature, "K"), EndTemperature: positive(res.End.Temperature, "K"),
		SmallestLeak: positive(res.SmallestLeak, "Pa m3/s"), Instrument: t.Instrument, TemperatureAt: t.TemperatureAt}
	if from == "readings" || t.Start.Given() {
		out.Start, out.End = r.stamp(res.Start.Time), r.stamp(res.End.Time)
	}
	if t.DesignPressure.Given() {
		out.DesignPressure = record.Plain(t.DesignPressure.Pa(r.atmosphere), "Pa")
	}
	if res.U > 0 {
		out.Expected = plain(res.Expected, "Pa")
		out.Change = record.Between(res.Change, res.Change-quantity.K95*res.U, res.Change+quantity.K95*res.U, "Pa")
		out.U = record.Plain(res.U, "Pa")
	}
	if l := res.Loss; l != nil {
		out.LeakRate = record.Between(l.Value, l.Low, l.High, "Pa m3/s")
	}
	for _, b := range res.Budget {
		out.Budget = append(out.Budget, record.Term{Name: b.Name, U: record.Plain(b.U, "Pa")})
	}
	for _, s := range res.Stages {
		out.Stages = append(out.Stages, record.Stretch{Start: r.stamp(s.Start), End: r.stamp(s.End), Pressure: record.Plain(s.Pressure, "Pa")})
	}
	return out
}

// judgeStanding compares the fall with the agreed largest one. The decision answers
// that alone, and a loss that is shown is told beside it; where nothing was agreed
// it fails. An obstacle forbids a pass.
func (r *runner) judgeStanding(out *record.Pressure, t *job.PressureTest, res pressure.Result) {
	n := record.Note{Code: res.Reason.Code, Text: res.Reason.Text, Facts: facts(res.Reason.Facts)}
	out.Decision = "not determined"
	limit := t.MaxChange.SI
	if t.MaxChange.Given() {
		out.MaxChange = record.Plain(limit, "Pa")
	}
	switch {
	case res.Finding == pressure.NotDetermined:
	case t.MaxChange.Given():
		out.Decision = string(decision.Upper(-res.Change, res.U, limit))
		switch {
		case out.Decision == "not determined":
			n = record.Note{Code: "too-uncertain", Text: "the uncertainty is as large as the change allowed", Facts: n.Facts}
		case record.Passes(out.Decision) && res.Finding == pressure.LossShown:
			n = record.Note{Code: "loss-within", Facts: n.Facts,
				Text: "no more than the change agreed, but the pressure fell further than temperature and uncertainty explain: gas was lost, find where"}
		}
	case res.Finding == pressure.LossShown:
		out.Decision = "fail"
	default:
		n = record.Note{Code: "no-criterion", Facts: n.Facts, Text: "no largest change was agreed; " + res.Reason.Text}
	}
	if o := res.Obstacle; o != nil && record.Passes(out.Decision) {
		out.Decision = "not determined"
		n = record.Note{Code: o.Code, Text: o.Text, Facts: facts(o.Facts)}
	}
	out.Note, out.DecisionReason = &n, n.Text
}

// carry sets the hold's inflow, carried over to the test pressure, beside what
// the pressure test could have shown.
func (r *runner) carry(out *record.Pressure, res pressure.Result) {
	h := r.rec.Hold
	if h == nil || h.LeakRate == nil || h.StartPressure == nil {
		return
	}
	open := fluid.Opening{Atmosphere: r.atmosphere, Inside: h.StartPressure.V, Temperature: temperature(res)}
	c, err := pressure.Carry(pressure.Inflow{Low: h.LeakRate.Low, High: h.LeakRate.High, Shown: h.Inflow}, open, res)
	if err != nil {
		r.warn(record.Note{Code: "no-carry-over", Where: "pressure test",
			Text: fmt.Sprintf("the hold's inflow cannot be carried over to the test pressure: %v", err)})
		return
	}
	out.CarryLow = record.Between(math.Sqrt(c.Low*c.High), c.Low, c.High, "Pa m3/s")
	out.Agreement, out.AgreementReason = string(c.Verdict), c.Reason.Text
}

func temperature(res pressure.Result) float64 {
	if res.End.Temperature > 0 {
		return res.End.Temperature
	}
	return 293.15
}

// corrected is the recording at the start temperature, thinned for the figure.
func corrected(s *readings.Series, res pressure.Result) *record.Trace {
	if res.Start.Temperature <= 0 {
		return nil
	}
	t, p, _ := pressure.Corrected(s, res.Start.Temperature)
	if len(t) == 0 {
		return nil
	}
	out := &record.Trace{T: record.Floats{}, Y: record.Floats{}}
	for i := 0; i < len(t); i += 1 + len(t)/600 {
		out.T, out.Y = append(out.T, t[i]), append(out.Y, p[i])
	}
	return out
}
