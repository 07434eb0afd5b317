package samples

import "dryhold/samples/sim"

const iso = "2006-01-02T15:04:05"

func tripleEvacuation() job {
	s := circuit(41, 16, 22, true)
	s.Humidity = 0.4
	s.Links[0] = sim.Tube(0, 1, 0.0095, 1.8, 1)
	s.Stores = []sim.Store{wall(3, 38, 30, 240, 1000), wall(2, 38, 15, 160, 700)}
	s.Inflows = []sim.Inflow{{At: 3, Q: 0.02 * sim.Micron / 60 * 38 * litre}}
	s.Sampling = sim.Sampling{Interval: 5, Jitter: 0.3, Clock: 1, Missing: 0.002}
	nitrogen := sim.Step{What: sim.Break, At: 1, Reach: 102e3, Flow: 40, Seconds: 480}
	s.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 110},
		{What: sim.PullDown, Seconds: 1750, Reach: 700 * sim.Micron, Stay: 300}, nitrogen,
		{What: sim.PullDown, Seconds: 2000, Reach: 450 * sim.Micron, Stay: 300}, nitrogen,
		{What: sim.PullDown, Seconds: 5400, Reach: 190 * sim.Micron, Stay: 400},
		{What: sim.Hold, Seconds: 3700},
	}
	return job{name: "triple-evacuation", about: "A large new circuit with many indoor units, damp at first: three evacuations, broken twice with dry nitrogen.",
		logs: []log{{file: "vacuum.csv.gz", start: "2031-03-11 07:20:00", sim: s,
			dress: dress{title: []string{"Recorder 2; vacuum at the farthest indoor unit"}, header: []string{"Time", "Pressure (micron)", "Ambient (°C)"}, layout: []string{iso},
				pressure: micron, ambient: celsius, over: "over range", gzip: true}}}}
}

func shortHold() job {
	s := circuit(59, 2.1, 3.6, false)
	s.Stores = []sim.Store{wall(3, 5.7, 4, 240, 25)}
	s.Inflows = []sim.Inflow{{At: 2, Q: 2.2 * sim.Micron / 60 * 5.7 * litre}}
	s.Gauge.Gain, s.Gauge.Noise = 0.05, 0.009
	s.Sampling = sim.Sampling{Interval: 5, Clock: 1}
	s.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 70},
		{What: sim.PullDown, Seconds: 2400, Reach: 300 * sim.Micron, Stay: 60},
		{What: sim.Hold, Seconds: 315},
	}
	return job{name: "short-hold", about: "A repair whose hold of five minutes cannot settle what the pressure's rise means.",
		notes: []string{"The times in the file are seconds from the start that job.toml states."},
		logs: []log{{file: "pump-down.csv", start: "2031-07-08 16:31:00", sim: s,
			dress: dress{header: []string{"Elapsed (s)", "Vacuum (micron)"}, elapsed: true, pressure: micron, bare: true, over: "over range"}}}}
}

func repaired() job {
	first := circuit(67, 3.4, 5.0, false)
	first.Stores = []sim.Store{wall(2, 8.4, 3, 85, 300)}
	first.Inflows = []sim.Inflow{{At: 3, Q: 38 * sim.Micron / 60 * 8.4 * litre}}
	first.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 45},
		{What: sim.PullDown, Seconds: 1260, Reach: 300 * sim.Micron},
		{What: sim.Hold, Seconds: 1090},
	}
	second := circuit(68, 3.4, 5.0, false)
	second.Stores = []sim.Store{wall(2, 8.4, 3, 70, 120)}
	second.Inflows = []sim.Inflow{{At: 3, Q: 0.03 * sim.Micron / 60 * 8.4 * litre}}
	second.Ambient.Start = 293.15
	second.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 80},
		{What: sim.PullDown, Seconds: 2400, Reach: 180 * sim.Micron, Stay: 420},
		{What: sim.Hold, Seconds: 2140},
	}
	d := dress{header: []string{"Date", "Time", "Vacuum (micron)", "Ambient (°F)"}, layout: []string{"01/02/2006", "03:04:05 PM"},
		pressure: micron, ambient: fahrenheit, over: "over range"}
	return job{name: "repaired", about: "A first hold that failed, the finding, the repair, and a second hold.", logs: []log{
		{file: "attempt-1.csv", start: "2031-08-26 08:15:00", sim: first, dress: d},
		{file: "attempt-2.csv", start: "2031-08-26 11:02:00", sim: second, dress: d},
	}}
}

func complete() job {
	s := circuit(73, 4.1, 6.2, true)
	s.Links[0] = sim.Tube(0, 1, 0.0127, 1.2, 1)
	s.Stores = []sim.Store{wall(2, 10.3, 3, 70, 300), wall(3, 10.3, 0.3, 600, 3)}
	s.Inflows = []sim.Inflow{{At: 2, Q: 0.04 * sim.Micron / 60 * 10.3 * litre}}
	s.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 120},
		{What: sim.PullDown, Seconds: 3000, Reach: 150 * sim.Micron, Stay: 480},
		{What: sim.Hold, Seconds: 2700},
		{What: sim.Charge, At: 1, Reach: 1.2e5, Flow: 8, Seconds: 40},
	}
	nitrogen := standing{seed: 74, pressure: 500*psi + barometer, start: 289.15, swing: 7.4, hours: 4, interval: 60, step: 0.1 * psi}
	return job{name: "complete", about: "A new installation with everything that a job file can tell.", logs: []log{
		{file: "nitrogen.csv", start: "2031-09-18 07:30:00", nitro: &nitrogen,
			dress: dress{header: []string{"Time", "Pressure (psig)", "Pipe temperature (°F)"}, layout: []string{"2006-01-02 15:04:05"},
				pressure: psig, ambient: fahrenheit}},
		{file: "vacuum.xlsx", start: "2031-09-18 12:05:00", sim: s,
			dress: dress{sheet: "Log", title: []string{"Vacuum, recorder 1", "Circuit A"}, header: []string{"Time", "Pressure (micron)", "Ambient (°F)"},
				pressure: micron, ambient: fahrenheit, over: "over range"}},
	}}
}

func heatWave() job {
	s := circuit(83, 4.6, 5.9, false)
	s.Barometer = 83.5e3
	s.Ambient = sim.Ambient{Start: 314.65, Slope: -2.4 / 3600, Swing: 0.6, Period: 2100, Delay: 420, Logged: true}
	s.Stores = []sim.Store{wall(2, 10.5, 3, 70, 300), wall(3, 10.5, 0.5, 600, 6)}
	s.Gauge.Gain = 0.06
	s.Sampling = sim.Sampling{Interval: 4, Clock: 1}
	s.Steps = []sim.Step{
		{What: sim.Idle, Seconds: 60},
		{What: sim.PullDown, Seconds: 2400, Reach: 230 * sim.Micron, Stay: 600},
		{What: sim.Hold, Seconds: 2500},
	}
	return job{name: "heat-wave", about: "A repair at 1,600 m in a heat wave: the circuit cools while it holds.", logs: []log{{
		file: "vacuum.csv", start: "2031-07-22 15:40:00", sim: s,
		dress: dress{header: []string{"Time", "Vacuum (mTorr)", "Ambient (°F)"}, layout: []string{iso},
			pressure: unit{scale: 101325.0 / 760e3}, ambient: fahrenheit, over: "over range"},
	}}}
}
