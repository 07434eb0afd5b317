package vacuum

import (
	"math"

	"dryhold/analysis/fit"
	"dryhold/analysis/quantity"
)

// fitted is the averaged fit of a hold.
type fitted struct {
	*hypotheses
	design *fit.Design
	fit.Averaged
	w    []float64
	s2   float64 // variance over weights, with correlation and small samples in it
	chi  float64 // the same without
	dof  float64
	rho  float64
	best int // the most likely candidate
}

// likely is the share of the weight that a transient must have in the first pass to be looked at in the second.
const likely = 0.04

// fitHold averages over all hypotheses for the block averages b. A first pass with one kind of store finds which
// equalisations are possible at all; the second takes these with every kind of store.
func fitHold(b rows, count []float64, nz noise, past before, ambient, volume float64) *fitted {
	f := &fitted{hypotheses: newHypotheses(b, past, ambient, volume), w: make([]float64, len(b.t))}
	for i := range f.w {
		f.w[i] = count[i] / nz.variance(math.Max(b.p[i], 0.5))
	}
	all := f.transients()
	f.average(all, true)
	share := map[transient]float64{}
	for i, k := range f.kinds {
		share[k.trans] += f.Weight[i]
	}
	var some []transient
	y := f.curve(f.best, f.s2)
	for _, t := range all {
		if share[t] > likely {
			if t.tau > 0 {
				t.lag, t.held = f.lagging(y, t.tau), [2]int{f.heldUp(t.tau / heldApart), f.heldUp(t.tau * heldApart)}
			}
			some = append(some, t)
		}
	}
	f.average(some, false)
	return f
}

func (f *fitted) average(trs []transient, coarse bool) {
	f.combine(trs, coarse)
	f.design = fit.NewDesign(f.b.p, f.w, f.cols)
	f.sift()
	f.Averaged = f.design.Average(f.cands, f.s2)
}

// scale finds the variance of the readings about the best candidate. Residuals that hang together, from the gauge or from
// a shape that is not quite right, raise it by (1+ρ)/(1-ρ), the factor by which they lower the number of independent
// readings; few readings raise it by the square of Student's factor over the normal one.
func (f *fitted) scale() {
	n := len(f.b.t)
	r := f.residuals(f.best)
	rss := 0.0
	for _, x := range r {
		rss += x * x
	}
	f.dof = math.Max(1, float64(n-f.parameters(f.best)))
	f.chi = rss / f.dof
	f.rho = 0
	if f.chi > smooth {
		f.rho = math.Min(math.Max(0, fit.Correlation(r)+1/float64(n)), 0.95)
	}
	f.s2 = math.Max(f.chi, 0.3) * (1 + f.rho) / (1 - f.rho) * square(student(f.dof)/quantity.K95)
}

// smooth is the variance of residuals, in units of the scatter that is assumed at least, below which they are not those of a gauge: they and
// their correlation hang on a machine's last digits.
const smooth = 1e-2

// parameters counts what a candidate takes from the data.
func (f *fitted) parameters(i int) int {
	k := 1
	if f.kinds[i].leak {
		k++
	}
	if f.kinds[i].moist {
		k += 2
	}
	if f.kinds[i].trans.tau > 0 {
		k += 2
	}
	return k
}

func (f *fitted) residuals(i int) []float64 {
	y := f.curve(i, 1)
	r := make([]float64, len(y))
	for k := range r {
		r[k] = (f.b.p[k] - y[k]) * math.Sqrt(f.w[k])
	}
	return r
}

// curve is candidate i at its most likely coefficients.
func (f *fitted) curve(i int, s2 float64) []float64 {
	c := f.cands[i]
	x := f.design.Solve(c, s2)
	a, b := x.A, x.B
	soft, constant := f.design.Coefficients(c, s2, a, b)
	y := make([]float64, len(f.b.t))
	for k := range y {
		y[k] = constant
		if c.A != nil {
			y[k] += a * f.cols[c.A.Col][k]
		}
		if c.B != nil {
			y[k] += b * f.cols[c.B.Col][k]
		}
		for j, s := range c.Soft {
			y[k] += soft[j] * f.cols[s.Col][k]
		}
	}
	return y
}

func square(x float64) float64 { return x * x }

// student is the 97.5 % point of Student's t, by the expansion in 1/ν of Abramowitz and Stegun 26.7.5; 1.96 for many.
func student(dof float64) float64 {
	const x = 1.959963984540054
	x2 := x * x
	g1 := x * (x2 + 1) / 4
	g2 := x * (5*x2*x2 + 16*x2 + 3) / 96
	g3 := x * (3*x2*x2*x2 + 19*x2*x2 + 17*x2 - 15) / 384
	d := math.Max(dof, 2)
	return x + g1/d + g2/(d*d) + g3/(d*d*d)
}
