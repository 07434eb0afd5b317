package analysis

import (
	"fmt"

	"dryhold/analysis/fluid"
	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

func (r *runner) pullDown(p *vacuum.PullDownResult) *record.PullDown {
	if p == nil {
		return nil
	}
	out := &record.PullDown{Plateaus: []record.Stretch{}, Start: r.stamp(p.Start), End: r.stamp(p.End), Lowest: plain(p.Lowest, "Pa"), Rate: value(p.Rate, "1/s"),
		Asymptotic: value(p.Asymptotic, "Pa"), TimeTo: map[string]*record.Value{}}
	for _, l := range p.TimeTo {
		out.TimeTo[fmt.Sprintf("%.0f micron", quantity.Micron.From(l.Level))] = record.Plain(l.Seconds, "s")
	}
	for _, x := range p.Rates {
		out.RateAt = append(out.RateAt, record.RateAt{Pressure: record.Plain(x.Pressure, "Pa"), Rate: record.Plain(x.Rate, "1/s")})
	}
	for _, x := range p.Plateaus {
		out.Plateaus = append(out.Plateaus, record.Stretch{Start: r.stamp(x.Start), End: r.stamp(x.End), Pressure: record.Plain(x.Pressure, "Pa")})
	}
	if l := p.Line; l != nil {
		out.Hoses = hoses(l)
		if l.Effective > 0 {
			limited := l.Limited
			out.HoseLimited = &limited
		}
	}
	if p.IcePossible {
		r.warn(record.Note{Code: "ice-possible", Where: "pull-down", Facts: map[string]*record.Value{"triple": record.Plain(fluid.TriplePressure, "Pa")},
			Text: "the pull-down passed the triple point of water (611.657 Pa): water still in the circuit may have frozen, and ice gives off vapour slowly"})
	}
	return out
}

// hoses is what the line leaves of the pump; without the pump's volume flow rate only the line's conductance is known.
func hoses(l *vacuum.LineResult) *record.Hoses {
	h := &record.Hoses{Pressure: record.Plain(l.Pressure, "Pa"), Conductance: record.Plain(l.Conductance, "m3/s"),
		Effective: positive(l.Effective, "m3/s"), Share: positive(l.Share, "1")}
	for _, s := range l.Shares {
		h.Table = append(h.Table, record.HoseAt{Pressure: record.Plain(s.Pressure, "Pa"), Share: plain(s.Share, "1")})
	}
	if l.Larger > 0 && l.Share > 0 {
		h.Larger = record.Plain(l.Larger/l.Effective*l.Share, "1")
	}
	return h
}

// statedBreaks compares the nitrogen breaks that the job states with those found.
func (r *runner) statedBreaks(found int, seen bool) {
	e := r.job.Evacuation
	if e == nil || e.Breaks == nil || !seen || *e.Breaks == found {
		return
	}
	r.warn(record.Note{Code: "breaks-differ", Where: "evacuation",
		Facts: map[string]*record.Value{"stated": record.Plain(float64(*e.Breaks), "1"), "found": record.Plain(float64(found), "1")},
		Text:  fmt.Sprintf("the job states %d nitrogen breaks, the readings show %d", *e.Breaks, found)})
}

// pumpCheck tells the reading straight on the pump by common practice (no source).
func (r *runner) pumpCheck() {
	c := r.job.PumpCheck
	if c == nil {
		return
	}
	p := &record.PumpCheck{OilChanged: c.OilChanged, GasBallast: c.GasBallast, Pump: c.Pump, Result: "not judged"}
	if c.Reading.Given() {
		pa := c.Reading.Pa(r.atmosphere)
		p.Reading, p.Result = record.Plain(pa, "Pa"), "change the oil"
		if pa <= quantity.Micron.SI(50)*(1+1e-9) {
			p.Result = "oil serves"
		}
	}
	r.rec.PumpCheck = p
}
