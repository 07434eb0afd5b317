package analysis

import (
	"fmt"
	"math"
	"strings"
	"time"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/quantity"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

// recordings analyses the evacuation and the hold, which may be one recording or two.
func (r *runner) recordings() {
	holdID, evacID := r.vacuumReadings()
	hold := r.series[holdID]
	if hold == nil {
		return
	}
	agreed := r.agreed()
	o := r.vacuumOptions(holdID, agreed)
	res := r.analyse(hold, o, "hold")
	r.ask(res, holdID)
	if r.againstAir(holdID) {
		r.warn(record.Note{Code: "gauge-against-air", Where: "hold",
			Text: "the readings count from the air's pressure (psig, barg or inches of vacuum): its uncertainty is far larger than a deep vacuum"})
	}
	r.scale(hold, "hold")
	for _, w := range res.Warnings {
		r.warn(record.Note{Code: w.Code, Text: w.Text, Where: w.Where, Facts: facts(w.Facts)})
	}
	evac := res
	if s := r.series[evacID]; s != nil && evacID != holdID {
		o.Hold, o.Attempts = vacuum.Span{}, nil
		o.Before = hold.Start.Add(time.Second)
		evac = vacuum.Analyse(s, o)
	}
	r.phases(evac, res, evacID != holdID)
	r.rec.PullDown = r.pullDown(evac.PullDown)
	for _, b := range evac.Breaks {
		r.rec.Breaks = append(r.rec.Breaks, record.Break{Start: r.stamp(b.Start), End: r.stamp(b.End),
			Pressure: record.Plain(b.Reached, "Pa"), Remaining: record.Plain(b.Residual, "1")})
	}
	r.statedBreaks(len(evac.Breaks), evac.PullDown != nil)
	r.holds(hold, res, agreed)
	trace := r.series[evacID]
	if trace == nil {
		trace = hold
	}
	r.rec.Traces.Start = r.stamp(trace.Start)
	r.rec.Traces.Vacuum = traceOf(trace, trace.Start, trace.At(trace.Len()-1), 1000)
}

// vacuumReadings finds the recordings of the hold and of the evacuation: those
// named, else the only recording of a vacuum gauge.
func (r *runner) vacuumReadings() (hold, evac string) {
	if e := r.job.Evacuation; e != nil {
		evac = e.Readings
	}
	if h := r.job.Hold; h != nil {
		hold = h.Readings
	}
	var only []string
	for _, in := range r.job.Readings {
		if g := r.instrument(in.Instrument); g != nil && g.Measures == "vacuum" {
			only = append(only, in.ID)
		}
	}
	if hold == "" {
		hold = evac
	}
	if hold == "" && len(only) == 1 {
		hold = only[0]
	}
	if evac == "" {
		evac = hold
	}
	return hold, evac
}

func (r *runner) vacuumOptions(id string, a agreed) vacuum.Options {
	o := vacuum.Options{Volume: r.volume.v, Gauge: r.gauge(id), Minutes: a.minutes * 60, Limit: a.limit,
		AmbientKelvin: 293.15, Levels: levels}
	if r.volume.v > 0 {
		o.VolumeU = r.volume.u / r.volume.v
	}
	if h := r.job.Hold; h != nil {
		o.Hold = vacuum.Span{Start: h.Start.Time, End: h.End.Time}
	}
	for _, t := range r.job.Attempts {
		if t.Test != "pressure" && t.Start.Given() && (t.Readings == id || t.Readings == "") {
			o.Attempts = append(o.Attempts, vacuum.Span{Start: t.Start.Time, End: t.End.Time})
		}
	}
	for _, e := range r.job.Events {
		o.Events = append(o.Events, vacuum.Event{Time: e.Time.Time, What: e.What})
	}
	if c := r.job.Charge; c != nil && c.Time.Given() {
		o.Before = c.Time.Time
	}
	if e := r.job.Evacuation; e != nil {
		o.PumpFlow = e.VolumeFlowRate.SI
		for _, h := range e.Hose {
			o.Hoses = append(o.Hoses, vacuum.Hose{Diameter: h.Diameter.SI, Length: h.Length.SI})
		}
	}
	if c := r.job.PumpCheck; c != nil {
		o.OilChanged, o.GasBallast = c.OilChanged, c.GasBallast
		if c.Reading.Given() {
			o.PumpReading = c.Reading.Pa(r.atmosphere)
		}
	}
	return o
}

// levels are the pressures whose times are told, in Pa.
var levels = func() []float64 {
	var l []float64
	for _, m := range []float64{100000, 10000, 5000, 2000, 1000, 500, 300, 200} {
		l = append(l, quantity.Micron.SI(m))
	}
	return l
}()

// gauge is the vacuum gauge of a recording as the analysis wants it.
func (r *runner) gauge(id string) vacuum.Gauge {
	g := vacuum.Gauge{Position: r.job.Boundary.GaugeAt}
	in := r.instrumentOf(id)
	if in == nil {
		return g
	}
	g.Gain, g.Offset = in.Accuracy.Relative, in.Accuracy.Absolute+in.Accuracy.OfRange*in.Range.Span()
	if r.againstAir(id) {
		// What such a gauge shows is the difference to the air, so its relative limit acts on that, and the
		// air's own pressure is only known within its error limit.
		g.Offset += g.Gain*r.atmosphere + math.Sqrt(3)*r.atmosphereU
	}
	g.ZeroStability, g.Resolution = in.ZeroStability.SI, in.Resolution.SI
	g.Principle = in.Principle
	if in.Range.Given() {
		g.Top, g.Bottom = in.Range.High.Pa(r.atmosphere), in.Range.Low.Pa(r.atmosphere)
	}
	g.Overdue = r.overdue(in)
	return g
}

// scale warns of a recorded ambient that no site has (-45 to 57 °C; common
// practice, no source): most often °F under a header that says °C.
func (r *runner) scale(s *readings.Series, where string) {
	for _, t := range s.Ambient {
		if t < 228.15 || t > 330.15 {
			r.warn(record.Note{Code: "ambient-implausible", Where: where, Facts: map[string]*record.Value{"t": record.Plain(t, "K")},
				Text: "a recorded temperature lies outside -45 to 57 °C: look whether the column is in °C or in °F"})
			return
		}
	}
}

// againstAir reports whether a recording counts from the air's pressure: psig, barg, inches of vacuum.
func (r *runner) againstAir(id string) bool {
	s := r.series[id]
	if s == nil || len(s.Inputs) == 0 {
		return false
	}
	u, ok := quantity.LookUp(s.Inputs[0].Columns["pressure"].Unit)
	return ok && u.Ref != quantity.Absolute
}

// overdue reports whether an instrument's calibration was past its date on the
// day of the job, or on the last day of a recording that it made; on the date
// itself it is not.
func (r *runner) overdue(in *job.Instrument) bool {
	last := day(r.job.Job.Date)
	for _, x := range r.job.Readings {
		if s := r.series[x.ID]; x.Instrument == in.ID && s != nil && s.Len() > 0 {
			last = max(last, r.stamp(s.At(s.Len() - 1))[:len(time.DateOnly)])
		}
	}
	return in.Due.Given() && day(in.Due) < last
}

// instrumentOf is the instrument that made a recording, nil where not named.
func (r *runner) instrumentOf(id string) *job.Instrument {
	for _, in := range r.job.Readings {
		if in.ID == id {
			return r.instrument(in.Instrument)
		}
	}
	return nil
}

// ask makes a fault of a hold that the readings suggest but do not settle.
func (r *runner) ask(res vacuum.Result, id string) {
	if res.Deciding >= 0 || len(res.Candidates) == 0 && r.job.Hold == nil {
		return
	}
	var b strings.Builder
	if len(res.Candidates) == 0 {
		r.faults = append(r.faults, fault.Fault{Kind: fault.Readings, Code: "hold-unclear", File: r.fileOf(id), Key: "hold.start",
			Found: "no isolation of the pump is seen in these readings", Expected: "the start and end of the hold in job.toml",
			Mend: "write under [hold] in job.toml when the pump was isolated and when the hold ended" + r.blank(id)})
		return
	}
	b.WriteString("write under [hold] in job.toml when the pump was isolated and when the hold ended; the readings suggest")
	for i, c := range res.Candidates {
		if i > 0 {
			b.WriteString("\n  or")
		}
		fmt.Fprintf(&b, "\n  start = %s\n  end = %s    # %s", job.Written(c.Start, r.job.Zone), job.Written(c.End, r.job.Zone), c.Why)
	}
	r.faults = append(r.faults, fault.Fault{Kind: fault.Readings, Code: "hold-unclear", File: r.fileOf(id), Key: "hold.start",
		Found: "when the pump was isolated is not plain from these readings", Expected: "the start and end of the hold in job.toml", Mend: b.String()})
}

// blank is a hold's start and end for the times to be put in, with what the readings say of them.
func (r *runner) blank(id string) string {
	day, span := r.job.Job.Date.Format(time.DateOnly), ""
	if s := r.series[id]; s != nil && s.Len() > 0 {
		day = job.Written(s.At(0), r.job.Zone)[:len(time.DateOnly)]
		span = fmt.Sprintf("    # the readings run from %s to %s", job.Told(s.At(0), r.job.Zone), job.Told(s.At(s.Len()-1), r.job.Zone))
	}
	return fmt.Sprintf("\n  start = %[1]sTHH:MM:SS\n  end = %[1]sTHH:MM:SS%[2]s", day, span)
}

func (r *runner) fileOf(id string) string {
	if s := r.series[id]; s != nil && len(s.Inputs) > 0 {
		return s.Inputs[0].File
	}
	return ""
}
