package sim

import "math"

// equilibrium returns the pressure over a store, per amount in it, at temperature t,
// and the row of the gas that it gives.
func (s *solver) equilibrium(st *Store, t float64) (perAmount float64, row int) {
	row = st.At
	if !st.Dry {
		row += s.l.n
	}
	return t / st.Capacity * math.Exp(st.PerKelvin*(t-s.sc.Ambient.Start)), row
}

// stores puts the flow K(p_eq - p), with p_eq at the end of the step, into the
// equations; for gas from oil K p_eq.
func (s *solver) stores(y state, t, h float64) {
	for k := range s.sc.Stores {
		st := &s.sc.Stores[k]
		e, row := s.equilibrium(st, t)
		c := h * st.Conductance / (1 + h*st.Conductance*e/t)
		if !st.Dry {
			s.m[row][row] += c
		}
		s.m[row][2*s.l.n] += c * e * y[s.l.stores+k]
	}
}

// emptyStores books what the stores gave.
func (s *solver) emptyStores(y state, p []float64, t, h float64, out state) {
	for k := range s.sc.Stores {
		st := &s.sc.Stores[k]
		e, row := s.equilibrium(st, t)
		i := s.l.stores + k
		back := p[row]
		if st.Dry {
			back = 0
		}
		out[i] = (y[i] + h*st.Conductance*back/t) / (1 + h*st.Conductance*e/t)
	}
}

// A balance holds a pool's linearised evaporation in a step: the flow
// C ((saturation - p)(1 - cooling) + warming), and the temperature that it starts from.
type balance struct {
	c, saturation, cooling, warming  float64
	start, latent, gain, conductance float64
}

// balance solves the heat balance of pool k for the temperature at the end of the step,
//
//	capacity (T1 - T0)/h = U (Ta - T1) - latent g (ps + ps' (T1 - T0) - p)
//
// with g = C M/(R T), leaving p, the vapour's pressure, as the unknown.
func (s *solver) balance(k int, y state, t, ta, h float64) balance {
	p := &s.sc.Pools[k]
	m := y[s.l.mass+k]
	t0, capacity, latent := p.thermal(m, y[s.l.heat+k])
	b := balance{
		c:          p.Conductance * p.wetted(m) / (1 + math.Max(0, s.p[p.At])/diffusionGas),
		saturation: Saturation(t0), start: t0, latent: latent,
	}
	slope := (Saturation(t0+0.05) - Saturation(t0-0.05)) / 0.1
	g := b.c * waterMolar / (gasConstant * t)
	b.gain = h / (capacity + h*p.Heating + h*latent*g*slope) // 0 while it freezes or melts
	b.cooling = slope * b.gain * latent * g
	b.warming = slope * b.gain * p.Heating * (ta - t0)
	b.conductance = g
	return b
}

// pools puts evaporation into the equations.
func (s *solver) pools(y state, t, ta, h float64) {
	n := s.l.n
	for k := range s.sc.Pools {
		row := n + s.sc.Pools[k].At
		b := s.balance(k, y, t, ta, h)
		s.m[row][row] += h * b.c * (1 - b.cooling)
		s.m[row][2*n] += h * b.c * (b.saturation*(1-b.cooling) + b.warming)
	}
}

// emptyPools books what evaporated, and its heat.
func (s *solver) emptyPools(y state, p []float64, t, ta, h float64, out state) {
	for k := range s.sc.Pools {
		pool := &s.sc.Pools[k]
		b := s.balance(k, y, t, ta, h)
		v := p[s.l.n+pool.At]
		flow := b.c * ((b.saturation-v)*(1-b.cooling) + b.warming)
		gone := h * flow * waterMolar / (gasConstant * t)
		end := b.start + b.gain*(pool.Heating*(ta-b.start)-b.latent*b.conductance*(b.saturation-v))
		out[s.l.mass+k] = y[s.l.mass+k] - gone
		out[s.l.heat+k] = y[s.l.heat+k] + h*pool.Heating*(ta-end) -
			gone*(evaporation+vapourHeat*(b.start-triplePoint))
	}
}
