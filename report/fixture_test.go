package report

import (
	"math"
	"time"

	"dryhold/analysis/record"
)

// testRecord is an invented job with every section: a criterion that is met
// while the readings show a steady inflow.
func testRecord() *record.Record {
	const micron = 0.133322387415
	pa := func(m float64) *record.Value { return record.Plain(m*micron, "Pa") }
	between := func(v, lo, hi float64) *record.Value { return record.Between(v*micron, lo*micron, hi*micron, "Pa") }
	zone := time.FixedZone("", -6*3600)
	day := time.Date(2031, 4, 9, 8, 40, 0, 0, zone)
	at := func(min float64) string {
		return day.Add(time.Duration(min * float64(time.Minute))).Format(time.RFC3339)
	}
	yes := true
	limited := true
	criterion := record.Criterion{Name: "example", What: "limit", Text: "not above 500 micron for 60 min", Source: "UFGS-15182 §3.3.3", Certainty: "as published",
		Limit: pa(500), Reading: pa(407), Minutes: record.Plain(3600, "s"), U: pa(26.4), Decision: "pass"}
	reach := record.Criterion{What: "reach", Text: "reach 300 micron", Source: "UFGS-15182 §3.3.3", Limit: pa(300), Reading: pa(267), U: pa(18), Decision: "pass"}
	hold := record.Hold{Start: at(132), End: at(192.5), Found: "detected", StartPressure: pa(286), EndPressure: pa(407), Rise: pa(120), SettleEnd: at(134.5), SettleHow: "left out",
		Criterion: &criterion, Criteria: []record.Criterion{criterion, reach}, Limit: pa(500), LimitAt: at(192), ReadingAtLimit: pa(407), StandardUncertainty: pa(26.4), GuardBand: pa(43.4),
		Decision: "pass", DecisionReason: "the highest reading is below the limit less its guard band", Cause: "leak", CauseReason: "the steady part is 118 micron, above every threshold", Inflow: true,
		LeakRate: record.Between(4.4e-5, 3.6e-5, 5.2e-5, "Pa m3/s"), LeakRise: record.Between(2.05*micron/60, 1.82*micron/60, 2.28*micron/60, "Pa/s"), LeakPart: between(118, 110, 119),
		MoistureRise: between(1, 0, 8), MoistureTime: record.Plain(180, "s"), MoistureMass: record.Plain(2e-8, "kg"), SmallestLeak: record.Plain(2.4e-6, "Pa m3/s"), SmallestRise: record.Plain(0.11*micron/60, "Pa/s"),
		Threshold: pa(12), Residual: pa(0.88), Correlation: record.Plain(0.47, "1"), Readings: 691,
		Ambient: record.Between(290.6, 290.4, 290.9, "K"),
		Models: []record.Model{
			{Name: "nothing", Parameters: map[string]*record.Value{"p0": pa(346.5)}, RSS: 806376.6 * micron * micron, AICc: 1801.4, Weight: 0},
			{Name: "leak", Parameters: map[string]*record.Value{"p0": pa(287.5), "a": record.Plain(2.05*micron/60, "Pa/s")}, RSS: 542.8 * micron * micron, AICc: 1.9, Weight: 0.28},
			{Name: "moisture", Parameters: map[string]*record.Value{"p0": pa(281.2), "M": pa(250), "tau": record.Plain(5400, "s")}, RSS: 5669.8 * micron * micron, AICc: 582.7, Weight: 0},
			{Name: "leak and moisture", Parameters: map[string]*record.Value{"p0": pa(286.6), "a": record.Plain(2.05*micron/60, "Pa/s"), "M": pa(1), "tau": record.Plain(180, "s")}, RSS: 529.7 * micron * micron, AICc: 0, Weight: 0.72},
		},
		Budget: []record.Term{{Name: "accuracy", Kind: "rectangular", U: pa(26.4)}, {Name: "resolution", Kind: "rectangular", U: pa(0.3)}},
	}
	r := &record.Record{
		Format: 1,
		Job: record.Job{Number: "TST-2031-0419", Kind: "replacement", Date: "2031-04-09", Timezone: "America/Denver", Altitude: "1609 m", Barometer: record.Plain(83400, "Pa"), BarometerFrom: "measured",
			Company:    record.Party{Name: "Example Mechanical (invented)", Address: "14 Sample Street, Nowhere", Phone: "555-0142", Licence: "INV-00417"},
			Technician: record.Party{Name: "A. Sample", Certification: "credential INV-T-2208"}, Customer: record.Party{Name: "B. Example"},
			Site:      record.Party{Address: "7 Old Test Road, Nowhere", Permit: "INV-31-0877"},
			Equipment: []record.Equipment{{Role: "outdoor unit", Maker: "Madeup", Model: "MU-48", Serial: "0047118OA3"}, {Role: "indoor unit", Maker: "Madeup", Model: "MU-48V", Serial: "0051902B07"}},
			System:    record.System{Circuit: "A", Refrigerant: "R-454B", Class: "A2L", Volume: record.Between(0.0096, 0.00816, 0.01104, "m3"), VolumeFrom: "worked out from the pieces", Lines: []record.Line{{Role: "suction line", Text: "7/8 in x 35 ft", Volume: record.Plain(0.0038, "m3")}}},
			Boundary:  record.Boundary{Included: []string{"both units", "line set 35 ft", "two hoses", "two core tools"}, Excluded: []string{"pump", "its hose and the valve at the pump"}, Valves: "service valves open", IsolatedAt: "valve at the pump", GaugeAt: "far end", CoresRemoved: &yes},
			Sample:    true},
		Software: record.Software{Name: "Dryhold", Version: "test"},
		Show:     record.Presentation{Audience: []string{"homeowner", "inspector", "warranty"}, Units: "us", Language: "en", Paper: "letter"},
		Inputs: []record.Input{{ID: "v", File: "vacuum.csv", SHA256: "b0c47719e2ad0f35b0c47719e2ad0f35b0c47719e2ad0f35b0c47719e2ad0f35", Rows: 2304, Used: 2291, OverRange: 11, Duplicates: 2, PressureUnit: "micron", First: at(0), Last: at(192.5), Interval: record.Plain(5, "s")},
			{ID: "n", File: "nitrogen.xlsx", Sheet: "N2", SHA256: "44fe9d0a61b8c27344fe9d0a61b8c27344fe9d0a61b8c27344fe9d0a61b8c273", Rows: 1016, Used: 1016, PressureUnit: "psig", Interval: record.Plain(60, "s")}},
		Phases: []record.Phase{{What: "idle", Start: at(0), End: at(5)}, {What: "pull-down", Start: at(5), End: at(43)}, {What: "nitrogen break", Start: at(43), End: at(48)}, {What: "pull-down", Start: at(48), End: at(132)}, {What: "hold", Start: at(132), End: at(192.5)}},
		PullDown: &record.PullDown{Start: at(48), End: at(132), Lowest: between(267, 231, 303), TimeTo: map[string]*record.Value{"10000 micron": record.Plain(288, "s"), "1000 micron": record.Plain(618, "s"), "500 micron": record.Plain(966, "s"), "300 micron": record.Plain(1962, "s")},
			Rate: record.Between(0.0052, 0.0048, 0.0056, "1/s"), Asymptotic: between(266, 260, 272), HoseLimited: &limited,
			RateAt: []record.RateAt{{Pressure: pa(10000), Rate: record.Plain(0.0154, "1/s")}, {Pressure: pa(1000), Rate: record.Plain(0.0052, "1/s")}},
			Hoses:  &record.Hoses{Pressure: pa(500), Conductance: record.Plain(0.00023, "m3/s"), Effective: record.Plain(0.00021, "m3/s"), Share: record.Plain(0.11, "1"), Larger: record.Plain(0.36, "1"), Table: hoseTable(micron)}},
		Hold: &hold, Holds: []record.Hold{hold},
		Breaks:    []record.Break{{Start: at(43), End: at(48), Pressure: record.Plain(101000, "Pa"), Remaining: record.Plain(0.0005, "1")}},
		PumpCheck: &record.PumpCheck{Reading: pa(60), Result: "oil serves", OilChanged: &yes, GasBallast: &yes},
		Pressure: &record.Pressure{Kind: "tightness", Gas: "dry nitrogen", From: "readings", Start: at(-1400), End: at(-385), Duration: record.Plain(60900, "s"),
			StartPressure: record.Plain(3186000, "Pa"), EndPressure: record.Plain(3155600, "Pa"), StartTemperature: record.Plain(289.37, "K"), EndTemperature: record.Plain(287.04, "K"), Expected: record.Plain(3158400, "Pa"),
			Change: record.Between(-2800, -20700, 15100, "Pa"), U: record.Plain(9100, "Pa"), SmallestLeak: record.Plain(4.7e-3, "Pa m3/s"), DesignPressure: record.Plain(3200000, "Pa"), MaxChange: record.Plain(34474, "Pa"), Decision: "pass",
			DecisionReason: "no fall beyond the uncertainty", CarryLow: record.Between(3.2e-3, 1.6e-3, 6.6e-3, "Pa m3/s"), Agreement: "cannot decide", Instrument: "P-02", TemperatureAt: "liquid line, shaded",
			Budget: []record.Term{{Name: "offset", U: record.Plain(8500, "Pa")}, {Name: "temperature", U: record.Plain(3200, "Pa")}, {Name: "gain", U: record.Plain(0, "Pa")}},
			Stages: []record.Stretch{{Start: at(-1480), End: at(-1410), Pressure: record.Plain(1600000, "Pa")}, {Start: at(-1400), End: at(-385), Pressure: record.Plain(3180000, "Pa")}}},
		Charge: &record.Charge{Factory: record.Plain(3.402, "kg"), Allowance: record.Plain(0.68, "kg"), Added: record.Plain(0.709, "kg"), Total: record.Plain(4.111, "kg"), Difference: record.Plain(0.029, "kg"), GWP: record.Plain(466, "1"), GWPEdition: "AR4", CO2e: record.Plain(1916, "kg"), Instrument: "M-04"},
		Leaks:  []record.LeakCheck{{Stage: "after charging", Method: "electronic detector", Place: "all joints", Sensitivity: "0.1 oz/yr", Result: "no indication"}},
		Startup: &record.Startup{Rows: []record.Judged{{Name: "superheat", Value: record.Plain(5.56, "K"), U: record.Plain(0.6, "K"), Low: record.Plain(4.4444, "K"), High: record.Plain(6.6667, "K"), Decision: "pass", Source: "maker's instructions", Saturation: record.Plain(277.6, "K")},
			{Name: "subcooling", Value: record.Plain(5.78, "K"), U: record.Plain(0.65, "K"), Low: record.Plain(4.4444, "K"), High: record.Plain(6.6667, "K"), Decision: "conditional pass", Source: "maker's instructions"}}},
		Attempts: []record.Attempt{{Test: "hold", Finding: "flare at the indoor unit not tightened", Repair: "flare remade", Hold: &record.Hold{Start: at(-300), End: at(-285), StartPressure: pa(420), EndPressure: pa(1900), Decision: "fail", DecisionReason: "1,900 micron against a limit of 500 micron", Cause: "leak", CauseReason: "a steady rise", LeakRate: record.Between(1.1e-3, 0.9e-3, 1.3e-3, "Pa m3/s")}}},
		Loss:     &record.Loss{Refrigerant: "R-454B", Pressure: record.Plain(1411000, "Pa"), Temperature: record.Plain(294, "K"), PerYear: record.Between(2.1, 0.36, 12.6, "kg")},
		Instruments: []record.Instrument{{ID: "V-01", Measures: "vacuum", Principle: "capacitance diaphragm", Range: "0 to 20000 micron", Serial: "INV-V-0093", Calibrated: "2030-09-03", Due: "2031-09-03", Certificate: "report INV-1", Accuracy: "10 % + 5 micron", Resolution: "1 micron", UsedFor: []string{"evacuation", "hold"}},
			{ID: "P-02", Measures: "pressure", Range: "0 to 800 psig", Serial: "INV-P-0311", Calibrated: "2030-10-22", Due: "2031-10-22", Accuracy: "1.5 psig"}, {ID: "M-04", Measures: "mass", Serial: "INV-M-0417", Accuracy: "0.3 oz", Calibrated: "2029-11-19", Due: "2030-11-19", Overdue: true}},
		Events:   []record.Event{{Time: at(60), What: "ambient heater on"}},
		Signoffs: []record.Signoff{{Role: "technician", Name: "A. Sample", Date: "2031-04-19", Method: "typed by office"}},
		Open: []record.Note{{Code: "place", Text: "the steady inflow may come from outside, past a closed valve or through a hose inside the boundary", Settle: "hold at the closed service valves for 60 min"},
			{Code: "operating-pressure", Text: "a hold acts with at most one atmosphere, from outside to inside", Settle: "leak check at operating pressure after 24 h of running"},
			{Code: "water-left", Text: "water may remain in the oil; the rise shows released vapour only", Settle: "the maker's oil test, if called for"}},
		Warnings: []record.Note{{Code: "over-range", Text: "11 readings over range at the start were left out", Where: "vacuum.csv rows 2 to 12"}},
		Cautions: []record.Caution{{Code: "inflow"}, {Code: "flammable"}, {Code: "frost"}, {Code: "recheck"}, {Code: "test-gas"}},
	}
	r.Traces = testTraces(at(0), micron)
	return r
}

