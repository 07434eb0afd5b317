package vacuum

import "math"

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
		if f[i] == 0 {
			continue
		}
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
