package fit

import "math"

// strata stand for sixteen equally likely parts of the standard normal distribution: their means, all times one factor that makes the
// variance 1.
var strata = [...]float64{-1.9900, -1.3409, -1.0243, -0.7867, -0.5865, -0.4073, -0.2401, -0.0794,
	0.0794, 0.2401, 0.4073, 0.5865, 0.7867, 1.0243, 1.3409, 1.9900}

// Blur divides every value by 1 + e, where e is a normal error with the relative standard uncertainty u, and adds another with the
// standard uncertainty sd; values stay at zero or above. It makes sixteen values of one: see [Heaps].
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

// heaps is the number of values that [Heaps] leaves at most.
const heaps = 256

// Heaps gathers weighted values, which are zero or above, so that those which lie close together become one, with their mean and the
// sum of their weights; closer near zero. Zeros stay by themselves.
type Heaps struct {
	scale float64
	heap  [heaps]Weighted
}

// NewHeaps is for values up to top.
func NewHeaps(top float64) *Heaps {
	h := new(Heaps)
	if top > 0 {
		h.scale = (heaps - 1) / math.Sqrt(top)
	}
	return h
}

// Add adds a value.
func (h *Heaps) Add(x, weight float64) {
	i := 0
	if x > 0 {
		i = 1 + min(int(math.Sqrt(x)*h.scale), heaps-2)
	}
	h.heap[i].X += x * weight
	h.heap[i].Weight += weight
}

// Values are the values gathered so far.
func (h *Heaps) Values() []Weighted {
	out := make([]Weighted, 0, heaps)
	for _, x := range h.heap {
		if x.Weight > 0 {
			out = append(out, Weighted{x.X / x.Weight, x.Weight})
		}
	}
	return out
}
