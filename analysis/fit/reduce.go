package fit

import "math"

// MostSoft is the most nuisance columns that a candidate can have.
const MostSoft = 13

// reduced is a candidate with its nuisance integrated out: the log-likelihood of the coefficients of interest is
//
//	base + r·h - h·A·h/2,  h = (a, b)
type reduced struct {
	base  float64
	r     [2]float64
	m     [2][2]float64 // A
	peak  float64       // the greatest log-likelihood with a, b >= 0, without the Occam factor of the nuisance
	at    float64       // the last nuisance coefficient is at - by·h
	by    [2]float64
	sd    float64 // its standard deviation, given h
	n     int
	occam float64
	mx    [2]float64
}

// Nuisance is a set of nuisance columns integrated out of the readings. With P = G_ss + 1/SD² it holds P = L Lᵀ, L⁻¹ g_s and, for the columns of
// interest that were seen last, L⁻¹ G_sh. Back substitution begins with the last coefficient, which is therefore at hand.
type Nuisance struct {
	d      *Design
	soft   []Soft
	s2     float64
	l      [MostSoft][MostSoft]float64
	over   [MostSoft]float64 // 1 over the diagonal of L
	g      [MostSoft]float64
	q      [2][MostSoft]float64
	col    [2]int  // the columns of q, -1 none
	common reduced // what does not depend on the columns of interest
}

// Integrate takes the nuisance out of readings whose variance is s2 over the weights. Many candidates that share it are
// solved faster by [Nuisance.Solve].
func (d *Design) Integrate(soft []Soft, s2 float64) *Nuisance {
	f := new(Nuisance)
	f.integrate(d, soft, s2)
	return f
}

func (f *Nuisance) integrate(d *Design, soft []Soft, s2 float64) {
	f.d, f.soft, f.s2, f.col, f.q = d, soft, s2, [2]int{-1, -1}, [2][MostSoft]float64{}
	n, c := len(soft), &f.common
	*c = reduced{n: n, base: -d.yy / s2 / 2}
	volume, weight := 1.0, 1/s2
	for i, s := range soft {
		a := &f.l[i]
		for j := 0; j <= i; j++ {
			v, b := d.product(s.Col, soft[j].Col)*weight, f.l[j][:j]
			for k, x := range a[:len(b)] {
				v -= x * b[k]
			}
			if j < i {
				a[j] = v * f.over[j]
				continue
			}
			a[i] = math.Sqrt(max(v+1/(s.SD*s.SD), 1e-300))
			f.over[i] = 1 / a[i]
			volume *= a[i] * s.SD
		}
		f.g[i] = d.proj[s.Col] * weight
	}
	c.occam = -math.Log(volume)
	f.lower(&f.g)
	for _, x := range f.g[:n] {
		c.base += x * x / 2
	}
	if n > 0 {
		c.sd = f.over[n-1]
		c.at = f.over[n-1] * f.g[n-1]
	}
}

// lower solves L x = v in place.
func (f *Nuisance) lower(v *[MostSoft]float64) {
	for i := range f.soft {
		x, row, before := v[i], f.l[i][:i], v[:i]
		for k, y := range row {
			x -= y * before[k]
		}
		v[i] = x * f.over[i]
	}
}

// reduce does the rest of the normal algebra: A = G_hh - G_hs P⁻¹ G_sh and r = g_h - G_hs P⁻¹ g_s.
func (f *Nuisance) reduce(a, b *Hard) reduced {
	out, d, n, weight := f.common, f.d, len(f.soft), 1/f.s2
	hard := [2]*Hard{a, b}
	for h, x := range hard {
		if x == nil {
			continue
		}
		q := &f.q[h]
		if f.col[h] != x.Col {
			f.col[h] = x.Col
			for i, s := range f.soft {
				q[i] = d.product(x.Col, s.Col) * weight
			}
			f.lower(q)
		}
		out.r[h] = d.proj[x.Col] * weight
		for i := range n {
			out.r[h] -= q[i] * f.g[i]
		}
		if n > 0 {
			out.by[h] = q[n-1] * f.over[n-1]
		}
		for k := 0; k <= h; k++ {
			if hard[k] == nil {
				continue
			}
			v := d.product(x.Col, hard[k].Col) * weight
			for i := range n {
				v -= q[i] * f.q[k][i]
			}
			out.m[h][k], out.m[k][h] = v, v
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
	if n > 0 && f.soft[n-1].Sign != 0 {
		if m := f.soft[n-1].Sign * out.last(out.mx[0], out.mx[1]); m < 0 {
			out.peak -= m * m / (out.sd * out.sd) / 2
		}
	}
	return out
}

// Solve finds the most likely coefficients of the columns of interest; nil is none.
func (f *Nuisance) Solve(a, b *Hard) Solution {
	r := f.reduce(a, b)
	return r.solution()
}

func (r *reduced) solution() Solution {
	v := r.m[0][0]
	if r.mx[1] > 0 && r.m[1][1] > 0 {
		v -= r.m[0][1] * r.m[0][1] / r.m[1][1]
	}
	out := Solution{A: r.mx[0], B: r.mx[1], LogLike: r.peak, Variance: 1 / max(v, 1e-30)}
	if r.n > 0 {
		out.Last = r.last(out.A, out.B)
	}
	return out
}

// coefficients are those of the nuisance at (a, b) of the columns of interest that were seen last.
func (f *Nuisance) coefficients(a, b float64) []float64 {
	n := len(f.soft)
	s := make([]float64, n)
	for i := n - 1; i >= 0; i-- {
		s[i] = f.g[i] - f.q[0][i]*a - f.q[1][i]*b
		for k := i + 1; k < n; k++ {
			s[i] -= f.l[k][i] * s[k]
		}
		s[i] *= f.over[i]
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
			x[h] = max(0, r.r[h]/r.m[h][h])
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

// sign is the share of the last nuisance coefficient's distribution on the side where it must lie, times two, the density
// of a half-normal prior over that of a normal one.
func (r *reduced) sign(s, a, b float64) float64 {
	return math.Erfc(-s * r.last(a, b) / r.sd / math.Sqrt2)
}

// last is the mean of the last nuisance coefficient.
func (r *reduced) last(a, b float64) float64 { return r.at - r.by[0]*a - r.by[1]*b }
