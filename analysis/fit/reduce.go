package fit

import "math"

const maxSoft = 12

// reduced is a candidate with its nuisance integrated out: the log-likelihood of the coefficients of interest is
//
//	base + r·h - h·A·h/2,  h = (a, b)
type reduced struct {
	base  float64
	r     [2]float64
	m     [2][2]float64 // A
	peak  float64       // the greatest log-likelihood with a, b >= 0, without the Occam factor of the nuisance
	at    float64       // the first nuisance coefficient is at - by·h
	by    [2]float64
	sd    float64 // its standard deviation, given h
	n     int
	occam float64
	mx    [2]float64
}

// reduce does the normal algebra: with P = G_ss + 1/SD², A = G_hh - G_hs P⁻¹ G_sh and r = g_h - G_hs P⁻¹ g_s.
func (d *Design) reduce(c Candidate, s2 float64) reduced {
	var f factor
	return d.factored(c, s2, &f)
}

// factor holds P = L Lᵀ, L⁻¹ g_s and L⁻¹ G_sh.
type factor struct {
	l [maxSoft][maxSoft]float64
	g [maxSoft]float64
	q [2][maxSoft]float64
}

// factored is [Design.reduce] with its parts.
func (d *Design) factored(c Candidate, s2 float64, f *factor) (out reduced) {
	n := len(c.Soft)
	out.n = n
	l, g, q := &f.l, &f.g, &f.q
	volume := 1.0
	for i, s := range c.Soft {
		a := &l[i]
		for j := 0; j <= i; j++ {
			v, b := d.product(s.Col, c.Soft[j].Col)/s2, &l[j]
			for k, x := range a[:j] {
				v -= x * b[k]
			}
			if j < i {
				a[j] = v / b[j]
				continue
			}
			a[i] = math.Sqrt(math.Max(v+1/(s.SD*s.SD), 1e-300))
			volume *= a[i] * s.SD
		}
	}
	out.occam = -math.Log(volume)
	for i, s := range c.Soft {
		g[i] = d.proj[s.Col] / s2
	}
	lower := func(v *[maxSoft]float64) {
		for i := range n {
			x := v[i]
			for k, y := range l[i][:i] {
				x -= y * v[k]
			}
			v[i] = x / l[i][i]
		}
	}
	lower(g)
	out.base = -d.yy / s2 / 2
	for i := range n {
		out.base += g[i] * g[i] / 2
	}
	hard := [2]*Hard{c.A, c.B}
	for h, x := range hard {
		if x == nil {
			continue
		}
		for i, s := range c.Soft {
			q[h][i] = d.product(x.Col, s.Col) / s2
		}
		lower(&q[h])
		out.r[h] = d.proj[x.Col] / s2
		for i := range n {
			out.r[h] -= q[h][i] * g[i]
		}
		for k := 0; k <= h; k++ {
			if hard[k] == nil {
				continue
			}
			v := d.product(x.Col, hard[k].Col) / s2
			for i := range n {
				v -= q[h][i] * q[k][i]
			}
			out.m[h][k], out.m[k][h] = v, v
		}
	}
	if n > 0 {
		var e [maxSoft]float64
		e[0] = 1
		lower(&e)
		for i := range n {
			out.sd += e[i] * e[i]
		}
		out.sd = math.Sqrt(out.sd)
		for i := range n { // the first row of P⁻¹ = (L⁻¹)ᵀ L⁻¹
			out.at += e[i] * g[i]
			out.by[0] += e[i] * q[0][i]
			out.by[1] += e[i] * q[1][i]
		}
	}
	for h := range hard {
		if out.m[h][h] <= 0 { // absent, or a column that the readings do not see
			out.m[h][h] = 0
			out.m[0][1], out.m[1][0] = 0, 0
		}
	}
	out.mx = out.mode()
	out.peak = out.like(out.mx[0], out.mx[1])
	if n > 0 && c.Soft[0].Sign != 0 {
		if m := c.Soft[0].Sign * out.first(out.mx[0], out.mx[1]); m < 0 {
			out.peak -= m * m / (out.sd * out.sd) / 2
		}
	}
	return out
}

// soft are the n nuisance coefficients at (a, b).
func (f *factor) soft(n int, a, b float64) []float64 {
	s := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		s[i] = f.g[i] - f.q[0][i]*a - f.q[1][i]*b
		for k := i + 1; k < n; k++ {
			s[i] -= f.l[k][i] * s[k]
		}
		s[i] /= f.l[i][i]
	}
	return s
}

// like is the log-likelihood of (a, b).
func (r *reduced) like(a, b float64) float64 {
	return r.base + r.r[0]*a + r.r[1]*b - (r.m[0][0]*a*a+2*r.m[0][1]*a*b+r.m[1][1]*b*b)/2
}

// mode is the most likely (a, b) with both zero or above.
func (r *reduced) mode() [2]float64 {
	one := func(h int) (x [2]float64) {
		if r.m[h][h] > 0 {
			x[h] = math.Max(0, r.r[h]/r.m[h][h])
		}
		return x
	}
	if det := r.m[0][0]*r.m[1][1] - r.m[0][1]*r.m[0][1]; det > 1e-12*r.m[0][0]*r.m[1][1] {
		a := (r.r[0]*r.m[1][1] - r.r[1]*r.m[0][1]) / det
		b := (r.r[1]*r.m[0][0] - r.r[0]*r.m[0][1]) / det
		if a >= 0 && b >= 0 {
			return [2]float64{a, b}
		}
	}
	a, b := one(0), one(1)
	if r.like(a[0], a[1]) >= r.like(b[0], b[1]) {
		return a
	}
	return b
}

// sign is the share of the first nuisance coefficient's distribution on the side where it must lie, times two, the density
// of a half-normal prior over that of a normal one.
func (r *reduced) sign(s, a, b float64) float64 {
	return math.Erfc(-s * r.first(a, b) / r.sd / math.Sqrt2)
}

// first is the mean of the first nuisance coefficient.
func (r *reduced) first(a, b float64) float64 { return r.at - r.by[0]*a - r.by[1]*b }
