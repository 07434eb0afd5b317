package fit

import (
	"math"

	"gonum.org/v1/gonum/mat"
)

// linear returns the weighted least-squares coefficients of y on the columns and the residual sum of squares
// Σ (w_i (y_i - Σ c_j φ_ij))². A coefficient whose bounded flag is set is kept at zero or above: of all sets of active
// bounds the feasible one with the least RSS wins, which is exact and cheap for the few bounds that occur here.
// Columns that do not add anything (all zero, or dependent) get a zero coefficient.
func linear(cols [][]float64, y, w []float64, bounded []bool) (c []float64, rss float64) {
	best := math.Inf(1)
	for mask := 0; mask < 1<<len(cols); mask++ {
		if !validMask(mask, bounded, len(cols)) {
			continue
		}
		trial, r := solve(cols, y, w, mask)
		if r < best*(1-1e-14) && feasible(trial, bounded) {
			best, c = r, trial
		}
	}
	return c, best
}

// validMask reports whether only bounded coefficients are held at zero by mask.
func validMask(mask int, bounded []bool, n int) bool {
	for j := range n {
		if mask>>j&1 == 1 && (j >= len(bounded) || !bounded[j]) {
			return false
		}
	}
	return true
}

func feasible(c []float64, bounded []bool) bool {
	for j, b := range bounded {
		if b && c[j] < 0 {
			return false
		}
	}
	return true
}

// solve is unconstrained weighted least squares on the columns that mask leaves free.
func solve(cols [][]float64, y, w []float64, mask int) ([]float64, float64) {
	c := make([]float64, len(cols))
	var free []int
	for j := range cols {
		if mask>>j&1 == 0 && norm(cols[j], w) > 0 {
			free = append(free, j)
		}
	}
	if len(free) > 0 && len(free) <= len(y) {
		a := mat.NewDense(len(y), len(free), nil)
		b := mat.NewVecDense(len(y), nil)
		scale := make([]float64, len(free))
		for k, j := range free {
			scale[k] = norm(cols[j], w)
			for i := range y {
				a.Set(i, k, cols[j][i]*weight(w, i)/scale[k])
			}
		}
		for i := range y {
			b.SetVec(i, y[i]*weight(w, i))
		}
		var qr mat.QR
		qr.Factorize(a)
		var x mat.VecDense
		if err := qr.SolveVecTo(&x, false, b); err == nil || qr.Cond() < 1e15 {
			for k, j := range free {
				c[j] = x.AtVec(k) / scale[k]
			}
		}
	}
	return c, sumSquares(cols, y, w, c)
}

func sumSquares(cols [][]float64, y, w, c []float64) (rss float64) {
	for i := range y {
		r := y[i]
		for j := range cols {
			r -= c[j] * cols[j][i]
		}
		r *= weight(w, i)
		rss += r * r
	}
	return rss
}

func norm(col, w []float64) float64 {
	s := 0.0
	for i, v := range col {
		v *= weight(w, i)
		s += v * v
	}
	return math.Sqrt(s)
}

func weight(w []float64, i int) float64 {
	if w == nil {
		return 1
	}
	return w[i]
}
