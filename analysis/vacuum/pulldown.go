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

// timesTo finds when the averaged pressure went below each level and stayed there for the next four blocks, by a line in
// ln p between two blocks. A level passed in a gap, or out of range, has no time.
func (tr *trace) timesTo(a, b int, start float64, levels []float64) []LevelTime {
	var out []LevelTime
	for _, l := range levels {
		y := math.Log(l)
		for i := a; i < b; i++ {
			if tr.y[i] >= y || !tr.stays(i, b, y) {
				continue
			}
			if i > a && !tr.cut[i] && tr.y[i-1] > y {
				f := (tr.y[i-1] - y) / (tr.y[i-1] - tr.y[i])
				out = append(out, LevelTime{l, tr.t[i-1] + f*(tr.t[i]-tr.t[i-1]) - start})
			}
			break
		}
	}
	return out
}

func (tr *trace) stays(i, b int, y float64) bool {
	for j := i + 1; j < min(i+5, b); j++ {
		if tr.y[j] >= y {
			return false
		}
	}
	return true
}

// asymptote fits p = pa + A exp(-t/T) to the tail of the pull-down: from three times its lowest pressure on. It is known
// where the tail lasts more than one and a half of T and the interval, the profile of the likelihood over T with that of pa
// at each T, is narrower than half of the value on either side.
func (tr *trace) asymptote(a, b int) Value {
	low := math.Inf(1)
	for i := a; i < b; i++ {
		low = min(low, tr.y[i])
	}
	from := b
	for from > a && !tr.cut[min(from, b-1)] && tr.y[from-1] < low+math.Log(3) {
		from--
	}
	n := b - from
	if n < 10 {
		return Value{}
	}
	step := max(1, n/200)
	length := tr.t[b-1] - tr.t[from]
	type point struct{ chi, pa, sd, tau float64 }
	var prof []point
	m := 0
	best := point{chi: math.Inf(1)}
	scan := func(low, high, factor float64) {
		for tau := low; tau < high; tau *= factor {
			var nm normal
			m = 0
			for i := from; i < b; i += step {
				p := math.Exp(tr.y[i])
				nm.add([5]float64{1, math.Exp(-(tr.t[i] - tr.t[from]) / tau)}, 2, p, 1/(tr.v[i]*p*p))
				m++
			}
			c, ok := nm.solve(2)
			if !ok || c[1] <= 0 {
				continue
			}
			pt := point{nm.chi2(c, 2), c[0], math.Sqrt(nm.variance([5]float64{1}, 2)), tau}
			prof = append(prof, pt)
			if pt.chi < best.chi {
				best = pt
			}
		}
	}
	scan(length/12, 4*length, 1.25)
	if best.tau > 0 {
		scan(best.tau/1.25, best.tau*1.25, 1.015)
	}
	if len(prof) == 0 {
		return Value{}
	}
	scatter := 1.5 * max(1, best.chi/float64(max(m-3, 1)))
	v := Value{X: best.pa, Low: math.Inf(1), High: math.Inf(-1), Known: best.tau < length/1.5}
	for _, p := range prof {
		if p.chi <= best.chi+3.84*scatter {
			w := 1.96 * math.Sqrt(scatter) * p.sd
			v.Low, v.High = min(v.Low, p.pa-w), max(v.High, p.pa+w)
		}
	}
	v.Known = v.Known && v.Low > 0 && v.High-v.X < 0.5*v.X && v.X-v.Low < 0.5*v.X
	if !v.Known {
		return Value{}
	}
	return v
}

// rates is -d ln(p - pa)/dt at five pressures a decade, from a line through the readings within a factor of 1.35 (2.7 where
// there are few) of each; pa
// is 0 where not known. The pull-down's rate is the greatest of them below 1 kPa, of those known to a quarter; the
// interval is that of the line, widened for scatter beyond the noise and for correlated readings (factor 1.5).
func (tr *trace) rates(a, b int, pa Value) (out []RateAt, rate Value) {
	base := 0.0
	if pa.Known {
		base = pa.X
	}
	for e := 25; e >= 0; e-- {
		p := math.Pow(10, float64(e)/5)
		r, sd, ok := tr.rateAt(a, b, p, base)
		if !ok || r <= 0 {
			continue
		}
		out = append(out, RateAt{p, r})
		if p < 1000 && r > rate.X && 1.96*sd < 0.25*r {
			rate = Value{r, r - 1.96*sd, r + 1.96*sd, true}
		}
	}
	return out, rate
}

