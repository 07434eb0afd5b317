package fit

// Effect is a sum of a candidate's nuisance coefficients, each times a factor, given the coefficients of interest a and b:
//
//	At + ByA a + ByB b
//
// with variance Variance.
type Effect struct{ At, ByA, ByB, Variance float64 }

// Effects returns the sums for several lists of factors, one factor for each Soft of the candidate.
func (d *Design) Effects(c Candidate, s2 float64, factors ...[]float64) []Effect {
	var f Nuisance
	f.integrate(d, c.Soft, s2)
	f.reduce(c.A, c.B)
	at, byA, byB := f.coefficients(0, 0), f.coefficients(1, 0), f.coefficients(0, 1)
	out := make([]Effect, len(factors))
	for k, v := range factors {
		e := &out[k]
		var w [MostSoft]float64
		copy(w[:], v)
		f.lower(&w)
		for i, x := range v {
			e.At += x * at[i]
			e.ByA += x * (byA[i] - at[i])
			e.ByB += x * (byB[i] - at[i])
			e.Variance += w[i] * w[i]
		}
	}
	return out
}
