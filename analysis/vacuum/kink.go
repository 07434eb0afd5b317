package vacuum

import "math"

// kink is a sudden change of the slope of ln p: upward where a pump is shut off, downward where it is started.
//
// Around it
//
//	y = a + b x + q min(x,0)² + c max(x,0) + d (1 - exp(-max(x,0)/te)),  x = t - tau
//
// is fitted: before tau a pump-down with curvature, after it a line and an equalisation of time te. Unless the gauge is
// at the pump side, a change that arrives through a line is tried too: both terms after a second delay te. A start that
// is gradual so widens the interval of tau. The smooth alternatives are a polynomial of fourth degree, with as many
// parameters, and a pump-down that reaches its asymptote, see knee.
type kink struct {
	tau, low, high float64 // s, with the 95 % interval from the profile of the likelihood
	evidence       float64 // fall of chi² against the smooth curve, by the scatter, less that of chance
	at             int     // first block after tau
	open           bool    // the interval is not closed within the window searched
	delay          float64 // s: how late the change may have arrived, by the shape that fits best
}

// changes are the shapes tried after a change: the equalisation's time in blocks, and whether the change arrives late and
// gradually, as it does at the far end of a line.
var changes = [...]struct {
	times float64
	late  bool
}{{0, false}, {0.3, false}, {1.2, false}, {4, false}, {12, false}, {0.8, true}, {2.4, true}, {7, true}}

// refine locates the kink near a seed.
func (tr *trace) refine(s seed, lo, hi int, sign float64) (kink, bool) {
	w := max(8, s.scale+s.scale/2)
	a, b := tr.unbroken(s.at, max(lo, s.at-w), min(hi, s.at+w))
	if s.at-a < 4 || b-s.at < 3 || b-a < 9 {
		return kink{}, false
	}
	view, first, last := tr.thinned(a, b, max(a+4, s.at-w/2), min(b-2, s.at+w/3+1))
	n := len(view.t)
	unit := (view.t[n-1] - view.t[0]) / float64(b-a-1)
	stride := max(1, (last-first)/16)
	var prof profile
	for i := first; i < last; i += stride {
		prof.try(view, (view.t[i-1]+view.t[i])/2, unit, sign)
	}
	if len(prof.all) < 2 {
		return kink{}, false
	}
	d, centre := unit*float64(stride), prof.all[prof.best].tau
	for _, f := range [...]float64{-0.75, -0.5, -0.25, 0.25, 0.5, 0.75} {
		prof.try(view, centre+f*d, unit, sign)
	}
	best := prof.all[prof.best]
	scatter := 1.5 * max(1, best.chi/float64(n-6))
	k := kink{tau: best.tau, delay: best.delay, at: a}
	k.low, k.high = prof.within(3.84 * scatter)
	k.open = k.low < (view.t[first-1]+view.t[first])/2+0.01*d && first > 4 || k.high > view.t[last-1]-d
	k.low, k.high = k.low-d/2, k.high+d/2
	k.evidence = (view.smooth(sign)-best.chi)/scatter - 2*math.Log(float64(n))
	for k.at < b && tr.t[k.at] < k.tau {
		k.at++
	}
	return k, true
}

// unbroken is the part of blocks [a, b) around at that no gap cuts.
func (tr *trace) unbroken(at, a, b int) (int, int) {
	for j := at; j > a; j-- {
		if tr.cut[j] {
			a = j
		}
	}
	for j := at + 1; j < b; j++ {
		if tr.cut[j] {
			b = j
		}
	}
	return a, b
}

// profile is chi² over the time of the change, each with the shape that fits best.
type profile struct {
	all  []struct{ tau, chi, delay float64 }
	best int
}

// try adds one time; unit is the length of a block.
func (p *profile) try(tr *trace, tau, unit, sign float64) {
	chi, delay := math.Inf(1), 0.0
	before, from := tr.before(tau)
	for _, c := range changes {
		if c.late && tr.near {
			continue
		}
		x, ok := tr.broken(before, from, tau, c.times*unit, sign, c.late)
		if !ok || x >= chi {
			continue
		}
		chi, delay = x, 0
		if c.late {
			delay = c.times * unit
		}
	}
	if math.IsInf(chi, 1) {
		return
	}
	p.all = append(p.all, struct{ tau, chi, delay float64 }{tau, chi, delay})
	if chi < p.all[p.best].chi {
		p.best = len(p.all) - 1
	}
}

// within are the first and the last time whose chi² is not more than rise above the least.
func (p *profile) within(rise float64) (low, high float64) {
	best := p.all[p.best]
	low, high = best.tau, best.tau
	for _, x := range p.all {
		if x.chi <= best.chi+rise {
			low, high = min(low, x.tau), max(high, x.tau)
		}
	}
	return low, high
}

// smooth is the chi² of the best curve without a change.
func (tr *trace) smooth(sign float64) float64 {
	chi := tr.quartic(0, len(tr.t))
	if sign > 0 {
		chi = min(chi, tr.knee(0, len(tr.t)))
	}
	return chi
}

// thinned is the window [a, b) with the blocks outside [first, last) averaged by threes: there only the course counts.
func (tr *trace) thinned(a, b, first, last int) (w *trace, f, l int) {
	w = &trace{near: tr.near, interval: tr.interval}
	for i := a; i < b; {
		m := 1
		if i+3 <= first-2 || i >= last+2 && i+3 <= b {
			m = 3
		}
		var t, y, v float64
		for j := i; j < i+m; j++ {
			t, y, v = t+tr.t[j], y+tr.y[j], v+tr.v[j]
		}
		if i <= first {
			f = len(w.t)
		}
		if i <= last {
			l = len(w.t)
		}
		k := float64(m)
		w.t, w.y, w.v = append(w.t, t/k), append(w.y, y/k), append(w.v, v/k/k)
		i += m
	}
	return w, f, l
}