// rateAt widens the stretch around p until it holds six readings.
func (tr *trace) rateAt(a, b int, p, base float64) (rate, sd float64, ok bool) {
	for _, w := range [...]float64{0.3, 0.6, 1} {
		if rate, sd, ok = tr.rateWithin(a, b, p, base, w); ok {
			return rate, sd, ok
		}
	}
	return 0, 0, false
}

func (tr *trace) rateWithin(a, b int, p, base, window float64) (rate, sd float64, ok bool) {
	y := math.Log(p)
	i := a
	for i < b && tr.y[i] > y+window {
		i++
	}
	if i == a && a < b && tr.y[a] < y {
		return 0, 0, false
	}
	var n normal
	count := 0
	t0, lowest := 0.0, y
	for ; i < b && tr.y[i] > y-window; i++ {
		if count > 0 && tr.cut[i] {
			return 0, 0, false
		}
		if count == 0 {
			t0 = tr.t[i]
		}
		x := math.Exp(tr.y[i])
		if x < 1.3*base {
			break
		}
		g := x / (x - base) // d ln(x - base)/d ln x
		n.add([5]float64{1, tr.t[i] - t0}, 2, math.Log(x-base), 1/(tr.v[i]*g*g))
		count++
		lowest = tr.y[i]
	}
	if count < 6 || lowest > y {
		return 0, 0, false
	}
	c, ok := n.solve(2)
	if !ok {
		return 0, 0, false
	}
	scatter := 1.5 * max(1, n.chi2(c, 2)/float64(count-2))
	return -c[1], math.Sqrt(scatter * n.variance([5]float64{0, 1}, 2)), true
}

const (
	plateauTime = 120.0 // s
	plateauFall = 0.03  // of ln p in that time
)

// plateaus are the stretches of two minutes and more in which the pressure fell by less than 3 % in two minutes, though it
// fell at least five times as fast in the two minutes before, and by a fifth afterwards.
func (c *cuts) plateaus(a, b int) []Plateau {
	tr := c.tr
	var out []Plateau
	j := a
	for i := a; i < b; i++ {
		for j < b && tr.t[j] < tr.t[i]+plateauTime {
			j++
		}
		if j >= b-1 || !tr.flat(i, j, a, b) {
			continue
		}
		first, last := i, j
		for m := i + 1; m < b; m++ {
			for j < b && tr.t[j] < tr.t[m]+plateauTime {
				j++
			}
			if j >= b-1 || !tr.flat(m, j, a, b) {
				break
			}
			last = j
		}
		if tr.fellBefore(first, a) && tr.fallsAfter(last, b) {
			out = append(out, Plateau{c.at(tr.t[first]), c.at(tr.t[last]), math.Exp(tr.mean(first, last+1))})
		}
		i, j = last, last
	}
	return out
}

func (tr *trace) flat(i, j, a, b int) bool {
	for m := i + 1; m <= j; m++ {
		if tr.cut[m] {
			return false
		}
	}
	return tr.mean(max(a, i-1), min(b, i+2))-tr.mean(j-1, min(b, j+2)) < plateauFall
}

func (tr *trace) fellBefore(i, a int) bool {
	for k := i; k >= a && tr.t[k] > tr.t[i]-plateauTime-tr.interval; k-- {
		if tr.y[k]-tr.y[i] > 5*plateauFall {
			return true
		}
	}
	return false
}

func (tr *trace) fallsAfter(j, b int) bool {
	for k := j; k < b; k++ {
		if tr.y[k] < tr.y[j]-0.2 {
			return true
		}
	}
	return false
}
