package sim

import "math"

// causes draws inflow, stores and pools for a hold of the given length.
func (d *draw) causes(sc *Scenario, hold float64) {
	var t Truth
	for _, v := range sc.Volumes[1:] {
		t.Volume += v
	}
	inflow := func(q float64) { // Pa/s in the whole volume
		sc.Inflows = append(sc.Inflows, Inflow{At: d.place(sc), Q: q * t.Volume})
	}
	small := func() float64 { return d.between(0, 4) * Micron } // of rise, under any threshold
	moist := 0.0
	switch k := d.Float64(); {
	case k < 0.25:
		if d.share(0.5) {
			inflow(small() / hold)
		}
		moist = small()
	case k < 0.55:
		inflow(d.log(1, 200) * Micron / 60)
		moist = small()
	case k < 0.80:
		if d.share(0.4) {
			inflow(small() / hold)
		}
		moist = d.log(8, 1500) * Micron
	default:
		moist = d.log(15, 1500) * Micron
		share := d.between(0.15, 0.85)
		q := moist * share / (1 - share) / hold
		inflow(math.Max(0.3, math.Min(200, q/Micron*60)) * Micron / 60)
	}
	if moist > 8*Micron && d.share(0.25) {
		d.pool(sc, t.Volume)
		moist = small()
	}
	d.stores(sc, t.Volume, moist, hold)
}

// place draws one of the circuit's volumes: not the pump's, not the gauge's.
func (d *draw) place(sc *Scenario) int { return 1 + d.IntN(len(sc.Volumes)-2) }

// pool draws liquid water: a drop in a crevice to a puddle in a coil.
func (d *draw) pool(sc *Scenario, whole float64) {
	sc.Pools = append(sc.Pools, Pool{
		At: 2 + d.IntN(len(sc.Volumes)-3), Mass: d.log(0.2e-3, 20e-3), HeatCapacity: d.log(10, 500),
		Heating: d.log(0.01, 2), Conductance: whole / d.log(60, 3000),
	})
}

// stores draws one to three stores that would together raise the pressure by
// about rise in a hold, with time constants of 90 s to 25 min (oil: 5 min to an hour).
func (d *draw) stores(sc *Scenario, whole, rise, hold float64) {
	oil := d.share(0.2)
	tau, perKelvin := d.log(90, 1500), 0.06
	top := 0.5 * Saturation(sc.Ambient.Start) // water stays well under its vapour pressure
	if oil {
		tau, perKelvin, top = d.log(300, 3600), 0.03, sc.Barometer
	}
	first := len(sc.Stores)
	for range 1 + d.IntN(3) {
		t := math.Max(90, math.Min(3600, tau*math.Exp(d.between(-0.7, 0.7))))
		st := Store{At: d.place(sc), Dry: oil, PerKelvin: perKelvin, Pressure: top * d.between(0.2, 1)}
		st.Capacity = whole * d.log(0.3, 30)
		st.Conductance = 1 / (t * (1/whole + 1/st.Capacity))
		if oil {
			st.Conductance = st.Capacity / t
		}
		sc.Stores = append(sc.Stores, st)
	}
	sc.fill(first, rise, whole, hold)
}

// fill reduces the starting pressures of the stores from the first on, all by
// one factor, so that they raise the pressure in the last hold by about rise (Pa). The rise is
// nearly linear in the factor: trials with nothing and all, and two interpolations, do.
func (sc *Scenario) fill(first int, rise, whole, hold float64) {
	stores := sc.Stores[first:]
	full := append([]Store(nil), stores...)
	try := func(factor float64) float64 {
		for i := range stores {
			stores[i].Pressure = factor * full[i].Pressure
		}
		return sc.expected(first, whole, hold)
	}
	low, high := 0.0, 1.0
	least, most := try(low), try(high)
	for range 2 {
		if rise <= least || rise >= most {
			break
		}
		f := low + (high-low)*(rise-least)/(most-least)
		if got := try(f); got < rise {
			low, least = f, got
		} else {
			high, most = f, got
		}
	}
	switch {
	case rise <= least:
		try(low)
	case rise < most:
		try(low + (high-low)*(rise-least)/(most-least))
	}
}

// expected is the rise in the last hold by the stores from the first on, each alone with the whole volume.
func (sc *Scenario) expected(first int, whole, hold float64) float64 {
	s, p := sc.untilLastHold()
	sum := 0.0
	for k := first; k < len(sc.Stores); k++ {
		st := &sc.Stores[k]
		perAmount, row := s.equilibrium(st, s.y[s.l.temperature])
		pressure, share := perAmount*s.y[s.l.stores+k], st.Capacity/whole
		tau := st.Capacity / st.Conductance
		if !st.Dry {
			pressure -= p[row]
			share = st.Capacity / (whole + st.Capacity)
			tau *= whole / (whole + st.Capacity)
		}
		sum += pressure * share * (1 - math.Exp(-hold/tau))
	}
	return sum
}

// untilLastHold returns the circuit at the last isolation, and its partial pressures.
func (sc *Scenario) untilLastHold() (*solver, []float64) {
	silent := *sc
	silent.Sampling = Sampling{}
	r := &runner{solver: newSolver(&silent, silent.start(), 0), next: math.Inf(1), every: 15}
	last := 0
	for i, s := range sc.Steps {
		if s.What == Hold {
			last = i
		}
	}
	for _, s := range sc.Steps[:last] {
		r.perform(s)
	}
	p := make([]float64, 2*r.l.n)
	for i := range p {
		p[i] = r.y[i] * r.y[r.l.temperature] / sc.Volumes[i%r.l.n]
	}
	return r.solver, p
}
