package sim

// A Link joins volumes A and B. Its conductance for air at the mean pressure p of its ends is
//
//	C = Laminar p + Molecular (1 + Knee1 p)/(1 + Knee2 p)
//
// in m3/s, with Laminar in m3/(s Pa) and the knees in 1/Pa.
type Link struct {
	A, B                             int
	Laminar, Molecular, Knee1, Knee2 float64
}

// Tube returns n parallel round tubes of inner diameter d and length l (m)
// between volumes a and b, for air at 20 degC, after Knudsen:
//
//	C/(l/s) = 135 D^4 p/L + 12.1 D^3/L (1 + 192 D p)/(1 + 237 D p)
//
// with D and L in cm and p in mbar (textbook form, from memory; agrees with the
// derivation from viscosity and mean free path to 1.5 %). A short tube's ends
// lengthen it by 4/3 D in the molecular term.
func Tube(a, b int, d, l float64, n int) Link {
	dc, lc, k := 100*d, 100*l, float64(n)
	return Link{
		A: a, B: b,
		Laminar:   k * 135 * dc * dc * dc * dc / lc * 1e-3 / 100,
		Molecular: k * 12.1 * dc * dc * dc / (lc * (1 + 4*dc/(3*lc))) * 1e-3,
		Knee1:     192 * dc / 100,
		Knee2:     237 * dc / 100,
	}
}

// molecular returns the molecular part of the conductance for air at mean pressure p.
func (l *Link) molecular(p float64) float64 {
	return l.Molecular * (1 + l.Knee1*p) / (1 + l.Knee2*p)
}
