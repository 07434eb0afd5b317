package fit

import (
	"math"
	"testing"
)

// TestLastDigits: another machine may fuse a multiplication with an addition, and its last digits differ. What is reported must not
// hang on them, above all where a coefficient is at its bound and a range ends exactly where the likelihood has fallen far enough.
func TestLastDigits(t *testing.T) {
	const rows = 60
	w, line, curve := make([]float64, rows), make([]float64, rows), make([]float64, rows)
	for i := range w {
		x := float64(i) / (rows - 1)
		w[i], line[i], curve[i] = 4, x, -math.Expm1(-3*x)
	}
	for trial := range 40 {
		y, moved := make([]float64, rows), make([]float64, rows)
		for i, x := range line {
			y[i] = 50 + 10*x + 5*x*x + math.Sin(float64(i*(trial+3)))/2 // bends upwards: no curve that levels off
			moved[i] = y[i] * (1 + 1e-14*math.Cos(float64(i*trial)))
		}
		leak, moist := &Hard{Col: 0, Small: 0.4, Large: 2000}, &Hard{Col: 1, Small: 0.4, Large: 2000}
		average := func(y []float64) []Particle {
			return NewDesign(y, w, [][]float64{line, curve}).Average([]Candidate{{A: leak, B: moist, Prior: 1}}, 1).Particles
		}
		a, b := average(y), average(moved)
		if len(a) != len(b) {
			t.Fatalf("trial %d: %d and %d particles", trial, len(a), len(b))
		}
		for i := range a {
			if d := math.Abs(a[i].A-b[i].A) / a[i].A; d > 1e-9 {
				t.Fatalf("trial %d: a coefficient of %v becomes %v, a part of %.1e more or less", trial, a[i].A, b[i].A, d)
			}
		}
	}
}

// TestLevel: readings that are all the same show nothing at all, and not what is left of rounding.
func TestLevel(t *testing.T) {
	const rows = 23
	y, w, line := make([]float64, rows), make([]float64, rows), make([]float64, rows)
	for i := range y {
		y[i], w[i], line[i] = 6.66611937, 3+math.Sin(float64(i)), float64(i)/(rows-1)
	}
	d := NewDesign(y, w, [][]float64{line, {1, rows - 1: 0}})
	x := d.Solve(Candidate{A: &Hard{Col: 0, Small: 0.4, Large: 2000}, Soft: []Soft{{Col: 1, SD: 1}}, Prior: 1}, 1)
	if x.A != 0 || x.Last != 0 || x.LogLike != 0 {
		t.Errorf("a level hold has the inflow %v, the transient %v and the logarithm of the likelihood %v", x.A, x.Last, x.LogLike)
	}
}
