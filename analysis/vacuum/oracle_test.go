package vacuum

import (
	"math"
	"math/rand/v2"

	"dryhold/samples/sim"
)

// oracle names the cause as an observer would who knows the simulator's own equations and the structure of the circuit (see
// [sim.Recording.Observe]), with the prior and the naming rule of this package. One draw of what that observer would find takes the place of a
// fit. It is "" where the observer's equations are singular.
func oracle(r *sim.Recording) Cause {
	k, err := r.Observe()
	if err != nil {
		return ""
	}
	t := &r.Truth
	su, sv := math.Sqrt(k.Leak), math.Sqrt(k.Moisture)
	rho := math.Max(-0.9999, math.Min(0.9999, k.Mixed/(su*sv)))
	random := rand.New(rand.NewPCG(r.Scenario.Seed, 7))
	z1, z2 := random.NormFloat64(), random.NormFloat64()
	u := t.LeakContribution + su*z1
	v := t.MoistureContribution + sv*(rho*z1+math.Sqrt(1-rho*rho)*z2)
	low := math.Min(0, t.MoistureContribution) // water that is taken up again
	p := newPosterior()
	for i, x := range p.at {
		for j, y := range p.at {
			a, b := (x-u)/su, (y+low-v)/sv
			p.log[i][j] = math.Log(p.prior[i]*p.prior[j]) - (a*a-2*rho*a*b+b*b)/(2*(1-rho*rho))
		}
	}
	leak, moist := p.margins()
	thr := t.Threshold()
	l, leakP := p.summary(leak, 0, thr)
	m, moistP := p.summary(moist, low, thr)
	return name(l, m, thr, leakP, moistP)
}

// posterior is a grid over two contributions that are zero in half of the cases, else level on a logarithmic scale.
type posterior struct {
	at, prior []float64
	log       [][]float64
}

func newPosterior() *posterior {
	const n = 300
	p := &posterior{at: []float64{0}, prior: []float64{0.5}}
	for i := range n {
		p.at = append(p.at, small*math.Pow(large/small, (float64(i)+0.5)/n))
		p.prior = append(p.prior, 0.5/n)
	}
	for range p.at {
		p.log = append(p.log, make([]float64, len(p.at)))
	}
	return p
}

// margins are the distributions of the first and the second.
func (p *posterior) margins() (first, second []float64) {
	best := math.Inf(-1)
	for _, row := range p.log {
		for _, v := range row {
			best = math.Max(best, v)
		}
	}
	first, second = make([]float64, len(p.at)), make([]float64, len(p.at))
	sum := 0.0
	for i, row := range p.log {
		for j, v := range row {
			w := math.Exp(v - best)
			first[i] += w
			second[j] += w
			sum += w
		}
	}
	for i := range first {
		first[i] /= sum
		second[i] /= sum
	}
	return first, second
}

// summary is the mean with the 95 % interval, and the probability above thr; all values are shifted by low.
func (p *posterior) summary(w []float64, low, thr float64) (v Value, above float64) {
	v.Known = true
	sum := 0.0
	for i, x := range p.at {
		v.X += w[i] * (x + low)
		if x+low > thr {
			above += w[i]
		}
		if sum < 0.025 && sum+w[i] >= 0.025 {
			v.Low = x + low
		}
		if sum < 0.975 && sum+w[i] >= 0.975 {
			v.High = x + low
		}
		sum += w[i]
	}
	return v, above
}
