package analysis

import (
	"math"
	"time"

	"dryhold/analysis/decision"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

// evidence is what the hold and the evacuation before it give.
func (r *runner) evidence(h vacuum.Hold, s *readings.Series, res vacuum.Result) decision.Evidence {
	e := decision.Evidence{Held: h.End.Sub(h.Start).Seconds(), Evacuations: len(res.Breaks) + 1,
		Reading: decision.Estimate{Value: math.NaN()}, Rise: decision.Estimate{Value: h.Rise, U: h.RiseU}}
	if h.ReadingKnown {
		e.Reading = decision.Estimate{Value: h.Reading, U: h.Uncertainty, AtLeast: h.AtLeast}
		e.Rise.Value, e.Rise.AtLeast = h.Reading-h.StartPressure, h.AtLeast
	}
	if p := res.PullDown; p != nil {
		e.Lowest = decision.Estimate{Value: p.Lowest, U: r.readingU(s.ID, p.Lowest)}
	} else if h.StartPressure > 0 {
		e.Lowest = decision.Estimate{Value: h.StartPressure, U: r.readingU(s.ID, h.StartPressure)}
	}
	if in := r.instrumentOf(s.ID); in != nil && r.overdue(in) {
		e.Overdue = in.ID
	}
	if !h.AtLimit.IsZero() && !h.AtLimit.After(h.End) {
		e.Gap = gapAt(s, h.AtLimit)
	}
	return e
}

// readingU is the standard uncertainty of one reading: the error limit as a
// rectangular distribution, and the resolution step. 0 without an accuracy.
func (r *runner) readingU(id string, p float64) float64 {
	g := r.gauge(id)
	limit := g.Gain*math.Abs(p) + g.Offset
	if limit == 0 {
		return 0
	}
	return math.Hypot(limit/math.Sqrt(3), g.Resolution/math.Sqrt(12))
}

// readingBudget splits the standard uncertainty of the reading that decides
// into the gauge's accuracy and its step (JCGM 100, 4.3.7: both rectangular); nil
// without an accuracy.
func (r *runner) readingBudget(id string, h vacuum.Hold) []record.Term {
	g := r.gauge(id)
	accuracy, step := (g.Gain*math.Abs(h.Reading)+g.Offset)/math.Sqrt(3), g.Resolution/math.Sqrt(12)
	if accuracy <= 0 {
		return nil
	}
	list := []record.Term{{Name: "accuracy", Kind: "rectangular", U: plain(accuracy, "Pa")}}
	if step > 0 {
		list = append(list, record.Term{Name: "resolution", Kind: "rectangular", U: plain(step, "Pa")})
	}
	return list
}

// gapAt reports whether no reading lies within three intervals before or after t.
func gapAt(s *readings.Series, t time.Time) bool {
	x, gap := t.Sub(s.Start).Seconds(), 3*medianInterval(s)
	before, after := math.Inf(-1), math.Inf(1)
	for i, v := range s.T {
		if s.Mark[i] == readings.UnderRange && math.IsNaN(s.P[i]) {
			continue
		}
		if v <= x {
			before = v
		} else {
			after = v
			break
		}
	}
	return x-before > gap || after-before > gap && !math.IsInf(after, 1)
}

// ambient is the range of the recorded temperature over a stretch.
func ambient(s *readings.Series, from, to time.Time) *record.Value {
	if s.Ambient == nil {
		return nil
	}
	a, b := from.Sub(s.Start).Seconds(), to.Sub(s.Start).Seconds()
	low, high := math.Inf(1), math.Inf(-1)
	for i, t := range s.T {
		if x := s.Ambient[i]; t >= a && t <= b && !math.IsNaN(x) {
			low, high = math.Min(low, x), math.Max(high, x)
		}
	}
	if low > high {
		return nil
	}
	return &record.Value{V: (low + high) / 2, Unit: "K", Low: low, High: high, Confidence: 1}
}
