package fit

import (
	"math"
	"slices"
)

// Weighted is a value that counts Weight times.
type Weighted struct{ X, Weight float64 }

// Spread is the summary of a distribution.
type Spread struct{ Mean, Low, High float64 }

// Summarise returns the mean and the quantiles at (1-level)/2 and (1+level)/2 of the weighted values, which it sorts. The
// quantile runs straight between the middles of neighbouring weights; a weight that reaches a bound by itself keeps it.
func Summarise(v []Weighted, level float64) Spread {
	if len(v) == 0 {
		return Spread{math.NaN(), math.NaN(), math.NaN()}
	}
	slices.SortFunc(v, func(a, b Weighted) int {
		switch {
		case a.X < b.X:
			return -1
		case a.X > b.X:
			return 1
		}
		return 0
	})
	sum, mean := 0.0, 0.0
	for _, x := range v {
		sum += x.Weight
		mean += x.Weight * x.X
	}
	return Spread{mean / sum, quantile(v, sum*(1-level)/2), quantile(v, sum*(1+level)/2)}
}

// quantile returns the value at which the running weight of the sorted values reaches want.
func quantile(v []Weighted, want float64) float64 {
	run := 0.0
	for i, x := range v {
		mid := run + x.Weight/2
		if mid >= want {
			if i == 0 || x.X == v[i-1].X {
				return x.X
			}
			before := run - v[i-1].Weight/2
			return v[i-1].X + (x.X-v[i-1].X)*(want-before)/(mid-before)
		}
		run += x.Weight
	}
	return v[len(v)-1].X
}
