package vacuum

import "math"

// The shapes in which a store of water, or of gas in oil, gives up what it holds. Each is 0 at t = 0 and tends to 1; tau
// is the time in which a single store gives up 63 %.
const (
	single    = iota // 1 - exp(-t/tau): first-order desorption, or one store and one volume
	twoStores        // 70 % with tau, 30 % with 4 tau: sites of two kinds, or a surface that cools and recovers
	diffusion        // out of a layer: Crank, The Mathematics of Diffusion, eq. 4.18, with tau its slowest time constant
	shapes
)

// rise returns the shape's value at t.
func rise(shape int, t, tau float64) float64 {
	x := t / tau
	switch shape {
	case twoStores:
		return -0.7*math.Expm1(-x) - 0.3*math.Expm1(-x/4)
	case diffusion:
		return layer(x)
	}
	return -math.Expm1(-x)
}

// layer is 1 - (8/π²) Σ exp(-(2n+1)² x)/(2n+1)² for odd 2n+1; below x = 0.3 its short-time form (4/π^1.5)·√(π² x/4)... is
// used, which is 4 √(D t/(π l²)) with x = π² D t/l² for a layer open on two sides.
func layer(x float64) float64 {
	if x < 0.3 {
		return 4 * math.Sqrt(x/math.Pi) / math.Pi
	}
	s := math.Exp(-x) + math.Exp(-9*x)/9
	if x < 1 {
		s += math.Exp(-25*x) / 25
	}
	return 1 - 8/(math.Pi*math.Pi)*s
}

// warp returns the time scale on which equalisation through a line is exponential. A line's conductance is, from laminar to
// molecular, proportional to p + pm (the laminar part to the mean pressure, the molecular part constant), so that
//
//	d(p2-p1)/dt = -(p2-p1)/τ · (p+pm)/(p0+pm)
//
// and exp(-s/τ) with ds = (p+pm)/(p0+pm) dt solves it for a pressure that changes. pm is where both parts are equal.
func warp(t, p []float64) []float64 {
	s := make([]float64, len(t))
	if len(t) == 0 {
		return s
	}
	f := func(i int) float64 { return (math.Max(p[i], 0) + equalParts) / (math.Max(p[0], 0) + equalParts) }
	s[0] = t[0] * f(0)
	for i := 1; i < len(t); i++ {
		s[i] = s[i-1] + (t[i]-t[i-1])*(f(i)+f(i-1))/2
	}
	return s
}

// equalParts is the pressure at which the laminar and the molecular conductance of a line are equal, Pa:
// 135 D p = 12.1 (mbar, cm) for D of 0.6 to 2 cm is 4 to 14 Pa.
const equalParts = 9

// logspace returns n values from lo to hi, equally spaced in their logarithm.
func logspace(lo, hi float64, n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = lo * math.Pow(hi/lo, float64(i)/float64(n-1))
	}
	return v
}
