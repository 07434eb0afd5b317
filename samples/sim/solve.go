package sim

import "math"

// A condition is what the surroundings do to the circuit in one step of the work.
type condition struct {
	open     bool    // the isolation valve
	fill     float64 // Pa m3/s of dry gas into volume fillAt
	fillAt   int
	noInflow bool // for the runs that separate causes
	noSource bool
}

// A solver advances a state in time.
type solver struct {
	sc      *Scenario
	l       layout
	c       condition
	t, h    float64
	y       state
	m       [][]float64 // equations of one step: p of dry gas, p of vapour | right side
	p, q    []float64   // partial pressures at the start and the end of a step
	a, b, d state       // whole step, first and second half
}

func newSolver(sc *Scenario, y state, t float64) *solver {
	s := &solver{sc: sc, l: sc.layout(), t: t, y: append(state(nil), y...)}
	s.m = make([][]float64, 2*s.l.n)
	for i := range s.m {
		s.m[i] = make([]float64, 2*s.l.n+1)
	}
	s.p, s.q = make([]float64, 2*s.l.n), make([]float64, 2*s.l.n)
	s.a, s.b, s.d = make(state, s.l.size), make(state, s.l.size), make(state, s.l.size)
	s.set(condition{})
	return s
}

// set changes the conditions; steps begin small again.
func (s *solver) set(c condition) { s.c, s.h = c, 0.01 }

const (
	tolerance = 1e-3 // relative, of a whole step against two halves
	smallest  = 1e-3 // s
	longest   = 20.0 // s
)

// advance takes the state to time end.
func (s *solver) advance(end float64) {
	for s.t < end {
		h := math.Min(s.h, longest)
		last := h >= end-s.t
		if last {
			h = end - s.t
		}
		s.euler(s.y, s.t, h, s.a)
		s.euler(s.y, s.t, h/2, s.b)
		s.euler(s.b, s.t+h/2, h/2, s.d)
		e := s.difference()
		if e > 1 && h > smallest {
			s.h = math.Max(smallest, h*math.Max(0.2, 0.9/math.Sqrt(e)))
			continue
		}
		for i := range s.y {
			s.y[i] = 2*s.d[i] - s.a[i]
		}
		s.t += h
		if last {
			s.t = end
		}
		if next := math.Max(smallest, h*math.Min(3, 0.9/math.Sqrt(e+1e-9))); !last || next > s.h {
			s.h = next
		}
	}
}

// difference is the error of a step in units of the tolerance.
func (s *solver) difference() float64 {
	worst := 0.0
	see := func(i int, scale float64) {
		worst = math.Max(worst, math.Abs(s.a[i]-s.d[i])/scale)
		if short := math.Min(0, s.y[i]) - (2*s.d[i] - s.a[i]); i < s.l.heat {
			worst = math.Max(worst, short/(0.05*scale)) // amounts do not go below zero
		}
	}
	t := s.y[s.l.temperature]
	for j, v := range s.sc.Volumes {
		scale := tolerance*(s.d[j]+s.d[s.l.n+j]) + 1e-3*v/t
		see(j, scale)
		see(s.l.n+j, scale)
	}
	for k, p := range s.sc.Stores {
		see(s.l.stores+k, tolerance*(s.d[s.l.stores+k]+1e-2*p.Capacity/t))
	}
	for k, p := range s.sc.Pools {
		see(s.l.mass+k, tolerance*p.Mass)
		see(s.l.heat+k, 0.02*(p.HeatCapacity+liquidHeat*s.d[s.l.mass+k]))
	}
	return worst
}

