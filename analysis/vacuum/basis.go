package vacuum

import (
	"math"
	"slices"
)

// store is a way in which water, or gas in oil, comes out: a shape that is 0 at t = 0.
type store struct {
	law     law
	tau     float64 // s
	share   float64 // twoStores: the part that comes with ratio·tau; heated: the steady rest
	ratio   float64
	rest    *outflow // heated
	start   float64  // warming: K of the surface at the isolation
	low     float64  // warming: saturation pressure there, Pa
	ambient float64  // warming: K
}

type law int

const (
	twoStores law = iota // (1-share)(1 - exp(-t/tau)) + share (1 - exp(-t/(ratio tau))): first-order desorption from sites of one or two kinds
	diffusion            // out of a layer: Crank, The Mathematics of Diffusion, eq. 4.18, with tau its slowest time constant
	heated               // the same with a rest, see [steady]: water or ice whose vapour is limited by the heat that reaches it
	warming              // saturation at a surface that evaporation has cooled and that returns to the ambient with tau
)

// wet says that the shape is that of liquid water or ice.
func (s store) wet() bool { return s.law == heated || s.law == warming }

// at is the shape's value.
func (s store) at(t float64) float64 {
	x := t / s.tau
	switch s.law {
	case diffusion:
		return layer(x)
	case heated:
		return s.mix(released(x), s.rest.at(t))
	case warming:
		t := s.ambient - (s.ambient-s.start)*math.Exp(-x)
		return saturation(t) - s.low
	}
	return s.mix(released(x), released(x/s.ratio))
}

// released is the part that a first-order store has given off after x time constants.
func released(x float64) float64 { return -math.Expm1(-x) }

// mix puts a shape together of its two parts.
func (s store) mix(first, second float64) float64 { return (1-s.share)*first + s.share*second }

// layer is 1 - (8/π²) Σ exp(-(2n+1)² x)/(2n+1)²; below x = 0.3 its short-time form 4 √(x/π)/π.
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

// outflow is a table of a shape that is 0 at the first time and 1 at the last.
type outflow struct{ t, v []float64 }

func (c *outflow) at(t float64) float64 {
	i, _ := slices.BinarySearch(c.t, t)
	if i == 0 {
		return 0
	}
	if i == len(c.t) {
		return 1
	}
	f := (t - c.t[i-1]) / (c.t[i] - c.t[i-1])
	return c.v[i-1] + f*(c.v[i]-c.v[i-1])
}

// steady is how lasting water gives off vapour while the pressure rises: as heat flows from the ambient to water that is as cold
// as saturation at the pressure demands. It slows down as the pressure rises, in a way that is known; an inflow does not. It is nil
// where the pressure is above saturation at the ambient.
func steady(t, p []float64, ambient float64) *outflow {
	rate := func(p float64) float64 { return max(ambient-saturatedAt(p), 0) }
	c := &outflow{t: t, v: make([]float64, len(t))}
	last := rate(p[0])
	for i := 1; i < len(t); i++ {
		now := rate(p[i])
		c.v[i] = c.v[i-1] + (t[i]-t[i-1])*(now+last)/2
		last = now
	}
	end := c.v[len(t)-1]
	if end <= 0 {
		return nil
	}
	for i := range c.v {
		c.v[i] /= end
	}
	return c
}

// slowest is the longest time constant of a store that is allowed for, s: slower ones would look like a leak. It is an
// assumption, as is what is common: water on surfaces comes out with 90 s to 25 min, and slower ones, mostly gas from oil, are a third as likely.
// The method page says so.
const (
	slowest = 3000
	common  = 1500
	rarer   = 1.0 / 3
)

// single is the prior probability of one store: most circuits have surfaces of about one kind.
const single = 0.85

// mixtures are the second stores that are tried: their share, how many times slower they are, and the prior probability.
var mixtures = []struct{ share, ratio, prior float64 }{
	{0.25, 3, 0.03}, {0.5, 3, 0.03}, {0.75, 3, 0.03},
	{0.25, 7, 0.005}, {0.5, 7, 0.005}, {0.75, 7, 0.005}, {0.25, 16, 0.003}, {0.5, 16, 0.003},
}

// choice is a list of shapes with their prior probabilities.
type choice struct {
	shapes []store
	prior  []float64
	sum    float64 // of those that need no liquid water
}

func (c *choice) add(p float64, x store) {
	if x.law != warming && x.tau*max(1, x.ratio) > common {
		p *= rarer
	}
	if !x.wet() {
		c.sum += p
	}
	c.shapes, c.prior = append(c.shapes, x), append(c.prior, p)
}

// normalised gives the others what slow stores have lost.
func (c *choice) normalised() ([]store, []float64) {
	for i := range c.prior {
		c.prior[i] /= c.sum
	}
	return c.shapes, c.prior
}

// stores lists the shapes for a hold with their prior probabilities, which add up to 1; those of heated and warming
// are to be taken times [liquid] and are left out where it is not wet. p0 is the pressure at the isolation; coarse is for a first look.
func stores(p0, ambient float64, rest *outflow, wet, coarse bool) ([]store, []float64) {
	var c choice
	if coarse {
		for _, tau := range logspace(tauLow, tauHigh, (taus+1)/2) {
			c.add(2/float64(taus+1), store{tau: tau, ratio: 1})
		}
		return c.normalised()
	}
	const fine = 2*taus - 1
	for _, tau := range logspace(tauLow, tauHigh, fine) {
		c.add(single/fine, store{tau: tau, ratio: 1})
	}
	cold := saturatedAt(p0)
	low := saturation(cold)
	for _, tau := range logspace(tauLow, tauHigh, taus) {
		for _, m := range mixtures {
			if m.ratio*tau <= slowest {
				c.add(m.prior/taus, store{tau: tau, share: m.share, ratio: m.ratio})
			}
		}
		c.add(0.05/taus, store{law: diffusion, tau: tau})
		if rest != nil {
			for _, share := range []float64{0.2, 0.4, 0.6, 0.8} {
				c.add(0.06/taus, store{law: heated, tau: tau, share: share, rest: rest})
			}
		}
		if wet && cold < ambient-1 {
			c.add(0.15/taus, store{law: warming, tau: tau * 6, start: cold, low: low, ambient: ambient})
		}
	}
	return c.normalised()
}

// dry is the chance of liquid water below which it is not looked for.
const dry = 1e-3

// liquid is the chance that a store which raises the pressure by m is liquid water or ice: a rise of more than about
// 1000 micron needs more water than surfaces usually hold (common practice, no source).
func liquid(m float64) float64 {
	x := square(square(m / (1000 * micron)))
	return x / (1 + x)
}

// logspace returns n values from lo to hi, equally spaced in their logarithm.
func logspace(lo, hi float64, n int) []float64 {
	v := make([]float64, n)
	for i := range v {
		v[i] = lo * math.Pow(hi/lo, float64(i)/float64(n-1))
	}
	return v
}
