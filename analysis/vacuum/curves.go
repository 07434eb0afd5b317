package vacuum

import "math"

// before begins the fit of a curve with a change at tau: with the blocks before it, which are the same for every change. It returns the
// first block after it too.
func (tr *trace) before(tau float64) (n normal, from int) {
	span := tr.t[len(tr.t)-1] - tr.t[0]
	for ; from < len(tr.t) && tr.t[from] < tau; from++ {
		x := (tr.t[from] - tau) / span
		n.add([5]float64{1, x, x * x}, 3, tr.y[from], 1/tr.v[from])
	}
	return n, from
}

// broken goes on with a change of time te and returns chi²; ok is false where it is not a change of that sign.
func (tr *trace) broken(n normal, from int, tau, te, sign float64, late bool) (chi float64, ok bool) {
	b := len(tr.t)
	span := tr.t[b-1] - tr.t[0]
	size := 5
	if te == 0 {
		size = 4
	}
	for j := from; j < b; j++ {
		x := (tr.t[j] - tau) / span
		f := [5]float64{1, x, 0, x}
		if te > 0 {
			e := math.Exp(-x * span / te)
			f[4] = 1 - e
			if late {
				f[3], f[4] = x-te/span*(1-e), 1-(1+x*span/te)*e
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
