package vacuum

import (
	"math"
	"slices"
)

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

// scales are the numbers of blocks before the change that are looked at.
var scales = [...]int{6, 12, 24, 48}

// changes are the shapes tried after a change: the equalisation's time in blocks, and whether the change arrives late and
// gradually, as it does at the far end of a line.
var changes = [...]struct {
	times float64
	late  bool
}{{0, false}, {0.3, false}, {1.2, false}, {4, false}, {12, false}, {0.8, true}, {2.4, true}, {7, true}}

// seed is where a kink may be.
type seed struct {
	at, scale int
	z         float64
}

// departures holds, for every scale, where the readings leave the curve through those before them, and how far.
type departures [len(scales)]struct {
	at []int
	z  []float64
}

// departures looks through blocks [lo, hi): the mean of the next few against a quadratic extrapolation.
func (tr *trace) departures(lo, hi int) *departures {
	d := new(departures)
	for k, w := range scales {
		ahead := max(2, w/3)
		for i := lo + w; i+ahead <= hi; i += max(1, w/6) {
			d[k].at = append(d[k].at, i)
			d[k].z = append(d[k].z, tr.surprise(i, w, ahead))
		}
	}
	return d
}

// seeds are the most pronounced departures of one sign in blocks [lo, hi).
func (tr *trace) seeds(d *departures, lo, hi int, sign float64, most int) []seed {
	var all []seed
	for n, w := range scales {
		z, at := d[n].z, d[n].at
		for k := range z {
			if sign*z[k] < 4 || at[k] < lo+w || at[k]+max(2, w/3) > hi {
				continue
			}
			peak := true
			for m := max(0, k-6); m < min(len(z), k+7); m++ {
				if sign*z[m] > sign*z[k] || z[m] == z[k] && m < k {
					peak = false
				}
			}
			if peak {
				all = append(all, seed{at[k], w, sign * z[k]})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b seed) int {
		switch {
		case a.z > b.z:
			return -1
		case a.z < b.z:
			return 1
		}
		return a.at - b.at
	})
	var keep []seed
	for _, s := range all {
		near := false
		for _, k := range keep {
			if math.Abs(tr.t[s.at]-tr.t[k.at]) < max(30, 2*tr.interval) {
				near = true
			}
		}
		if !near && len(keep) < most {
			keep = append(keep, s)
		}
	}
	return keep
}

// surprise is the distance of the mean of blocks [i, i+ahead) from the quadratic through the w blocks before, in standard
// deviations; 0 where a gap lies between.
func (tr *trace) surprise(i, w, ahead int) float64 {
	for j := i - w + 1; j < i+ahead; j++ {
		if tr.cut[j] {
			return 0
		}
	}
	var n normal
	span := tr.t[i+ahead-1] - tr.t[i-w]
	y0 := tr.y[i-1]
	var x1, x2, x3, x4, sw, sy, sxy, sxxy, yy float64
	for j := i - w; j < i; j++ {
		x, g, y := (tr.t[j]-tr.t[i])/span, 1/tr.v[j], tr.y[j]-y0
		sw += g
		g *= x
		x1 += g
		sxy += g * y
		g *= x
		x2 += g
		sxxy += g * y
		x3 += g * x
		x4 += g * x * x
		sy += y / tr.v[j]
		yy += y * y / tr.v[j]
	}
	n.m[0][0], n.m[1][0], n.m[2][0], n.m[1][1], n.m[2][1], n.m[2][2] = sw, x1, x2, x2, x3, x4
	n.r, n.yy, n.ref = [5]float64{sy, sxy, sxxy}, yy, y0
	c, ok := n.solve(3)
	if !ok {
		return 0
	}
	chi := max(1, n.chi2(c, 3)/float64(w-3))
	var g [5]float64
	var y, v float64
	for j := i; j < i+ahead; j++ {
		x := (tr.t[j] - tr.t[i]) / span
		g[0]++
		g[1] += x
		g[2] += x * x
		y += tr.y[j]
		v += tr.v[j]
	}
	e := y - c[0]*g[0] - c[1]*g[1] - c[2]*g[2]
	return e / math.Sqrt(chi*(v+n.variance(g, 3)))
}

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

// broken fits the curve with a change at tau and returns chi²; ok is false where it is not a change of that sign.
func (tr *trace) broken(a, b int, tau, te, sign float64, late bool) (chi float64, ok bool) {
	var n normal
	span := tr.t[b-1] - tr.t[a]
	size := 5
	if te == 0 {
		size = 4
	}
	for j := a; j < b; j++ {
		x := (tr.t[j] - tau) / span
		f := [5]float64{1, x}
		if x < 0 {
			f[2] = x * x
		} else {
			f[3] = x
			if te > 0 {
				e := math.Exp(-x * span / te)
				f[4] = 1 - e
				if late {
					f[3], f[4] = x-te/span*(1-e), 1-(1+x*span/te)*e
				}
			}
		}
		n.add(f, size, tr.y[j], 1/tr.v[j])
	}
	c, ok := n.solve(size)
	if !ok {
		return 0, false
	}
	end := (tr.t[b-1] - tau) / span
	rise := c[3] * end
	begin := c[3]
	switch {
	case late:
		e := math.Exp(-end * span / te)
		rise = c[3]*(end-te/span*(1-e)) + c[4]*(1-(1+end*span/te)*e)
		begin = c[3] + c[4]*span/te // of its growth
	case te > 0:
		rise += c[4] * (1 - math.Exp(-end*span/te))
		begin += c[4] * span / te
	}
	if sign*rise <= 0 || sign*begin < -0.02*math.Abs(rise)/end {
		return 0, false
	}
	return n.chi2(c, size), true
}

func (tr *trace) quartic(a, b int) float64 {
	var n normal
	mid, half := (tr.t[a]+tr.t[b-1])/2, (tr.t[b-1]-tr.t[a])/2
	for j := a; j < b; j++ {
		x := (tr.t[j] - mid) / half
		n.add([5]float64{1, x, x * x, x * x * x, x * x * x * x}, 5, tr.y[j], 1/tr.v[j])
	}
	c, ok := n.solve(5)
	if !ok {
		return math.Inf(1)
	}
	return n.chi2(c, 5)
}

// knee is chi² of a pump-down that reaches its asymptotic pressure, which may drift:
//
//	p = pa + d t + A exp(-t/T), A >= 0
//
// weighed as ln p is. Its bend can be sharp, but no pump was shut off there.
func (tr *trace) knee(a, b int) float64 {
	best := math.Inf(1)
	span := tr.t[b-1] - tr.t[a]
	p := make([]float64, b-a)
	w := make([]float64, b-a)
	for j := a; j < b; j++ {
		p[j-a] = math.Exp(tr.y[j] - tr.y[b-1])
		w[j-a] = 1 / (tr.v[j] * p[j-a] * p[j-a])
	}
	for tau := span / 40; tau < span; tau *= 1.5 {
		var n normal
		for j := a; j < b; j++ {
			x := tr.t[j] - tr.t[a]
			n.add([5]float64{1, x / span, math.Exp(-x / tau)}, 3, p[j-a], w[j-a])
		}
		if c, ok := n.solve(3); ok && c[2] >= 0 {
			best = min(best, n.chi2(c, 3))
		}
	}
	return best
}

// normal holds the normal equations of a weighted linear fit with at most five parameters.
type normal struct {
	m   [5][5]float64
	r   [5]float64
	yy  float64
	l   [5][5]float64 // Cholesky factor
	ref float64       // first y: taken off for accuracy
	any bool
}

func (n *normal) add(f [5]float64, size int, y, w float64) {
	if !n.any {
		n.ref, n.any = y, true
	}
	y -= n.ref
	for i := range size {
		wf := w * f[i]
		n.r[i] += wf * y
		for j := 0; j <= i; j++ {
			n.m[i][j] += wf * f[j]
		}
	}
	n.yy += w * y * y
}

// solve returns the coefficients; the constant is the first. ok is false where the readings do not determine them.
func (n *normal) solve(size int) (c [5]float64, ok bool) {
	for i := range size {
		for j := 0; j <= i; j++ {
			s := n.m[i][j]
			for k := range j {
				s -= n.l[i][k] * n.l[j][k]
			}
			if i != j {
				n.l[i][j] = s / n.l[j][j]
				continue
			}
			if !(s > 1e-11*n.m[i][i]) {
				return c, false
			}
			n.l[i][i] = math.Sqrt(s)
		}
	}
	c = n.r
	for i := range size {
		for k := range i {
			c[i] -= n.l[i][k] * c[k]
		}
		c[i] /= n.l[i][i]
	}
	for i := size - 1; i >= 0; i-- {
		for k := i + 1; k < size; k++ {
			c[i] -= n.l[k][i] * c[k]
		}
		c[i] /= n.l[i][i]
	}
	c[0] += n.ref
	return c, true
}

func (n *normal) chi2(c [5]float64, size int) float64 {
	s := n.yy
	c[0] -= n.ref
	for i := range size {
		s -= c[i] * n.r[i]
	}
	return max(s, 0)
}

// variance of the linear combination g of the coefficients.
func (n *normal) variance(g [5]float64, size int) float64 {
	s := 0.0
	for i := range size {
		for k := range i {
			g[i] -= n.l[i][k] * g[k]
		}
		g[i] /= n.l[i][i]
		s += g[i] * g[i]
	}
	return s
}
