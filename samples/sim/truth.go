package sim

import "math"

// Truth of the last hold, without the gauge's errors. Times are seconds from
// the start of the recording.
type Truth struct {
	// HoldStart is when the isolation valve closed, HoldEnd when the next act began or the log ended.
	HoldStart, HoldEnd float64
	// Settled is the end of equalisation: from it on the pressure at the gauge, in the
	// run without inflow, stores and pools, and reduced to one temperature, stays
	// within the larger of 0.5 micron and 0.5 % of its last value.
	Settled float64
	// Volume of all that is joined while isolated (m3), the gauge's with it.
	Volume float64
	// LeakRate is the sum of the choked inflows (Pa m3/s), LeakRise = LeakRate/Volume (Pa/s).
	LeakRate, LeakRise float64
	// LeakContribution is LeakRise (HoldEnd - Settled), Pa.
	LeakContribution float64
	// MoistureContribution is the rise from Settled to HoldEnd at the gauge (Pa), less the rise
	// of the same hold with stores and pools closed: what water and
	// oil gave (or, negative, took), warming of the water included, of dry gas not.
	MoistureContribution float64
	// Isolated, Start and End are the true pressures at the gauge at HoldStart, Settled and HoldEnd.
	Isolated, Start, End float64
	// Cause by the fixed rule: a contribution counts when it is more than 5 micron, more
	// than 3 % of Start and more than 10 % of End - Start.
	Cause Cause
	// moisture in the gauge's volume against time from HoldStart, for MoistureRise
	times, moisture []float64
}

// Cause of a rise.
type Cause string

// Causes, named as in results.
const (
	None     Cause = "none"
	Leak     Cause = "leak"
	Moisture Cause = "moisture"
	Both     Cause = "leak and moisture"
)

// Threshold returns what a contribution must exceed to be named, Pa.
func (t *Truth) Threshold() float64 {
	return math.Max(5*Micron, math.Max(0.03*t.Start, 0.1*(t.End-t.Start)))
}

// MoistureRise is the part of the rise by stores and pools from one time to
// another within the hold (s from the start of the recording), Pa; for an analysis whose
// settled time is not ours.
func (t *Truth) MoistureRise(from, to float64) float64 {
	return t.moistureAt(to-t.HoldStart) - t.moistureAt(from-t.HoldStart)
}

func (t *Truth) moistureAt(x float64) float64 {
	n := len(t.times) - 1
	for i := range n {
		if x < t.times[i+1] || i == n-1 {
			f := math.Max(0, math.Min(1, (x-t.times[i])/(t.times[i+1]-t.times[i])))
			return t.moisture[i] + f*(t.moisture[i+1]-t.moisture[i])
		}
	}
	return 0
}

// truth separates the causes of the hold that began in state y.
func truth(sc *Scenario, y state, hold Phase) Truth {
	t := Truth{HoldStart: hold.Start, HoldEnd: hold.End}
	for _, v := range sc.Volumes[1:] {
		t.Volume += v
	}
	for _, f := range sc.Inflows {
		t.LeakRate += f.Q
	}
	t.LeakRise = t.LeakRate / t.Volume
	t.times = grid(hold.End - hold.Start)
	whole, _ := follow(sc, y, hold.Start, t.times, condition{})
	dry, _ := follow(sc, y, hold.Start, t.times, condition{noSource: true})
	still, warm := follow(sc, y, hold.Start, t.times, condition{noInflow: true, noSource: true})
	t.moisture = make([]float64, len(t.times))
	for i := range t.times {
		t.moisture[i] = whole[i] - dry[i]
	}
	k, n := settled(still, warm), len(t.times)-1
	t.Settled = hold.Start + t.times[k]
	t.Isolated, t.Start, t.End = whole[0], whole[k], whole[n]
	t.LeakContribution = t.LeakRise * (t.HoldEnd - t.Settled)
	t.MoistureContribution = t.moisture[n] - t.moisture[k]
	t.Cause = t.cause()
	return t
}

func (t *Truth) cause() Cause {
	limit := t.Threshold()
	switch leak, moist := t.LeakContribution > limit, t.MoistureContribution > limit; {
	case leak && moist:
		return Both
	case leak:
		return Leak
	case moist:
		return Moisture
	}
	return None
}

// grid is dense where equalisation is.
func grid(length float64) []float64 {
	const n = 240
	g := make([]float64, n+1)
	for i := range g {
		f := float64(i) / n
		g[i] = length * f * f
	}
	return g
}

// follow runs a hold, returning pressure at the gauge and temperature on the grid.
func follow(sc *Scenario, y state, start float64, grid []float64, c condition) (p, temperature []float64) {
	r := runner{solver: newSolver(sc, y, start)}
	r.set(c)
	for _, g := range grid {
		r.advance(start + g)
		p = append(p, r.truePressure())
		temperature = append(temperature, r.y[r.l.temperature])
	}
	return p, temperature
}

// settled returns the index from which p, reduced to one temperature, stays near its last value.
func settled(p, temperature []float64) int {
	n := len(p) - 1
	last := p[n]
	near := math.Max(0.5*Micron, 0.005*last)
	k := n
	for k > 0 && math.Abs(p[k-1]*temperature[n]/temperature[k-1]-last) <= near {
		k--
	}
	return k
}
