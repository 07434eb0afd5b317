package sim

import (
	"errors"
	"math"

	"gonum.org/v1/gonum/mat"
)

// Knowledge is what an ideal observer can know of the last hold at best: the covariance of the leak's and the moisture's
// contribution (Pa²), from the readings of the hold alone, by one who has this package's equations and the
// structure of the circuit, and has to find its parameters. It is the Gaussian (Fisher) approximation about the truth, so it is
// a bound that no analysis of the same readings reaches: the observer knows, for one, how many stores there are.
type Knowledge struct{ Leak, Moisture, Mixed float64 }

// A parameter is what the observer does not know: how the scenario, or the state at the isolation, changes with one unit of it,
// and the standard deviation that it has before the readings.
type parameter struct {
	change func(sc *Scenario, y state, x float64)
	sd     float64
}

var errObserver = errors.New("sim: the readings do not fix the observer's equations")

// Observe computes the observer's knowledge for the recording's last hold.
func (r *Recording) Observe() (Knowledge, error) {
	sc := r.Scenario
	start, _ := (&sc).untilLastHold()
	at := newBlocks(r)
	if len(at.t) == 0 { // over range throughout
		return Knowledge{}, errObserver
	}
	base := at.follow(&sc, start.y, &r.Truth)
	params := sc.unknowns(start.y)
	n, m := len(at.t), len(params)
	slopes := mat.NewDense(n, m, nil)
	effect := mat.NewDense(2, m, nil)
	for k, q := range params {
		changed, y := sc.clone(), append(state(nil), start.y...)
		step := q.sd / 20
		q.change(changed, y, step)
		v := at.follow(changed, y, &r.Truth)
		for i := range n {
			slopes.Set(i, k, (v.seen[i]-base.seen[i])/step)
		}
		effect.Set(0, k, (v.leak-base.leak)/step)
		effect.Set(1, k, (v.moisture-base.moisture)/step)
	}
	var noise mat.Cholesky
	if !noise.Factorize(at.noise(&sc, base.seen)) {
		return Knowledge{}, errObserver
	}
	var weighed mat.Dense
	if err := noise.SolveTo(&weighed, slopes); err != nil {
		return Knowledge{}, err
	}
	var f mat.Dense
	f.Mul(slopes.T(), &weighed)
	info := mat.NewSymDense(m, nil)
	for i := range m {
		for j := i; j < m; j++ { // in units of the prior's standard deviations
			info.SetSym(i, j, f.At(i, j)*params[i].sd*params[j].sd)
		}
		info.SetSym(i, i, info.At(i, i)+1)
	}
	var c mat.Cholesky
	if !c.Factorize(info) {
		return Knowledge{}, errObserver
	}
	for k, q := range params {
		effect.Set(0, k, effect.At(0, k)*q.sd)
		effect.Set(1, k, effect.At(1, k)*q.sd)
	}
	var half, cov mat.Dense
	if err := c.SolveTo(&half, effect.T()); err != nil {
		return Knowledge{}, err
	}
	cov.Mul(effect, &half)
	return Knowledge{cov.At(0, 0), cov.At(1, 1), cov.At(0, 1)}, nil
}

// clone copies what the parameters change.
func (sc *Scenario) clone() *Scenario {
	c := *sc
	c.Links = append([]Link(nil), sc.Links...)
	c.Inflows = append([]Inflow(nil), sc.Inflows...)
	c.Stores = append([]Store(nil), sc.Stores...)
	c.Pools = append([]Pool(nil), sc.Pools...)
	return &c
}

