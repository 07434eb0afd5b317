package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestBlur: a normal error has the variance and the 97.5 % point of the normal distribution (1.960), which sixteen steps meet to 2 %. Dividing by
// 1 + e lengthens the upper side: by hand, 100/(1 - 0.05 · 1.96) = 110.9 and 100/(1 + 0.05 · 1.96) = 91.1.
func TestBlur(t *testing.T) {
	s := Summarise(Blur([]Weighted{{100, 1}}, 0.05, 0), 0.95)
	if math.Abs(s.High-110.9) > 0.3 || math.Abs(s.Low-91.1) > 0.3 || math.Abs(s.Mean-100) > 0.4 {
		t.Errorf("relative error: %+v", s)
	}
	s = Summarise(Blur([]Weighted{{100, 1}}, 0, 5), 0.95)
	if math.Abs(s.High-109.8) > 0.3 || math.Abs(s.Low-90.2) > 0.3 || math.Abs(s.Mean-100) > 1e-9 {
		t.Errorf("absolute error: %+v", s)
	}
	var square, mean float64
	both := Blur([]Weighted{{100, 2}}, 0.01, 5)
	for _, x := range both {
		mean += x.X * x.Weight / 2
		square += x.X * x.X * x.Weight / 2
	}
	if sd := math.Sqrt(square - mean*mean); math.Abs(sd-math.Hypot(1, 5)) > 0.2 { // the sixteen steps are paired, not all combined: 3 %
		t.Errorf("both errors: standard deviation %g, want %g", sd, math.Hypot(1, 5))
	}
	for _, x := range Blur([]Weighted{{0, 1}}, 0.1, 0) {
		if x.X != 0 {
			t.Error("a relative error moves zero")
		}
	}
}

// TestHeaps: sums and means stay, quantiles move by less than a heap is wide, zeros stay by themselves.
func TestHeaps(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 1))
	var v []Weighted
	for range 5000 {
		v = append(v, Weighted{r.ExpFloat64() * 100, r.Float64()}, Weighted{0, 0.2 * r.Float64()})
	}
	top := 0.0
	for _, x := range v {
		top = max(top, x.X)
	}
	h := NewHeaps(top)
	for _, x := range v {
		h.Add(x.X, x.Weight)
	}
	g := h.Values()
	if len(g) > heaps || len(g) < 50 {
		t.Fatalf("%d heaps", len(g))
	}
	var zero, zeroWant float64
	for _, x := range v {
		if x.X == 0 {
			zeroWant += x.Weight
		}
	}
	for _, x := range g {
		if x.X == 0 {
			zero += x.Weight
		}
	}
	if math.Abs(zero-zeroWant) > 1e-9 {
		t.Errorf("weight at zero %g, want %g", zero, zeroWant)
	}
	a, b := Summarise(g, 0.95), Summarise(v, 0.95)
	if math.Abs(a.Mean-b.Mean) > 1e-9 || math.Abs(a.High-b.High) > 0.01*b.High {
		t.Errorf("gathered %+v, want %+v", a, b)
	}
}
