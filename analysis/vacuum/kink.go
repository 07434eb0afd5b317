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
	a, b := max(lo, s.at-w), min(hi, s.at+w)
	for j := s.at; j > a; j-- {
		if tr.cut[j] {
			a = j
		}
	}
	for j := s.at + 1; j < b; j++ {
		if tr.cut[j] {
			b = j
			break
		}
	}
	if s.at-a < 4 || b-s.at < 3 || b-a < 9 {
		return kink{}, false
	}
	from, to, whole := a, b, tr
	tr, first, last := tr.thinned(a, b, max(a+4, s.at-w/2), min(b-2, s.at+w/3+1))
	a, b = 0, len(tr.t)
	smooth := tr.quartic(a, b)
	if sign > 0 {
		smooth = min(smooth, tr.knee(a, b))
	}
	unit := (tr.t[b-1] - tr.t[a]) / float64(to-from-1)
	stride := max(1, (last-first)/16)
	type point struct{ tau, chi, delay float64 }
	var prof []point
	try := func(tau float64) {
		best := point{tau: tau, chi: math.Inf(1)}
		for _, c := range changes {
			if c.late && tr.near {
				continue
			}
			if chi, ok := tr.broken(a, b, tau, c.times*unit, sign, c.late); ok && chi < best.chi {
				best.chi, best.delay = chi, 0
				if c.late {
					best.delay = c.times * unit
				}
			}
		}
		if !math.IsInf(best.chi, 1) {
			prof = append(prof, best)
		}
	}
	for i := first; i < last; i += stride {
		try((tr.t[i-1] + tr.t[i]) / 2)
	}
	if len(prof) < 2 {
		return kink{}, false
	}
	best := prof[0]
	for _, p := range prof {
		if p.chi < best.chi {
			best = p
		}
	}
	d := unit * float64(stride)
	c0 := best.tau
	for _, f := range [...]float64{-0.75, -0.5, -0.25, 0.25, 0.5, 0.75} {
		try(c0 + f*d)
	}
	for _, p := range prof {
		if p.chi < best.chi {
			best = p
		}
	}
	scatter := 1.5 * max(1, best.chi/float64(b-a-6))
	k := kink{tau: best.tau, low: best.tau, high: best.tau, delay: best.delay}
	for _, p := range prof {
		if p.chi <= best.chi+3.84*scatter {
			k.low, k.high = min(k.low, p.tau), max(k.high, p.tau)
		}
	}
	edge := unit * float64(stride)
	k.open = k.low < (tr.t[first-1]+tr.t[first])/2+0.01*edge && first > a+4 || k.high > tr.t[last-1]-edge
	k.low, k.high = k.low-d/2, k.high+d/2
	k.evidence = (smooth-best.chi)/scatter - 2*math.Log(float64(b-a))
	k.at = from
	for k.at < to && whole.t[k.at] < k.tau {
		k.at++
	}
	return k, true
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
