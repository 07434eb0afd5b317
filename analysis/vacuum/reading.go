package vacuum

import (
	"math"
	"time"

	"dryhold/analysis/readings"
)

// readLimit finds the reading that a criterion is judged on: the highest from
// the end of equalisation to the criterion's time, which runs from isolation, or
// to the end of the hold without a criterion or where the hold ended before it.
// Every reading counts, not block averages. Over-range within that time means at
// least the top of the range.
func (h *Hold) readLimit(s *readings.Series, o Options) {
	end := h.End
	if o.Minutes > 0 {
		h.AtLimit = h.Start.Add(time.Duration(o.Minutes * float64(time.Second)))
		if h.AtLimit.Before(end) {
			end = h.AtLimit
		}
	}
	from, to := h.Settle.Sub(s.Start).Seconds(), end.Sub(s.Start).Seconds()
	const stampRounding = 0.5 // s: a log of whole seconds may round the last stamp up
	y := math.NaN()
	over := false
	for i, t := range s.T {
		if t < from || t > to+stampRounding {
			continue
		}
		p := s.P[i]
		if s.Mark[i] == readings.OverRange {
			over = true
			p = math.Max(o.Gauge.Top, p)
			if math.IsNaN(p) {
				p = o.Gauge.Top
			}
		}
		if s.Mark[i] == readings.UnderRange || math.IsNaN(p) {
			continue
		}
		if !(y >= p) {
			y = p
		}
	}
	h.AtLeast = over
	if math.IsNaN(y) {
		h.ReadingReason = Reason{Code: "no-reading", Text: "no usable reading between the end of equalisation and the criterion's time"}
		return
	}
	if y < o.Gauge.Resolution {
		h.unseen(y, o.Gauge.Resolution)
		return
	}
	if over {
		h.ReadingReason = Reason{Code: "over-range", Text: "the gauge was over its range: the pressure was at least its top"}
	}
	h.Reading, h.ReadingKnown = y, true
	if o.Gauge.Gain > 0 || o.Gauge.Offset > 0 {
		h.Uncertainty = newBudget(o.Gauge, o.Gauge.Resolution).reading(y, 0)
	} else {
		h.Uncertainty = 0
	}
}

// unseen takes back what was found in readings y below the least step that the gauge can show: most likely their unit was mistaken.
func (h *Hold) unseen(y, step float64) {
	why := Reason{Code: "below-resolution", Text: "the gauge's readings lie below the least step that it can show: see whether their unit is right",
		Facts: map[string]float64{"reading": y, "resolution": step}}
	h.ReadingReason, h.Cause, h.Reason = why, NotDetermined, why
	h.LeakContr, h.LeakRise, h.LeakRate = Value{}, Value{}, Value{}
	h.MoistureRise, h.MoistureTime, h.MoistureMass = Value{}, Value{}, Value{}
	h.SmallestKnown, h.LongerHold = false, 0
	h.warnings = append([]Warning{{Code: why.Code, Text: why.Text, Facts: why.Facts}}, h.warnings...)
}
