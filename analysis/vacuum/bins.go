package vacuum

import (
	"math"
	"slices"
)

// rows is a stretch of usable readings: seconds from the isolation, Pa, K (NaN where not recorded).
type rows struct{ t, p, ambient []float64 }

// maxBins is the number of block averages that a fit sees at most.
const maxBins = 120

// blocks averages the rows into at most maxBins blocks, which are shorter at the start, where equalisation is. A block that
// would hold one reading holds that reading. count is the number of readings in each.
func blocks(r rows) (b rows, count []float64) {
	n := len(r.t)
	if n == 0 {
		return b, nil
	}
	t0, span := r.t[0], r.t[n-1]-r.t[0]
	at := func(i int) int {
		if n <= maxBins || span <= 0 {
			return i
		}
		return int(maxBins * math.Pow((r.t[i]-t0)/span, 0.75))
	}
	for i := 0; i < n; {
		k, j := at(i), i
		var t, p, a float64
		for ; j < n && at(j) == k; j++ {
			t += r.t[j]
			p += r.p[j]
			if r.ambient != nil {
				a += r.ambient[j]
			}
		}
		m := float64(j - i)
		b.t, b.p, count = append(b.t, t/m), append(b.p, p/m), append(count, m)
		if r.ambient != nil {
			b.ambient = append(b.ambient, a/m)
		}
		i = j
	}
	return b, count
}

// noise is the scatter of a reading: standard deviation f·p and the resolution step.
type noise struct{ f, step float64 }

// variance of one reading at pressure p.
func (n noise) variance(p float64) float64 { return n.f*n.f*p*p + n.step*n.step/12 }

// measureNoise finds the proportional scatter from each reading's distance to the line through its neighbours, which a
// smooth curve does not change, after the part of the resolution step is taken off.
func measureNoise(r rows, step float64) noise {
	var d []float64
	for i := 1; i+1 < len(r.t); i++ {
		a := (r.t[i] - r.t[i-1]) / (r.t[i+1] - r.t[i-1])
		e := r.p[i] - r.p[i-1]*(1-a) - r.p[i+1]*a
		v := (e*e - step*step/12) / (1 + a*a + (1-a)*(1-a))
		d = append(d, v/(r.p[i]*r.p[i]))
	}
	if len(d) == 0 {
		return noise{0.005, step}
	}
	// The mean without the largest twentieth: a jump or a spike must not count as noise.
	slices.Sort(d)
	keep := d[:max(1, len(d)*19/20)]
	s := 0.0
	for _, v := range keep {
		s += v
	}
	f2 := s / float64(len(keep)) * 1.3
	return noise{math.Sqrt(math.Max(f2, 1e-8)), step}
}

// step returns the finest step between the readings: the 5th percentile of the non-zero differences of neighbours in the
// sorted list of values, but not below stated.
func step(p []float64, stated float64) float64 {
	s := slices.Clone(p)
	slices.Sort(s)
	var d []float64
	for i := 1; i < len(s); i++ {
		if x := s[i] - s[i-1]; x > 1e-6*math.Abs(s[i]) {
			d = append(d, x)
		}
	}
	if len(d) == 0 {
		return stated
	}
	slices.Sort(d)
	return math.Max(stated, d[len(d)/20])
}
