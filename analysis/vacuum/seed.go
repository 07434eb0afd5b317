package vacuum

import (
	"math"
	"slices"
)

// scales are the numbers of blocks before the change that are looked at.
var scales = [...]int{6, 12, 24, 48}

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
