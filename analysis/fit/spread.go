package fit

import "math"

// Points of the quadrature: along A, and along B for each of them.
const (
	pointsA = 8
	pointsB = 5
)

// spread appends the particles of candidate c: weights relative to exp(best).
func (r *reduced) spread(out []Particle, index int, c Candidate, best float64) []Particle {
	prior := c.Prior / (c.A.span() * c.B.span())
	add := func(a, b, width float64) float64 {
		w := prior * width * math.Exp(r.like(a, b)+r.occam-best) * c.A.density(a) * c.B.density(b)
		if r.n > 0 && c.Soft[r.n-1].Sign != 0 {
			w *= r.sign(c.Soft[r.n-1].Sign, a, b)
		}
		if w > 0 {
			out = append(out, Particle{index, a, b, w})
		}
		return w
	}
	both := func(a, width float64) {
		if c.B == nil {
			add(a, 0, width)
			return
		}
		lo, hi := bracket((r.r[1] - r.m[0][1]*a), r.m[1][1], c.B.Large)
		grid(lo, hi, pointsB, func(b, w float64) { add(a, b, width*w) })
	}
	if c.A == nil {
		both(0, 1)
		return out
	}
	lo, hi := r.rangeA(c)
	grid(lo, hi, pointsA, both)
	return out
}

// density is the prior density of x times [Hard.span]; a missing column has none.
func (h *Hard) density(x float64) float64 {
	if h == nil {
		return 1
	}
	return 1 / (x + h.Small)
}

// span is the logarithm of the range in which the density is level.
func (h *Hard) span() float64 {
	if h == nil {
		return 1
	}
	return math.Log1p(h.Large / h.Small)
}

// drop is the fall of the log-likelihood at which a range ends.
const drop = 9

// bracket returns the range of x >= 0 within which r x - m x²/2 is less than drop below its greatest value there.
func bracket(r, m, most float64) (lo, hi float64) {
	if m <= 0 {
		return 0, most
	}
	mu := r / m
	w := math.Sqrt(2 * drop / m)
	if mu > 0 {
		return max(0, mu-w), mu + w
	}
	return 0, mu + math.Sqrt(mu*mu+w*w)
}

// rangeA returns the range of a in which the likelihood, at the most likely b >= 0, is not negligible. That function is concave, and
// a parabola wherever b is free and wherever it is at its bound.
func (r *reduced) rangeA(c Candidate) (lo, hi float64) {
	if c.B == nil || r.m[1][1] <= 0 {
		return bracket(r.r[0], r.m[0][0], c.A.Large)
	}
	if r.m[0][0] <= 0 {
		return 0, c.A.Large
	}
	by, floor := r.m[0][1]/r.m[1][1], r.peak-drop
	free := parabola{r.base + r.r[1]*r.r[1]/r.m[1][1]/2 - floor, r.r[0] - r.r[1]*by, r.m[0][0] - r.m[0][1]*by}
	bound := parabola{r.base - floor, r.r[0], r.m[0][0]} // b = 0
	edge := func(side float64) float64 {
		if a := free.root(side, c.A.Large); r.r[1] >= r.m[0][1]*a { // b is not at its bound there
			return a
		}
		return bound.root(side, c.A.Large)
	}
	return max(0, edge(-1)), edge(1)
}

// parabola is the function height + slope x - curvature x²/2.
type parabola struct{ height, slope, curvature float64 }

// root is the place on a side of its top where it is zero; most, on that side, where it has no top.
func (p parabola) root(side, most float64) float64 {
	if p.curvature <= 0 {
		return side * most
	}
	return (p.slope + side*math.Sqrt(max(0, p.slope*p.slope+2*p.curvature*p.height))) / p.curvature
}

// grid calls f at n midpoints of [lo, hi] with their widths; they crowd at zero, where the prior is steep.
func grid(lo, hi float64, n int, f func(x, width float64)) {
	if lo > 0 {
		w := (hi - lo) / float64(n)
		for i := range n {
			f(lo+w*(float64(i)+0.5), w)
		}
		return
	}
	for i := range n {
		u, v := float64(i)/float64(n), float64(i+1)/float64(n)
		f(hi*(u*u+v*v)/2, hi*(v*v-u*u))
	}
}