// unknowns lists the parameters. Sizes are wide (flat), factors have the spread with which [Case] draws them, and the amounts of gas in the
// volumes at the isolation are known to 30 %.
func (sc *Scenario) unknowns(y state) (all []parameter) {
	l := sc.layout()
	add := func(sd float64, f func(sc *Scenario, y state, x float64)) { all = append(all, parameter{f, sd}) }
	whole := 0.0
	for i, v := range sc.Volumes {
		if i > 0 {
			whole += v
			for _, row := range []int{i, l.n + i} {
				add(0.3, func(_ *Scenario, y state, x float64) { y[row] *= 1 + x })
			}
		}
	}
	add(1000*Micron*whole/600, func(sc *Scenario, _ state, x float64) {
		at := 2
		if len(sc.Inflows) > 0 {
			at = sc.Inflows[0].At
		}
		sc.Inflows = append(sc.Inflows, Inflow{At: at, Q: x})
	})
	for k := range sc.Stores {
		add(1000*Micron*whole/y[l.temperature], func(_ *Scenario, y state, x float64) { y[l.stores+k] += x })
		add(1, func(sc *Scenario, _ state, x float64) { sc.Stores[k].Conductance *= 1 + x })
		add(1.3, func(sc *Scenario, _ state, x float64) { sc.Stores[k].Capacity *= 1 + x })
	}
	for k := range sc.Pools {
		add(1.3*math.Max(1e-9, y[l.mass+k]), func(_ *Scenario, y state, x float64) { y[l.mass+k] += x })
		add(5*sc.Pools[k].HeatCapacity, func(_ *Scenario, y state, x float64) { y[l.heat+k] += x })
		add(1.1, func(sc *Scenario, _ state, x float64) { sc.Pools[k].HeatCapacity *= 1 + x })
		add(1.5, func(sc *Scenario, _ state, x float64) { sc.Pools[k].Heating *= 1 + x })
		add(1.1, func(sc *Scenario, _ state, x float64) { sc.Pools[k].Conductance *= 1 + x })
	}
	for k := 1; k < len(sc.Links); k++ {
		add(0.7, func(sc *Scenario, _ state, x float64) { sc.Links[k].Laminar *= 1 + x; sc.Links[k].Molecular *= 1 + x })
	}
	if !sc.Ambient.Logged {
		add(1.5/3600, func(sc *Scenario, _ state, x float64) { sc.Ambient.Slope += x })
		add(0.3, func(sc *Scenario, _ state, x float64) { sc.Ambient.Swing += x })
	}
	add(0.8, func(sc *Scenario, _ state, x float64) { sc.Ambient.Delay *= 1 + x })
	add(1, func(sc *Scenario, _ state, x float64) { sc.Gauge.Lag *= 1 + x })
	add(sc.Gauge.GainLimit/math.Sqrt(3), func(sc *Scenario, _ state, x float64) { sc.Gauge.Gain += x })
	add(sc.Gauge.OffsetLimit/math.Sqrt(3), func(sc *Scenario, _ state, x float64) { sc.Gauge.Offset += x })
	return all
}

// observed are averages of the hold's readings: their times from the isolation, lengths and numbers of readings.
type observed struct {
	start     float64
	t, length []float64
	count     []float64
}

// newBlocks makes at most 90, each a hundredth of the hold or longer, shorter at the start.
func newBlocks(r *Recording) *observed {
	h := &r.Truth
	o := &observed{start: h.HoldStart}
	last := -1
	for i, t := range r.Time {
		if t <= h.HoldStart || t > h.HoldEnd || r.Mark[i] != Read {
			continue
		}
		x := t - h.HoldStart
		k := int(90 * math.Pow(x/(h.HoldEnd-h.HoldStart), 0.7))
		if k != last {
			o.t, o.length, o.count = append(o.t, 0), append(o.length, 0), append(o.count, 0)
			last = k
		}
		j := len(o.t) - 1
		o.t[j] += (x - o.t[j]) / (o.count[j] + 1)
		o.count[j]++
	}
	for j := range o.t {
		o.length[j] = o.count[j] * r.Scenario.Sampling.Interval
	}
	return o
}

// view is what one hold shows and holds.
type view struct {
	seen           []float64
	leak, moisture float64
}

// follow runs the hold from state y.
func (o *observed) follow(sc *Scenario, y state, h *Truth) view {
	var v view
	whole := runner{solver: newSolver(sc, y, o.start)}
	dry := runner{solver: newSolver(sc, y, o.start)}
	dry.set(condition{noSource: true})
	settled := math.NaN()
	differ := func(t float64) float64 {
		whole.advance(t)
		dry.advance(t)
		return whole.truePressure() - dry.truePressure()
	}
	for _, t := range o.t {
		if o.start+t >= h.Settled && math.IsNaN(settled) {
			settled = differ(h.Settled)
		}
		whole.advance(o.start + t)
		v.seen = append(v.seen, whole.seen())
	}
	v.moisture = differ(h.HoldEnd) - settled
	for _, f := range sc.Inflows {
		v.leak += f.Q / h.Volume * (h.HoldEnd - h.Settled)
	}
	return v
}

// noise is the covariance of the block averages: half of the scatter's variance without memory, half with it, and the display's step.
func (o *observed) noise(sc *Scenario, seen []float64) *mat.SymDense {
	g := &sc.Gauge
	c := mat.NewSymDense(len(seen), nil)
	for i, p := range seen {
		step := 0.0
		for _, s := range g.Resolution {
			if s.Below == 0 || p < s.Below {
				step = s.Step
				break
			}
		}
		half := g.Noise * g.Noise / 2
		x := o.length[i] / math.Max(g.Memory, 1e-9)
		kept := 1.0
		if o.count[i] > 1 {
			kept = 2 / x * (1 - (1-math.Exp(-x))/x)
		}
		c.SetSym(i, i, half*p*p*(1/o.count[i]+kept)+step*step/12/o.count[i]+1e-8)
		for j := i + 1; j < len(seen); j++ {
			c.SetSym(i, j, half*p*seen[j]*math.Exp(-(o.t[j]-o.t[i])/math.Max(g.Memory, 1e-9)))
		}
	}
	return c
}
