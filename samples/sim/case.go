package sim

import (
	"math"
	"math/rand/v2"
)

// Case draws the scenario of a seed: a circuit of 5 to 80 L, evacuated once to
// three times, then isolated for 10 to 60 min, with the gauge at either
// end. The cause that is aimed at is none in 25 %, an inflow in 30 %, water or
// gas from oil in 25 %, both in 20 %; sizes lie around and far above the threshold
// of [Truth.Threshold]. What came out is in [Recording.Truth]: a store that was pumped
// empty, or a pool that never was, changes the cause.
func Case(seed uint64) Scenario {
	d := &draw{Rand: rand.New(rand.NewPCG(seed, 0xca5e))}
	sc := &Scenario{
		Seed: seed, Barometer: d.between(79e3, 103e3), Humidity: d.of(0.005, 0.02, 0.02, 0.2, 0.5),
		Pump: Pump{Rate: d.log(0.8e-3, 5e-3), Ultimate: d.log(1, 60) * Micron},
		Ambient: Ambient{
			Start: 273.15 + d.between(2, 40), Slope: d.NormFloat64() * 1.5 / 3600, Swing: d.between(0, 0.5),
			Period: d.log(300, 5400), Delay: d.log(60, 900), Logged: d.share(0.6),
		},
	}
	d.circuit(sc)
	hold := math.Round(d.log(600, 3600))
	d.work(sc, hold)
	d.sampling(sc)
	d.causes(sc, hold)
	return *sc
}

// A draw is a source of random parameters.
type draw struct{ *rand.Rand }

func (d *draw) between(a, b float64) float64 { return a + (b-a)*d.Float64() }
func (d *draw) log(a, b float64) float64     { return a * math.Pow(b/a, d.Float64()) }
func (d *draw) share(p float64) bool         { return d.Float64() < p }
func (d *draw) of(v ...float64) float64      { return v[d.IntN(len(v))] }

// circuit draws volumes and tubes: pump's hose, manifold, two or three volumes in a row, gauge.
func (d *draw) circuit(sc *Scenario) {
	whole := d.log(5e-3, 80e-3)
	sc.Volumes = []float64{d.log(0.05e-3, 0.3e-3), d.log(0.03e-3, 0.2e-3)}
	hose := d.of(0.0048, 0.0064, 0.0064, 0.0095, 0.0127)
	if whole > 25e-3 {
		hose = d.of(0.0095, 0.0127, 0.019)
	}
	length := d.between(0.9, 1.8)
	sc.Links = []Link{
		Tube(0, 1, hose, length, 1),
		Tube(1, 2, d.between(0.004, 0.009), d.log(0.02, 1), 1+d.IntN(2)),
	}
	parts := 2 + d.IntN(2)
	left := whole
	for i := range parts {
		v := left
		if i < parts-1 {
			v = left * d.between(0.2, 0.7)
		}
		left -= v
		at := len(sc.Volumes)
		sc.Volumes = append(sc.Volumes, v)
		if i > 0 {
			sc.Links = append(sc.Links, Tube(at-1, at, d.between(0.008, 0.022), d.log(1, 25), 1))
		}
	}
	d.gauge(sc)
}

func (d *draw) gauge(sc *Scenario) {
	far := len(sc.Volumes) - 1
	at := 1
	if d.share(0.45) {
		at = far
	}
	sc.Volumes = append(sc.Volumes, d.log(4e-6, 80e-6))
	g := far + 1
	if d.share(0.5) {
		sc.Links = append(sc.Links, Tube(at, g, 0.0048, d.log(0.05, 1.5), 1))
	} else {
		sc.Links = append(sc.Links, Tube(at, g, d.between(0.002, 0.004), d.between(0.008, 0.03), 1)) // a valve's core
	}
	if d.share(0.4) { // its own walls and seals
		sc.Stores = append(sc.Stores, Store{At: g, Capacity: d.log(1e-4, 1e-2), Conductance: d.log(1e-8, 1e-6),
			Pressure: d.log(30, 600), PerKelvin: 0.06})
	}
	gain, offset := d.of(0.05, 0.08, 0.1, 0.1, 0.15), d.of(5, 5, 10)*Micron
	u := Micron
	sc.Gauge = Gauge{
		At: g, Lag: d.log(0.1, 3), Water: 1,
		GainLimit: gain, OffsetLimit: offset, Gain: gain * d.between(-1, 1), Offset: offset * d.between(-1, 1),
		Noise: d.between(0.002, 0.012), Memory: d.log(1, 15), Top: d.of(12000, 20000, 25000, 760000) * u,
	}
	switch d.IntN(4) {
	case 0, 1:
		sc.Gauge.Resolution = []Resolution{{2000 * u, u}, {20000 * u, 10 * u}, {0, 100 * u}}
	case 2:
		sc.Gauge.Resolution = []Resolution{{1000 * u, u}, {10000 * u, 10 * u}, {0, 250 * u}}
	default:
		sc.Gauge.Resolution = []Resolution{{200, 0.1}, {2000, 1}, {0, 10}}
	}
}

// work draws what is done: idle, evacuations broken with nitrogen, the hold, and what follows.
func (d *draw) work(sc *Scenario, hold float64) {
	whole := 0.0
	for _, v := range sc.Volumes[1:] {
		whole += v
	}
	if d.share(0.85) {
		sc.Steps = append(sc.Steps, Step{What: Idle, Seconds: d.between(10, 600)})
	}
	reach := d.log(120, 700) * Micron
	longest := d.log(900, 4500)
	for range int(d.of(0, 0, 0, 1, 2)) {
		sc.Steps = append(sc.Steps, Step{What: PullDown, Seconds: d.log(600, 2400), Reach: reach * d.between(1, 4), Stay: d.between(0, 120)})
		if d.share(0.3) {
			sc.Steps = append(sc.Steps, Step{What: Hold, Seconds: d.between(60, 300)})
		}
		to := d.between(0.1, 1.1) * sc.Barometer
		sc.Steps = append(sc.Steps, Step{What: Break, At: 1, Reach: to, Flow: whole * to / d.between(20, 90), Seconds: d.between(60, 600)})
	}
	sc.Steps = append(sc.Steps,
		Step{What: PullDown, Seconds: longest, Reach: reach, Stay: d.between(0, 1200) * d.of(0.1, 1)},
		Step{What: Hold, Seconds: hold})
	switch k := d.Float64(); {
	case k < 0.3:
		sc.Steps = append(sc.Steps, Step{What: PullDown, Seconds: d.between(60, 600), Reach: 0})
	case k < 0.45:
		sc.Steps = append(sc.Steps, Step{What: Charge, At: 1, Reach: 1.5e5, Flow: whole * 1.5e5 / d.between(30, 200), Seconds: d.between(10, 120)})
	}
}

func (d *draw) sampling(sc *Scenario) {
	dt := d.of(1, 1, 2, 5, 10, 15, 30)
	clock := 1.0
	jitter := 0.0
	if d.share(0.7) {
		jitter = dt * d.between(0, 0.2)
	}
	if dt < 5 && jitter > 0 {
		clock = 0.1
	}
	sc.Sampling = Sampling{Interval: dt, Jitter: jitter, Clock: clock}
	if d.share(0.6) {
		sc.Sampling.Missing = d.between(0, 0.04)
	}
	if d.share(0.4) {
		sc.Sampling.Repeated = d.between(0, 0.02)
	}
	if d.share(0.3) {
		sc.Sampling.Swapped = d.between(0, 0.01)
	}
}
