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
