package fit

import "math"

// Weighted is a value that counts Weight times.
type Weighted struct{ X, Weight float64 }

// Spread is the summary of a distribution.
type Spread struct{ Mean, Low, High float64 }

// Summarise returns the mean and the quantiles at (1-level)/2 and (1+level)/2 of the weighted values, which it reorders.
// The quantile runs straight between the middles of neighbouring weights; a weight that reaches a bound by itself keeps it.
func Summarise(v []Weighted, level float64) Spread {
	if len(v) == 0 {
		return Spread{math.NaN(), math.NaN(), math.NaN()}
	}
	sum, mean := 0.0, 0.0
	for _, x := range v {
		sum += x.Weight
		mean += x.Weight * x.X
	}
	return Spread{mean / sum, quantile(v, sum*(1-level)/2), quantile(v, sum*(1+level)/2)}
}

// Upper returns the High of [Summarise] alone.
func Upper(v []Weighted, level float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	sum := 0.0
	for _, x := range v {
		sum += x.Weight
	}
	return quantile(v, sum*(1+level)/2)
}

// quantile returns the value at which the running weight of the values in order reaches want. It sorts only the part of v
// around that place: each round puts the values below a pivot before those above it and goes on in the side that holds it.
func quantile(v []Weighted, want float64) float64 {
	lo, hi, run := 0, len(v), 0.0 // the place is in v[lo:hi]; run is the weight before lo
	for hi-lo > few {
		m := split(v[lo:hi])
		below := 0.0
		for _, x := range v[lo : lo+m] {
			below += x.Weight
		}
		if run+below > want {
			hi = lo + m
		} else {
			lo, run = lo+m, run+below
		}
	}
	// The neighbours on either side can be in the parts that were set aside.
	part := make([]Weighted, 0, few+2)
	if lo > 0 {
		x := greatest(v[:lo])
		part, run = append(part, x), run-x.Weight
	}
	part = append(part, v[lo:hi]...)
	if hi < len(v) {
		part = append(part, least(v[hi:]))
	}
	order(part)
	return along(part, run, want)
}

// few is the length below which a part is sorted.
const few = 24

// split puts the values below a middle one first and returns how many they are, at least one and not all.
func split(v []Weighted) int {
	a, b, c := v[0].X, v[len(v)/2].X, v[len(v)-1].X
	pivot := max(min(a, b), min(max(a, b), c))
	i, k := 0, len(v)-1
	for {
		for v[i].X < pivot {
			i++
		}
		for v[k].X > pivot {
			k--
		}
		if i >= k {
			break
		}
		v[i], v[k] = v[k], v[i]
		i++
		k--
	}
	return min(max(i, 1), len(v)-1)
}

func greatest(v []Weighted) Weighted {
	g := v[0]
	for _, x := range v[1:] {
		if x.X > g.X {
			g = x
		}
	}
	return g
}

func least(v []Weighted) Weighted {
	g := v[0]
	for _, x := range v[1:] {
		if x.X < g.X {
			g = x
		}
	}
	return g
}

// order sorts a short part.
func order(v []Weighted) {
	for i := 1; i < len(v); i++ {
		for k := i; k > 0 && v[k].X < v[k-1].X; k-- {
			v[k], v[k-1] = v[k-1], v[k]
		}
	}
}

// along is the quantile within the sorted values, before which the running weight is run.
func along(v []Weighted, run, want float64) float64 {
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
