package fit

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"
)

// TestSummariseAgainstSorting compares the selection with a full sort, whose
// definition the comment of Summarise states, on seeded lists.
func TestSummariseAgainstSorting(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 1))
	for range 400 {
		v := make([]Weighted, 1+r.IntN(500))
		for i := range v {
			v[i] = Weighted{r.NormFloat64(), r.ExpFloat64()}
		}
		sorted := slices.Clone(v)
		slices.SortFunc(sorted, func(a, b Weighted) int {
			if a.X < b.X {
				return -1
			} else if a.X > b.X {
				return 1
			}
			return 0
		})
		sum := 0.0
		for _, x := range v {
			sum += x.Weight
		}
		low, high := along(sorted, 0, 0.025*sum), along(sorted, 0, 0.975*sum)
		got := Summarise(v, 0.95)
		// Running weights that are added in another order differ in the last digits.
		if math.Abs(got.Low-low) > 1e-9 || math.Abs(got.High-high) > 1e-9 {
			t.Fatalf("n %d: got %v, want %v %v", len(v), got, low, high)
		}
	}
}

// TestSummariseOfANormal uses the normal distribution's own quantiles, ±1.959964.
func TestSummariseOfANormal(t *testing.T) {
	var v []Weighted
	for x := -8.0; x <= 8; x += 0.001 {
		v = append(v, Weighted{x, math.Exp(-x * x / 2)})
	}
	rand.New(rand.NewPCG(1, 1)).Shuffle(len(v), func(i, k int) { v[i], v[k] = v[k], v[i] })
	s := Summarise(v, 0.95)
	if math.Abs(s.High-1.959964) > 2e-3 || math.Abs(s.Low+1.959964) > 2e-3 || math.Abs(s.Mean) > 1e-9 {
		t.Fatal(s)
	}
}
