package fit

import "math"

// AICc returns the corrected information criterion n ln(RSS/n) + 2K + 2K(K+1)/(n-K-1) for n independent readings and K
// parameters, the variance among them. It is +Inf where it is undefined, for n <= K+1.
func AICc(n, rss float64, k int) float64 {
	kf := float64(k)
	if n <= kf+1 {
		return math.Inf(1)
	}
	return n*math.Log(rss/n) + 2*kf + 2*kf*(kf+1)/(n-kf-1)
}

// Weights turns criterion values into weights exp(-Δ/2) that add up to 1. Infinite values weigh nothing; if all are
// infinite the weights are equal.
func Weights(aicc []float64) []float64 {
	low := math.Inf(1)
	for _, a := range aicc {
		low = math.Min(low, a)
	}
	w := make([]float64, len(aicc))
	sum := 0.0
	for i, a := range aicc {
		switch {
		case math.IsInf(low, 1):
			w[i] = 1
		default:
			w[i] = math.Exp((low - a) / 2)
		}
		sum += w[i]
	}
	for i := range w {
		w[i] /= sum
	}
	return w
}