func hoseTable(micron float64) []record.HoseAt {
	var out []record.HoseAt
	for e := 1.0; e <= 5; e += 0.25 {
		p := math.Pow(10, e)
		out = append(out, record.HoseAt{Pressure: record.Plain(p*micron, "Pa"), Share: record.Plain(p/(p+1800)*0.9+0.05, "1")})
	}
	return out
}

// testTraces is an invented recording of 192 minutes: two pull-downs and a hold
// that rises by 2.05 micron a minute.
func testTraces(start string, micron float64) record.Traces {
	noise := func(i int) float64 { return math.Sin(float64(i)*12.9898) * 0.9 }
	curve := func(m float64) float64 {
		switch {
		case m < 5:
			return 620000
		case m < 43:
			return 410 + 620000*math.Exp(-(m-5)/1.6) + 2000*math.Exp(-(m-5)/6)
		case m < 48:
			return 600000
		case m < 132:
			return 264 + 620000*math.Exp(-(m-48)/1.6) + 3000*math.Exp(-(m-48)/7)
		}
		return 272 + 14*(1-math.Exp(-(m-132)/0.7)) + 2.05*(m-132)
	}
	t := record.Traces{Start: start, Vacuum: &record.Trace{}, Hold: &record.Trace{}, Fit: &record.Band{}, Pressure: &record.Trace{}, Corrected: &record.Trace{}}
	for i := 0; i <= 1540; i++ {
		m := float64(i) * 192.5 / 1540
		t.Vacuum.T = append(t.Vacuum.T, m*60)
		t.Vacuum.Y = append(t.Vacuum.Y, (curve(m)+noise(i))*micron)
	}
	for i := 0; i <= 720; i++ {
		m := 132 + float64(i)/12
		t.Hold.T = append(t.Hold.T, m*60)
		t.Hold.Y = append(t.Hold.Y, (curve(m)+noise(i))*micron)
	}
	for i := 0; i <= 60; i++ {
		m := 134.5 + float64(i)*58/60
		y := 286 + 2.05*(m-132)
		t.Fit.T = append(t.Fit.T, m*60)
		t.Fit.Y = append(t.Fit.Y, y*micron)
		t.Fit.Low = append(t.Fit.Low, (y-1.8)*micron)
		t.Fit.High = append(t.Fit.High, (y+1.8)*micron)
	}
	for i := 0; i <= 1000; i++ {
		h := float64(i) / 1000 * 16.92
		k := 289.37 - 2.33*(1-math.Cos(h/16.92*math.Pi))/2 - 3*math.Sin(h/16.92*math.Pi)
		t.Pressure.T = append(t.Pressure.T, h*3600)
		t.Pressure.Y = append(t.Pressure.Y, 3186000*k/289.37+noise(i)*900-2800*h/16.92)
		t.Corrected.T = append(t.Corrected.T, h*3600)
		t.Corrected.Y = append(t.Corrected.Y, 3186000+noise(i)*900-2800*h/16.92)
	}
	return t
}

func testOptions(audience string) Options {
	return Options{Audience: audience, Language: "en", Units: "us", Paper: "letter", Digest: "3f2a91c05be7d8143f2a91c05be7d8143f2a91c05be7d8143f2a91c05be7d814",
		Attachments: []string{"job.toml", "company.toml", "vacuum.csv", "nitrogen.xlsx", "results.json"}, Signer: "Example Mechanical (invented)", KeyFingerprint: "5d1f82a06c39e7145d1f82a06c39e714"}
}