// euler writes the state after one linearly implicit step of length h to out.
func (s *solver) euler(y state, t, h float64, out state) {
	l, sc := &s.l, s.sc
	t0, ta := y[l.temperature], sc.Ambient.at(t+h)
	t1 := ta
	if d := sc.Ambient.Delay; d > 0 {
		t1 = (t0 + h/d*ta) / (1 + h/d)
	}
	for i, v := range sc.Volumes {
		s.p[i], s.p[l.n+i] = y[i]*t0/v, y[l.n+i]*t0/v
	}
	for i := range s.m {
		clear(s.m[i])
		s.m[i][i] = sc.Volumes[i%l.n]
		s.m[i][2*l.n] = y[i] * t1
	}
	s.flows(h)
	copy(out, y)
	if !s.c.noSource {
		s.stores(y, t1, h)
		s.pools(y, t1, ta, h)
	}
	p := s.q
	eliminate(s.m, p)
	for i := range p {
		out[i] = p[i] * sc.Volumes[i%l.n] / t1
	}
	if !s.c.noSource {
		s.emptyStores(y, p, t1, h, out)
		s.emptyPools(y, p, t1, ta, h, out)
	}
	out[l.temperature] = t1
	g := &sc.Gauge
	seen := p[g.At] + g.Water*p[l.n+g.At]
	out[l.gauge] = (g.Lag*y[l.gauge] + h*seen) / (g.Lag + h)
	if s.c.open {
		out[l.pumped] += h * sc.Pump.Rate * (p[0] + p[l.n] - sc.Pump.Ultimate) / t1
	}
}

// flows puts tubes, pump, inflows and filling into the equations.
func (s *solver) flows(h float64) {
	n, rhs := s.l.n, 2*s.l.n
	for i := range s.sc.Links {
		if i == 0 && !s.c.open {
			continue
		}
		s.tube(&s.sc.Links[i], h)
	}
	if s.c.open {
		s.m[0][0] += h * s.sc.Pump.Rate
		s.m[n][n] += h * s.sc.Pump.Rate
		s.m[0][rhs] += h * s.sc.Pump.Rate * s.sc.Pump.Ultimate
	}
	if !s.c.noInflow {
		for _, f := range s.sc.Inflows {
			s.m[f.At][rhs] += h * f.Q * choked((s.p[f.At]+s.p[n+f.At])/s.sc.Barometer)
		}
	}
	s.m[s.c.fillAt][rhs] += h * s.c.fill
}

// tube couples both gases of the volumes at its ends: laminar flow of the whole,
// with the upstream composition, and molecular flow of each.
func (s *solver) tube(k *Link, h float64) {
	n, a, b := s.l.n, k.A, k.B
	pa, pb := s.p[a]+s.p[n+a], s.p[b]+s.p[n+b]
	up, top := a, pa
	if pb > pa {
		up, top = b, pb
	}
	x := 0.0 // share of vapour
	if top > 0 {
		x = math.Min(1, math.Max(0, s.p[n+up]/top))
	}
	mean := math.Max(0, (pa+pb)/2)
	laminar := h * k.Laminar * mean / (1 - x + vapourThin*x)
	molecular := h * k.molecular(mean)
	part := [2]float64{1 - x, x}
	light := [2]float64{1, math.Sqrt(airMolar / waterMolar)}
	for g := range 2 {
		i, j, f := g*n+a, g*n+b, laminar*part[g]
		for _, q := range [2]int{0, n} {
			s.m[i][q+a] += f
			s.m[i][q+b] -= f
			s.m[j][q+a] -= f
			s.m[j][q+b] += f
		}
		f = molecular * light[g]
		s.m[i][i] += f
		s.m[i][j] -= f
		s.m[j][i] -= f
		s.m[j][j] += f
	}
}

// choked is the share of the choked inflow at the pressure ratio r: isentropic nozzle, gamma = 1.4.
func choked(r float64) float64 {
	switch {
	case r <= 0.528:
		return 1
	case r >= 1:
		return 0
	}
	return math.Sqrt((math.Pow(r, 2/1.4) - math.Pow(r, 2.4/1.4)) / 0.06698)
}

// eliminate solves the equations into x; they are dominated by their diagonal.
func eliminate(m [][]float64, x []float64) {
	n := len(m)
	for k := range n {
		top := m[k][k:]
		for i := k + 1; i < n; i++ {
			row := m[i][k:][:len(top)]
			f := row[0] / top[0]
			if f == 0 {
				continue
			}
			for j, v := range top {
				row[j] -= f * v
			}
		}
	}
	for i := n - 1; i >= 0; i-- {
		v := m[i][n]
		for j := i + 1; j < n; j++ {
			v -= m[i][j] * x[j]
		}
		x[i] = v / m[i][i]
	}
}
