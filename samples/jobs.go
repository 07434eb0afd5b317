package samples

import "dryhold/samples/sim"

// barometer is the station pressure at the firm's town, 1,450 m up (Pa), as in its job files.
const barometer = 85.0e3

// All volumes below are L, tubes m; sim wants SI.
const litre = 1e-3

// circuit is a split unit: hose, manifold, outdoor unit, lines with indoor unit, gauge. The
// gauge is of the thermal-conductivity kind, which reads water vapour about twice too high.
func circuit(seed uint64, outdoor, indoor float64, farGauge bool) sim.Scenario {
	at := 1
	if farGauge {
		at = 3
	}
	return sim.Scenario{
		Seed: seed, Barometer: barometer, Humidity: 0.02,
		Volumes: []float64{0.12 * litre, 0.06 * litre, outdoor * litre, indoor * litre, 0.02 * litre},
		Links: []sim.Link{
			sim.Tube(0, 1, 0.00635, 1.5, 1), // a 1/4 in hose
			sim.Tube(1, 2, 0.008, 0.1, 1),   // core removed
			sim.Tube(2, 3, 0.017, 10.7, 1),  // 35 ft of 3/4 in
			sim.Tube(at, 4, 0.0048, 0.3, 1),
		},
		Pump:    sim.Pump{Rate: 2.36 * litre, Ultimate: 30 * sim.Micron},
		Ambient: sim.Ambient{Start: 291.15, Slope: 0.6 / 3600, Swing: 0.1, Period: 1500, Delay: 300, Logged: true},
		Gauge: sim.Gauge{
			At: 4, Lag: 0.5, Water: 2, GainLimit: 0.10, OffsetLimit: 5 * sim.Micron, Gain: 0.03, Offset: -1.5 * sim.Micron,
			Noise: 0.004, Memory: 5, Top: 20000 * sim.Micron,
			Resolution: []sim.Resolution{{Below: 2000 * sim.Micron, Step: sim.Micron},
				{Below: 0, Step: 10 * sim.Micron}},
		},
		Sampling: sim.Sampling{Interval: 2, Clock: 1},
	}
}

// wall is water on walls that fills a volume with the time constant tau.
func wall(at int, whole, capacity, tau, pressure float64) sim.Store {
	return sim.Store{At: at, Capacity: capacity * litre, Pressure: pressure, PerKelvin: 0.06,
		Conductance: 1 / (tau * (1/(whole*litre) + 1/(capacity*litre)))}
}

func jobs() []job {
	return []job{cleanInstall(), slowLeak(), wetHold(), tripleEvacuation(), shortHold(), repaired(), complete(), heatWave()}
}

func cleanInstall() job {
	s := circuit(11, 3.9, 5.6, true)
	s.Stores = []sim.Store{wall(2, 9.6, 3, 70, 60), wall(3, 9.6, 0.3, 500, 1)}
	s.Inflows = []sim.Inflow{{At: 2, Q: 0.01 * sim.Micron / 60 * 9.6 * litre}}
	s.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 95},
		{What: sim.PullDown, Seconds: 3000, Reach: 260 * sim.Micron, Stay: 150},
		{What: sim.Hold, Seconds: 1830},
	}
	return job{name: "clean-install", about: "A new installation: tight, dry, gauge at the far end.", logs: []log{{
		file: "vacuum.xlsx", start: "2031-04-09 09:41:10", sim: s,
		dress: dress{sheet: "Evacuation", title: []string{"Circuit A, gauge at the liquid service port", ""},
			header: []string{"Time", "Pressure (micron)", "Ambient (°F)"}, pressure: micron, ambient: fahrenheit, over: "over range"},
	}}}
}

func slowLeak() job {
	s := circuit(23, 4.4, 6.1, true)
	s.Stores = []sim.Store{wall(2, 10.7, 3, 65, 250), wall(3, 10.7, 0.3, 500, 40)}
	s.Inflows = []sim.Inflow{{At: 3, Q: 4.6 * sim.Micron / 60 * 10.7 * litre}}
	s.Gauge.Gain, s.Gauge.Noise = -0.04, 0.006
	s.Sampling = sim.Sampling{Interval: 5, Jitter: 0.4, Clock: 1, Missing: 0.004}
	s.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 62},
		{What: sim.PullDown, Seconds: 3000, Reach: 340 * sim.Micron, Stay: 120},
		{What: sim.Hold, Seconds: 2420},
		{What: sim.PullDown, Seconds: 240},
	}
	return job{name: "slow-leak", about: "A replacement: the agreed criterion is met, but the pressure keeps rising.", logs: []log{{
		file: "gauge-log.csv", start: "2031-05-20 13:12:00", sim: s,
		dress: dress{header: []string{"Date", "Time", "Vacuum (micron)", "Outdoor temp (°F)"}, layout: []string{"2006-01-02", "15:04:05"},
			pressure: micron, ambient: fahrenheit, over: "over range"},
	}}}
}

func wetHold() job {
	s := circuit(37, 5.2, 8.9, true)
	s.Ambient.Start = 294.15
	s.Stores = []sim.Store{wall(3, 14.3, 60, 420, 330)}
	s.Gauge = sim.Gauge{At: 4, Lag: 0.2, Water: 1, GainLimit: 0.01, OffsetLimit: 2, Gain: 0.004, Offset: 0.6, Noise: 0.003, Memory: 4,
		Top: 3000, Resolution: []sim.Resolution{{Below: 0, Step: 0.1}}}
	s.Sampling = sim.Sampling{Interval: 3, Clock: 1, Repeated: 0.004}
	s.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 140},
		{What: sim.PullDown, Seconds: 2400, Reach: 45, Stay: 200},
		{What: sim.Hold, Seconds: 2450},
	}
	return job{name: "wet-hold", about: "A relocation with damp pipes: the pressure rises after isolation and levels off.", logs: []log{{
		file: "vacio.csv", start: "2031-06-17 08:05:30", sim: s,
		dress: dress{header: []string{"Fecha y hora", "Presión (Pa)", "Temperatura (°C)"}, layout: []string{"02/01/2006 15:04:05"},
			pressure: pascal, ambient: celsius, over: "fuera de rango", comma: true},
	}}}
}
