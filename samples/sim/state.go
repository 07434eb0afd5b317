package sim

import "math"

// A state is one flat vector, so that steps can be extrapolated:
// amounts of dry gas, of vapour and in stores (J/K), masses (kg) and enthalpies (J)
// of pools, the circuit's temperature (K), the gauge's delayed pressure (Pa), the
// amount pumped away (J/K).
type state []float64

// layout gives the offsets of a state.
type layout struct {
	n, stores, mass, heat, temperature, gauge, pumped, size int
}

func (sc *Scenario) layout() layout {
	n, s, p := len(sc.Volumes), len(sc.Stores), len(sc.Pools)
	l := layout{n: n, stores: 2 * n, mass: 2*n + s, heat: 2*n + s + p}
	l.temperature = l.heat + p
	l.gauge, l.pumped, l.size = l.temperature+1, l.temperature+2, l.temperature+3
	return l
}

// start is the circuit open to the surroundings' pressure, with its water at ambient temperature.
func (sc *Scenario) start() state {
	l := sc.layout()
	y := make(state, l.size)
	t := sc.Ambient.at(0)
	for j, v := range sc.Volumes {
		w := sc.Humidity * Saturation(t)
		y[j], y[l.n+j] = (sc.Barometer-w)*v/t, w*v/t
	}
	for k, s := range sc.Stores {
		y[l.stores+k] = s.Pressure * s.Capacity / t
	}
	for k, p := range sc.Pools {
		y[l.mass+k] = p.Mass
		y[l.heat+k] = (p.Mass*liquidHeat + p.HeatCapacity) * (t - triplePoint)
	}
	y[l.temperature], y[l.gauge] = t, sc.Barometer
	return y
}

func (a *Ambient) at(t float64) float64 {
	v := a.Start + a.Slope*t
	if a.Period > 0 {
		v += a.Swing * math.Sin(2*math.Pi*t/a.Period)
	}
	return v
}

// thermal returns temperature, heat capacity and latent heat of a pool with enthalpy
// h (zero: liquid at the triple point) and mass m; capacity is +Inf while it freezes or melts.
func (p *Pool) thermal(m, h float64) (t, capacity, latent float64) {
	vapour := func(t float64) float64 { return evaporation + vapourHeat*(t-triplePoint) }
	switch c, ice := m*liquidHeat+p.HeatCapacity, m*iceHeat+p.HeatCapacity; {
	case h >= 0:
		t = triplePoint + h/c
		return t, c, vapour(t) - liquidHeat*(t-triplePoint)
	case h < -m*fusionHeat:
		t = triplePoint + (h+m*fusionHeat)/ice
		return t, ice, vapour(t) + fusionHeat - iceHeat*(t-triplePoint)
	}
	return triplePoint, math.Inf(1), vapour(triplePoint)
}

// wetted is the share of the evaporation's conductance left at mass m: nearly all until 2 % are left.
func (p *Pool) wetted(m float64) float64 {
	if m <= 0 {
		return 0
	}
	return m / (m + 0.02*p.Mass)
}
