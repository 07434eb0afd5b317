package fit

import "math"

// strata stand for sixteen equally likely parts of the standard normal distribution: their means, all times one factor that makes the
// variance 1.
var strata = [...]float64{-1.9900, -1.3409, -1.0243, -0.7867, -0.5865, -0.4073, -0.2401, -0.0794,
	0.0794, 0.2401, 0.4073, 0.5865, 0.7867, 1.0243, 1.3409, 1.9900}

// Blur divides every value by 1 + e, where e is a normal error with the relative standard uncertainty u, and adds another with the
// standard uncertainty sd; values stay at zero or above. It makes sixteen values of one: see [Gather].
func Blur(v []Weighted, u, sd float64) []Weighted {
	const n = len(strata)
	out := make([]Weighted, 0, n*len(v))
	for i, x := range v {
		for k, z := range strata {
			y := strata[(5*k+i)%n]
			out = append(out, Weighted{max(0, x.X/max(1+u*z, 0.2)+sd*y), x.Weight / float64(n)})
		}
	}
	return out
}

// heaps is the number of values that [Gather] leaves at most.
const heaps = 256

// Gather puts values, which are zero or above, that lie close together into one with their mean and the sum of their weights; closer near
// zero. Zeros stay by themselves.
func Gather(v []Weighted) []Weighted {
	if len(v) <= heaps {
		return v
	}
	top := 0.0
	for _, x := range v {
		top = max(top, x.X)
	}
	var heap [heaps]Weighted
	for _, x := range v {
		i := 0
		if x.X > 0 {
			i = 1 + min(int(math.Sqrt(x.X/top)*(heaps-1)), heaps-2)
		}
		heap[i].X += x.X * x.Weight
		heap[i].Weight += x.Weight
	}
	out := make([]Weighted, 0, heaps)
	for _, h := range heap {
		if h.Weight > 0 {
			out = append(out, Weighted{h.X / h.Weight, h.Weight})
		}
	}
	return out
}
