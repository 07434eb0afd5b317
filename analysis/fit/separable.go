package fit

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// Problem is a separable least-squares problem.
type Problem struct {
	X, Y []float64 // equal lengths
	W    []float64 // 1/standard deviation of each Y; nil means all 1

	// Basis fills column j with φ_j(x_i; θ). It must be smooth in θ and must not keep cols.
	Basis       func(theta, x []float64, cols [][]float64)
	Terms       int         // number of columns
	NonNegative []bool      // by column; nil leaves all free
	Grid        [][]float64 // for each θ its trial values, ascending and positive; none for a linear problem
	Ascending   bool        // the θ are interchangeable: try only θ1 < θ2 < ...
}

// Fit is the solution of a Problem.
type Fit struct {
	Linear, Nonlinear     []float64 // c and θ
	LinearSD, NonlinearSD []float64 // standard deviations, +Inf where the data say nothing
	RSS                   float64   // weighted residual sum of squares
	DOF                   int       // n - len(Linear) - len(Nonlinear)
}

// ErrFew is returned for fewer points than parameters.
var ErrFew = errors.New("fewer readings than parameters")

// ErrNotFinite is returned when a coordinate or weight is NaN or infinite.
var ErrNotFinite = errors.New("a reading is not a finite number")

// polished is the number of grid points from which the search goes on.
const polished = 3

// Fit solves the problem. It returns ErrFew or ErrNotFinite when the data do not allow it.
func (p Problem) Fit() (Fit, error) {
	if len(p.Y) <= p.Terms+len(p.Grid) {
		return Fit{}, ErrFew
	}
	for i := range p.Y {
		if s := p.X[i] + p.Y[i] + weight(p.W, i); math.IsNaN(s) || math.IsInf(s, 0) {
			return Fit{}, ErrNotFinite
		}
	}
	v := newProjection(p)
	best := Fit{RSS: math.Inf(1)}
	for _, theta := range v.starts() {
		theta, rss := v.polish(theta)
		if rss < best.RSS {
			best.RSS, best.Nonlinear = rss, theta
		}
	}
	best.Linear, best.RSS = v.at(best.Nonlinear)
	best.DOF = len(p.Y) - p.Terms - len(p.Grid)
	v.deviations(&best)
	return best, nil
}

// projection evaluates the problem with the linear parameters solved for.
type projection struct {
	Problem
	cols [][]float64
}

func newProjection(p Problem) *projection { return &projection{p, columns(p.Terms, len(p.Y))} }

func columns(n, rows int) [][]float64 {
	c := make([][]float64, n)
	for j := range c {
		c[j] = make([]float64, rows)
	}
	return c
}

func (v *projection) at(theta []float64) (c []float64, rss float64) {
	v.Basis(theta, v.X, v.cols)
	return linear(v.cols, v.Y, v.W, v.NonNegative)
}

// starts returns the grid points with the smallest RSS.
func (v *projection) starts() [][]float64 {
	type point struct {
		theta []float64
		rss   float64
	}
	var all []point
	theta := make([]float64, len(v.Grid))
	var walk func(k int)
	walk = func(k int) {
		if k == len(theta) {
			_, rss := v.at(theta)
			all = append(all, point{slices.Clone(theta), rss})
			return
		}
		for _, x := range v.Grid[k] {
			if v.Ascending && k > 0 && x <= theta[k-1] {
				continue
			}
			theta[k] = x
			walk(k + 1)
		}
	}
	walk(0)
	slices.SortStableFunc(all, func(a, b point) int {
		switch {
		case a.rss < b.rss:
			return -1
		case a.rss > b.rss:
			return 1
		}
		return 0
	})
	var out [][]float64
	for _, a := range all[:min(polished, len(all))] {
		out = append(out, a.theta)
	}
	return out
}

// polish walks downhill from theta by damped Gauss-Newton steps in ln θ on the projected residual.
func (v *projection) polish(theta []float64) ([]float64, float64) {
	k, n := len(theta), len(v.Y)
	r, rss := v.residual(theta)
	for damp, step := 1e-3, 0; step < 200 && k > 0; step++ {
		jac := mat.NewDense(n, k, nil)
		for j := range k {
			const h = 1e-5
			up, dn := slices.Clone(theta), slices.Clone(theta)
			up[j] *= math.Exp(h)
			dn[j] *= math.Exp(-h)
			ru, _ := v.residual(up)
			rd, _ := v.residual(dn)
			for i := range n {
				jac.Set(i, j, (ru[i]-rd[i])/(2*h))
			}
		}
		next, moved := v.step(theta, r, rss, jac, &damp)
		if next == nil {
			break
		}
		theta = next
		r, rss = v.residual(theta)
		if moved < 1e-13 {
			break
		}
	}
	return theta, rss
}

