package vacuum

import (
	"math"
	"slices"

	"dryhold/analysis/fluid"
	"dryhold/analysis/readings"
)

// pullDown describes the last evacuation before a hold (or, without one, the last of the recording).
func (c *cuts) pullDown(s *readings.Series, o Options, hold *Span) *PullDownResult {
	k := -1
	for i, p := range c.phases {
		if p.What == PullDown && (hold == nil || p.Start.Before(hold.Start)) {
			k = i
		}
	}
	if k < 0 {
		return nil
	}
	p := c.phases[k]
	start, end := c.seconds(p.Start), c.seconds(p.End)
	if hold != nil {
		end = min(end, c.seconds(hold.Start))
	}
	r := &PullDownResult{Start: p.Start, End: c.at(end), Line: line(o), Lowest: math.NaN()}
	first := math.NaN()
	over := overWithin(s, start, end)
	for i, t := range s.T {
		if t < start || t > end || !usable(s, i) {
			continue
		}
		if math.IsNaN(first) {
			first = s.P[i]
		}
		if !(r.Lowest <= s.P[i]) {
			r.Lowest = s.P[i]
		}
	}
	r.IcePossible = (first > fluid.TriplePressure || over) && r.Lowest < fluid.TriplePressure
	fine := newTrace(part(s, start, end), min(blockTime, (end-start)/500), c.tr.near)
	n := len(fine.t)
	r.TimeTo = fine.timesTo(0, n, start, o.Levels)
	r.Asymptotic = fine.asymptote(0, n)
	r.Rates, r.Rate = fine.rates(0, n, r.Asymptotic)
	r.Plateaus = c.plateaus(c.tr.between(start, end))
	return r
}

// part is the series from start to end.
func part(s *readings.Series, start, end float64) *readings.Series {
	a, _ := slices.BinarySearch(s.T, start)
	b, _ := slices.BinarySearch(s.T, math.Nextafter(end, math.Inf(1)))
	b = max(a, b)
	return &readings.Series{Start: s.Start, T: s.T[a:b], P: s.P[a:b], Mark: s.Mark[a:b]}
}

// between are the blocks [a, b) that lie in a time.
func (tr *trace) between(start, end float64) (a, b int) {
	for a < len(tr.t) && tr.t[a] < start {
		a++
	}
	for b = a; b < len(tr.t) && tr.t[b] <= end; b++ {
	}
	return a, b
}

// same is the relative difference within which a reading is a level: the last digit of a column in another unit must not decide.
const same = 1e-4

// timesTo finds when the averaged pressure reached each level and stayed there for the next four blocks, by a line in
// ln p between two blocks. A level passed in a gap, or out of range, has no time.
func (tr *trace) timesTo(a, b int, start float64, levels []float64) []LevelTime {
	var out []LevelTime
	for _, l := range levels {
		y := math.Log(l)
		for i := a; i < b; i++ {
			if tr.y[i] > y+same || !tr.stays(i, b, y) {
				continue
			}
			if i > a && !tr.cut[i] && tr.y[i-1] > y+same {
				f := min(1, (tr.y[i-1]-y)/(tr.y[i-1]-tr.y[i]))
				out = append(out, LevelTime{l, tr.t[i-1] + f*(tr.t[i]-tr.t[i-1]) - start})
			}
			break
		}
	}
	return out
}

func (tr *trace) stays(i, b int, y float64) bool {
	for j := i + 1; j < min(i+5, b); j++ {
		if tr.y[j] > y+same {
			return false
		}
	}
	return true
}
