package fit

import "math"

// Correlation returns the lag-one autocorrelation of residuals r about zero, 0 for fewer than three.
func Correlation(r []float64) float64 {
	if len(r) < 3 {
		return 0
	}
	var num, den float64
	for i, v := range r {
		den += v * v
		if i > 0 {
			num += v * r[i-1]
		}
	}
	if den == 0 {
		return 0
	}
	return num / den
}

// EffectiveSize returns how many independent readings n readings with lag-one correlation rho are worth for a mean,
// n / (1 + 2 Σ_{k<n} (1-k/n) ρ^k), the exact form for an AR(1) process. For rho <= 0 it returns n: a gauge's noise is
// not known well enough to claim more.
func EffectiveSize(n int, rho float64) float64 {
	if rho <= 0 || n < 2 {
		return float64(n)
	}
	rho = math.Min(rho, 0.999999)
	nf := float64(n)
	// Σ (1-k/n) ρ^k = ρ/(1-ρ) - ρ(1-ρ^n)/(n(1-ρ)²)
	sum := rho/(1-rho) - rho*(1-math.Pow(rho, nf))/(nf*(1-rho)*(1-rho))
	return nf / (1 + 2*sum)
}
