package fit

import (
	"math"

	"gonum.org/v1/gonum/floats"
)

// Design is a linear model's columns seen through the readings' weights, with a free constant taken out: everything that
// [Design.Average] needs of the data.
type Design struct {
	flat [][]float64 // the columns, weighted, their means taken out
	gram [][]float64 // inner products of the columns, NaN until asked for
	proj []float64   // inner products with the readings
	yy   float64
	mean []float64 // weighted means of the columns
	ym   float64
	rows int
}

// rounding is the part of the mean by which readings that are all the same may differ from it.
const rounding = 1e-13

// NewDesign prepares the columns for the readings y with weights w = 1/u². All columns have len(y) rows.
func NewDesign(y, w []float64, cols [][]float64) *Design {
	d := &Design{gram: columns(len(cols), len(cols)), proj: make([]float64, len(cols)), mean: make([]float64, len(cols)), rows: len(y)}
	sum, root := 0.0, make([]float64, len(y))
	for i := range y {
		sum += w[i]
		d.ym += w[i] * y[i]
		root[i] = math.Sqrt(w[i])
	}
	d.ym /= sum
	d.flat = columns(len(cols), len(y))
	res := make([]float64, len(y))
	for i := range y {
		if e := y[i] - d.ym; math.Abs(e) > rounding*math.Abs(d.ym) {
			res[i] = e * root[i]
		}
		d.yy += res[i] * res[i]
	}
	for j, c := range cols {
		mean := floats.Dot(w, c) / sum
		d.mean[j] = mean
		flat := d.flat[j]
		for i, x := range c {
			flat[i] = (x - mean) * root[i]
		}
		d.proj[j] = floats.Dot(flat, res)
		row := d.gram[j]
		for k := range row {
			row[k] = math.NaN()
		}
	}
	return d
}

// product is the inner product of two columns.
func (d *Design) product(j, k int) float64 {
	if v := d.gram[j][k]; v == v {
		return v
	}
	return d.multiply(j, k)
}

// multiply works out a product and keeps it.
func (d *Design) multiply(j, k int) float64 {
	v := floats.Dot(d.flat[j], d.flat[k])
	d.gram[j][k], d.gram[k][j] = v, v
	return v
}

// Soft is a nuisance column: its coefficient is normal about zero with standard deviation SD, or half-normal on the side
// of Sign. Only the last Soft of a candidate may have a Sign.
type Soft struct {
	Col  int
	SD   float64
	Sign float64 // -1, 0 or +1
}

// Hard is a column of interest: its coefficient x is zero or above, with the prior density
// 1/((x + Small) ln(1 + Large/Small)), level on a logarithmic scale between Small and Large and proper at zero.
type Hard struct {
	Col          int
	Small, Large float64
}

// Candidate is one shape of the curve: a free constant, at most two columns of interest, and nuisance columns.
type Candidate struct {
	A, B  *Hard
	Soft  []Soft
	Prior float64 // prior probability; need not be normalised
}

// Particle is one point of the averaged distribution: the coefficients of A and B of a candidate and their weight.
type Particle struct {
	Candidate int
	A, B      float64
	Weight    float64
}

// Averaged is what remains after all nuisance has been integrated out.
type Averaged struct {
	Particles []Particle // weights add up to 1
	Weight    []float64  // of each candidate, 0 where it was given up early
	Solved    []Solution // each candidate at its best
}

// giveUp is the logarithm of the ratio to the greatest, of prior and likelihood, below which a candidate no longer counts
// (e^-9 = 1e-4).
const giveUp = 9

// Average returns the distribution of the coefficients of interest over all candidates, for readings whose variance is s2
// over the weights. It is the exact integral over the nuisance coefficients (all normal) and a quadrature over the others.
func (d *Design) Average(cands []Candidate, s2 float64) Averaged {
	out := Averaged{Weight: make([]float64, len(cands)), Solved: make([]Solution, len(cands))}
	red := make([]reduced, len(cands))
	odds := make([]float64, len(cands)) // logarithms
	best, most := math.Inf(-1), math.Inf(-1)
	var f Nuisance
	for i, c := range cands {
		f.integrate(d, c.Soft, s2)
		red[i] = f.reduce(c.A, c.B)
		out.Solved[i] = red[i].solution()
		odds[i] = red[i].peak + red[i].occam + math.Log(c.Prior)
		best, most = max(best, red[i].peak), max(most, odds[i])
	}
	size := 0
	for i := range cands {
		if odds[i] >= most-giveUp {
			size += pointsA * pointsB
		}
	}
	out.Particles = make([]Particle, 0, size)
	sum := 0.0
	for i, c := range cands {
		if !(odds[i] >= most-giveUp) || c.Prior == 0 {
			continue
		}
		from := len(out.Particles)
		out.Particles = red[i].spread(out.Particles, i, c, best)
		for _, p := range out.Particles[from:] {
			out.Weight[i] += p.Weight
		}
		sum += out.Weight[i]
	}
	if sum == 0 { // nothing survived its bounds: the nearest candidate stands alone
		i := 0
		for k := range red {
			if red[k].peak > red[i].peak {
				i = k
			}
		}
		out.Particles = append(out.Particles[:0], Particle{i, red[i].mx[0], red[i].mx[1], 1})
		out.Weight[i], sum = 1, 1
	}
	out.Particles = kept(out.Particles, sum)
	for i := range out.Weight {
		out.Weight[i] /= sum
	}
	return out
}

// negligible is the share of the whole weight that all the particles together may have which are left out: most of a long
// list, since the quadrature covers each candidate widely.
const negligible = 5e-4

// kept returns the particles that matter, with weights that add up to 1; sum is that of all.
func kept(all []Particle, sum float64) []Particle {
	least := negligible * sum / float64(len(all))
	out, rest := all[:0], 0.0
	for _, p := range all {
		if p.Weight >= least {
			out = append(out, p)
			rest += p.Weight
		}
	}
	for i := range out {
		out[i].Weight /= rest
	}
	return out
}

// Coefficients returns the nuisance coefficients of a candidate, in the order of its Soft, and the constant, given the
// coefficients of interest.
func (d *Design) Coefficients(c Candidate, s2, a, b float64) (soft []float64, constant float64) {
	var f Nuisance
	f.integrate(d, c.Soft, s2)
	f.reduce(c.A, c.B)
	soft = f.coefficients(a, b)
	constant = d.ym
	for i, s := range c.Soft {
		constant -= soft[i] * d.mean[s.Col]
	}
	if c.A != nil {
		constant -= a * d.mean[c.A.Col]
	}
	if c.B != nil {
		constant -= b * d.mean[c.B.Col]
	}
	return soft, constant
}

// Solution is a candidate at its most likely coefficients.
type Solution struct {
	A, B     float64
	Last     float64 // the last nuisance coefficient
	LogLike  float64 // without the Occam factor of the nuisance
	Variance float64 // of A by the curvature of the likelihood, with B free where it is not at its bound; +Inf without A
}

// Solve finds the most likely coefficients of a candidate.
func (d *Design) Solve(c Candidate, s2 float64) Solution {
	var f Nuisance
	f.integrate(d, c.Soft, s2)
	return f.Solve(c.A, c.B)
}
