package sim

import (
	"math"
	"math/rand/v2"
)

// A Phase is what was done from Start to End (s from the start of the recording).
type Phase struct {
	What       What
	Start, End float64
}

// A Recording is a simulated log, in the order of time, without the rows that
// the recorder lost. All slices have one element a row.
type Recording struct {
	Scenario  Scenario
	Time      []float64 // as stamped, s
	Indicated []float64 // Pa; NaN where there is a mark
	Mark      []Mark
	Ambient   []float64 // as logged, K, in steps of 0.1 K
	Pressure  []float64 // true total pressure in the gauge's volume, Pa
	Phases    []Phase
	Truth     Truth // of the last hold; zero without one
}

// A Mark stands in place of a reading.
type Mark int

// Marks.
const (
	Read  Mark = iota // a reading
	Over              // above the range
	Under             // below the range
)

// Run simulates the scenario.
func (sc Scenario) Run() Recording {
	r := &runner{
		solver: newSolver(&sc, sc.start(), 0),
		rec:    Recording{Scenario: sc},
		every:  2,
		random: rand.New(rand.NewPCG(sc.Seed, 0x5ca1ab1e)),
	}
	r.next = math.Inf(1)
	if sc.Sampling.Interval > 0 {
		r.next = r.moment(0)
	}
	for _, step := range sc.Steps {
		r.perform(step)
	}
	if r.isolated != nil {
		r.rec.Truth = truth(&sc, r.isolated, r.hold)
	}
	return r.rec
}

// A runner performs the steps and takes the samples.
type runner struct {
	*solver
	rec      Recording
	random   *rand.Rand
	every    float64 // s between looks at the gauge during a pull-down
	index    int     // of the next sample
	next     float64 // its time
	memory   float64 // of the gauge's correlated noise
	last     float64 // time of the last sample
	isolated state   // at the start of the last hold
	hold     Phase
}

// moment is the time of sample i.
func (r *runner) moment(i int) float64 {
	s := &r.sc.Sampling
	t := float64(i)*s.Interval + s.Jitter*(2*r.random.Float64()-1)
	return math.Max(0, t)
}

// perform carries one step out and notes the phase.
func (r *runner) perform(step Step) {
	start := r.t
	switch step.What {
	case PullDown:
		r.set(condition{open: true})
		if r.until(start+step.Seconds, func() bool { return r.seen() < step.Reach }) {
			r.pass(step.Stay)
		}
	case Break, Charge:
		r.set(condition{fill: step.Flow, fillAt: step.At})
		r.until(start+3600, func() bool { return r.truePressure() > step.Reach })
		r.set(condition{})
		r.pass(step.Seconds)
	case Hold:
		r.set(condition{})
		r.isolated = append(state(nil), r.y...)
		r.pass(step.Seconds)
		r.hold = Phase{Hold, start, r.t}
	default:
		r.set(condition{})
		r.pass(step.Seconds)
	}
	r.rec.Phases = append(r.rec.Phases, Phase{step.What, start, r.t})
}

// pass lets time pass.
func (r *runner) pass(seconds float64) { r.until(r.t+seconds, nil) }

// until lets time pass until done (where given), looked at every few seconds, or end; it says whether it was done.
func (r *runner) until(end float64, done func() bool) bool {
	look := math.Inf(1)
	if done != nil {
		look = r.t + r.every
	}
	for r.t < end {
		t := math.Min(math.Min(end, r.next), look)
		r.advance(t)
		if t == r.next {
			r.sample()
		}
		if t == look {
			if look += r.every; done() {
				return true
			}
		}
	}
	return false
}

// truePressure is the total pressure in the gauge's volume.
func (r *runner) truePressure() float64 {
	at := r.sc.Gauge.At
	return (r.y[at] + r.y[r.l.n+at]) * r.y[r.l.temperature] / r.sc.Volumes[at]
}

// seen is what the gauge shows before noise and rounding.
func (r *runner) seen() float64 {
	g := &r.sc.Gauge
	return r.y[r.l.gauge]*(1+g.Gain) + g.Offset
}

// sample adds a row, unless the recorder loses it.
func (r *runner) sample() {
	value, mark := r.read()
	stamp := r.t
	if c := r.sc.Sampling.Clock; c > 0 {
		stamp = math.Round(r.t/c) * c
	}
	r.index++
	r.next = r.moment(r.index)
	if r.random.Float64() < r.sc.Sampling.Missing {
		return
	}
	c := &r.rec
	c.Time = append(c.Time, stamp)
	c.Indicated = append(c.Indicated, value)
	c.Mark = append(c.Mark, mark)
	c.Pressure = append(c.Pressure, r.truePressure())
	c.Ambient = append(c.Ambient, math.Round(10*r.sc.Ambient.at(r.t))/10)
}

// read is the gauge's display.
func (r *runner) read() (float64, Mark) {
	g := &r.sc.Gauge
	keep := 0.0
	if g.Memory > 0 {
		keep = math.Exp(-(r.t - r.last) / g.Memory)
	}
	r.last = r.t
	r.memory = keep*r.memory + math.Sqrt(1-keep*keep)*r.random.NormFloat64()
	noise := g.Noise * (r.memory + r.random.NormFloat64()) / math.Sqrt2
	v := r.y[r.l.gauge]*(1+g.Gain)*(1+noise) + g.Offset
	for _, s := range g.Resolution {
		if s.Below == 0 || v < s.Below {
			v = math.Round(v/s.Step) * s.Step
			break
		}
	}
	switch {
	case v > g.Top:
		return math.NaN(), Over
	case v < g.Bottom:
		return math.NaN(), Under
	}
	return v, Read
}