// step tries damped steps until one does not raise the RSS; nil when none does.
func (v *projection) step(theta, r []float64, rss float64, jac *mat.Dense, damp *float64) ([]float64, float64) {
	k := len(theta)
	var jtj mat.Dense
	jtj.Mul(jac.T(), jac)
	var g mat.VecDense
	g.MulVec(jac.T(), mat.NewVecDense(len(r), r))
	for ; *damp < 1e12; *damp *= 8 {
		a := mat.DenseCopyOf(&jtj)
		for j := range k {
			a.Set(j, j, a.At(j, j)*(1+*damp)+1e-300)
		}
		var d mat.VecDense
		if err := d.SolveVec(a, &g); err != nil {
			continue
		}
		next, moved := slices.Clone(theta), 0.0
		for j := range k {
			s := math.Max(-1, math.Min(1, -d.AtVec(j)))
			next[j] = clamp(theta[j]*math.Exp(s), v.Grid[j])
			moved = math.Max(moved, math.Abs(math.Log(next[j]/theta[j])))
		}
		if _, try := v.residual(next); try <= rss {
			*damp = math.Max(*damp/32, 1e-14)
			return next, moved
		}
	}
	return nil, 0
}

// clamp keeps θ within a factor of ten of its grid: beyond it the data no longer know it.
func clamp(x float64, grid []float64) float64 {
	return math.Max(grid[0]/10, math.Min(grid[len(grid)-1]*10, x))
}

func (v *projection) residual(theta []float64) ([]float64, float64) {
	c, rss := v.at(theta)
	r := make([]float64, len(v.Y))
	for i := range r {
		r[i] = v.Y[i]
		for j := range c {
			r[i] -= c[j] * v.cols[j][i]
		}
		r[i] *= weight(v.W, i)
	}
	return r, rss
}

// deviations fills the standard deviations from the Jacobian of the whole model.
func (v *projection) deviations(f *Fit) {
	n, p := len(v.Y), v.Terms+len(v.Grid)
	jac := mat.NewDense(n, p, nil)
	v.Basis(f.Nonlinear, v.X, v.cols)
	for j, col := range v.cols {
		for i := range n {
			jac.Set(i, j, col[i]*weight(v.W, i))
		}
	}
	for k := range v.Grid {
		const h = 1e-5
		up, dn := slices.Clone(f.Nonlinear), slices.Clone(f.Nonlinear)
		up[k] *= 1 + h
		dn[k] *= 1 - h
		cu, cd := columns(v.Terms, n), columns(v.Terms, n)
		v.Basis(up, v.X, cu)
		v.Basis(dn, v.X, cd)
		for i := range n {
			d := 0.0
			for j, c := range f.Linear {
				d += c * (cu[j][i] - cd[j][i])
			}
			jac.Set(i, v.Terms+k, d*weight(v.W, i)/(2*h*f.Nonlinear[k]))
		}
	}
	sd := deviations(jac, f.RSS/float64(f.DOF))
	f.LinearSD, f.NonlinearSD = sd[:v.Terms], sd[v.Terms:]
}

// deviations returns the square roots of the diagonal of s² (JᵀJ)⁻¹, through the triangular factor of J with its columns
// scaled to length one, so that no digits are lost in forming JᵀJ.
func deviations(jac *mat.Dense, s2 float64) []float64 {
	n, p := jac.Dims()
	scale := make([]float64, p)
	for j := range p {
		scale[j] = mat.Norm(jac.ColView(j), 2)
		if scale[j] == 0 {
			scale[j] = 1
		}
		for i := range n {
			jac.Set(i, j, jac.At(i, j)/scale[j])
		}
	}
	var qr mat.QR
	qr.Factorize(jac)
	sd := make([]float64, p)
	var r, inv mat.Dense
	qr.RTo(&r)
	err := inv.Inverse(r.Slice(0, p, 0, p))
	for j := range p {
		sd[j] = math.Inf(1)
		if err == nil {
			sd[j] = math.Sqrt(s2) * mat.Norm(inv.RowView(j), 2) / scale[j]
		}
	}
	return sd
}
