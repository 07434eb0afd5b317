package fit

import (
	"math"
	"testing"
)

// line is a design for readings of 1 + 2 x + 3 x² at x = 0, 0.1 .. 1 with standard deviation 0.1, with columns x, x², exp(-x).
func line() *Design {
	var y, w []float64
	cols := make([][]float64, 3)
	for i := range 11 {
		x := float64(i) / 10
		y, w = append(y, 1+2*x+3*x*x), append(w, 100)
		for k, v := range []float64{x, x * x, math.Exp(-x)} {
			cols[k] = append(cols[k], v)
		}
	}
	return NewDesign(y, w, cols)
}

// TestEffects: with a free x² beside a line of interest the coefficient of x² is 3 less nothing where the line's is 2, and the two shift
// against each other as in least squares: by hand, the regression of x on x² about their means has the slope
// Σ(x-x̄)(x²-m)/Σ(x²-m)² = 1.1/1.1858 for x = 0, 0.1 .. 1. Its variance is 0.1²/1.1858.
func TestEffects(t *testing.T) {
	d := line()
	c := Candidate{A: &Hard{Col: 0, Small: 1, Large: 10}, Soft: []Soft{{Col: 1, SD: 1e4}}}
	e := d.Effects(c, 1, []float64{1}, []float64{10})
	if got := e[0].At + 2*e[0].ByA; math.Abs(got-3) > 1e-6 {
		t.Errorf("coefficient %g, want 3", got)
	}
	if want := -1.1 / 1.1858; math.Abs(e[0].ByA-want) > 1e-4 {
		t.Errorf("by a %g, want %g", e[0].ByA, want)
	}
	if want := 0.01 / 1.1858; math.Abs(e[0].Variance/want-1) > 1e-3 {
		t.Errorf("variance %g, want %g", e[0].Variance, want)
	}
	if math.Abs(e[1].At/e[0].At-10) > 1e-9 || math.Abs(e[1].Variance/e[0].Variance-100) > 1e-9 {
		t.Error("ten times the factor")
	}
}

// TestShared: candidates that share their nuisance give the same in any order as each by itself.
func TestShared(t *testing.T) {
	d := line()
	soft := []Soft{{Col: 2, SD: 0.5}}
	x, xx := &Hard{Col: 0, Small: 1, Large: 10}, &Hard{Col: 1, Small: 1, Large: 10}
	n := d.Integrate(soft, 1)
	for _, p := range [][2]*Hard{{x, nil}, {x, xx}, {nil, xx}, {xx, x}, {nil, nil}, {x, xx}} {
		got, want := n.Solve(p[0], p[1]), d.Solve(Candidate{A: p[0], B: p[1], Soft: soft}, 1)
		if got != want {
			t.Errorf("shared %+v, alone %+v", got, want)
		}
	}
}
