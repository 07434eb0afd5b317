package vacuum

import (
	"math"
	"testing"
)

// The prior probabilities of the shapes of surfaces and oil add up to 1, in the first look and in the second, and a store slower than water's
// common 25 min is a third as likely as one within it.
func TestStores(t *testing.T) {
	for _, coarse := range []bool{true, false} {
		s, prior := stores(30, 293, nil, false, coarse)
		sum, byTime := 0.0, map[float64]float64{}
		for i, p := range prior {
			sum += p
			if s[i].law == twoStores && s[i].share == 0 {
				byTime[s[i].tau] = p
			}
		}
		if math.Abs(sum-1) > 1e-12 {
			t.Errorf("coarse %v: the sum is %g", coarse, sum)
		}
		fast, slow := byTime[tauLow], byTime[tauHigh]
		if math.Abs(fast/slow-3) > 1e-9 {
			t.Errorf("coarse %v: %g s %g, %g s %g", coarse, tauLow, fast, tauHigh, slow)
		}
	}
}
