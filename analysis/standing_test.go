package analysis_test

import (
	"math"
	"strings"
	"testing"

	"dryhold/analysis"
	"dryhold/analysis/job"
)

// The end pressures are those of nitrogen's equation of state (Span et al., J. Phys. Chem. Ref. Data
// 29:1361, 2000; CoolProp 8.0.1dev): 25 to 10 °C from 35 bar(g) gives 3,404,898 Pa absolute, 80 to 60 °F from
// 600 psig gives 575.007 psig, and 1 °F more than 75 °F at 500 psig gives 1.0425 psi. The virial fit
// agrees with it within 20 Pa (0.003 psi).
func TestStandingWorkedExamples(t *testing.T) {
	const psi = 6894.757293168
	for _, c := range []struct {
		name, start, from, end, to string
		expected                   float64 // Pa absolute
	}{
		{"one", "35.00 barg", "25 °C", "33.036 barg", "10 °C", 3404898},
		{"two", "600 psig", "80 °F", "575.0 psig", "60 °F", 101325 + 575.007*psi},
		{"three", "500 psig", "75 °F", "501.0 psig", "76 °F", 101325 + 501.0425*psi},
	} {
		p := runText(t, "R-32", `[pressure_test]
kind = "tightness"
instrument = "gauge"
thermometer = "thermometer"
gas = "dry nitrogen"
temperature_at = "pipe"
duration = "24 h"
start_pressure = "`+c.start+`"
start_temperature = "`+c.from+`"
end_pressure = "`+c.end+`"
end_temperature = "`+c.to+`"
max_change = "20 psig"
`).Pressure
		near(t, c.name+": expected end pressure", p.Expected, "Pa", c.expected, 25)
		near(t, c.name+": change beyond it", p.Change, "Pa", 0, 500) // the ends are stated to 0.1 psi or 1 mbar
		if p.From != "stated, not logged" || p.Decision != "pass" || p.U == nil || p.SmallestLeak == nil {
			t.Errorf("%s: from %q, %q because %q, u %v, smallest leak %v", c.name, p.From, p.Decision, p.DecisionReason, p.U, p.SmallestLeak)
		}
	}
}

// A thermometer's own limit adds to the difference between its place and the gas (1 K on a pipe, 3 K in the air, common
// practice, no source) and does not stand in for it. By hand for 500 psig at 75 °F, slope 12,938 Pa/K (1.0425 psi a °F,
// see above): √((h² + 0.5²)/3)·√2·12938 Pa.
func TestThermometerIsNotTheGas(t *testing.T) {
	for at, want := range map[string]float64{"pipe": math.Sqrt((1+0.25)/3) * math.Sqrt2 * 12938, "outdoor air": math.Sqrt((9+0.25)/3) * math.Sqrt2 * 12938} {
		p := runText(t, "R-32", `[pressure_test]
instrument = "gauge"
thermometer = "thermometer"
gas = "dry nitrogen"
duration = "1 h"
start_pressure = "500 psig"
end_pressure = "500 psig"
start_temperature = "75 °F"
end_temperature = "75 °F"
temperature_at = "`+at+`"
`).Pressure
		for _, term := range p.Budget {
			if term.Name == "temperature" {
				near(t, at, term.U, "Pa", want, 0.005*want)
			}
		}
	}
}

// What forbids a pass forbids it beside a shown loss too, and a loss that is shown is told where the agreed change
// allows it: 5 psi lost of 10 agreed, by a gauge within 0.1 psi (U below 3 psi).
func TestShownLossIsNeverAQuietPass(t *testing.T) {
	for _, c := range []struct{ name, from, to, decision, code string }{
		{"within the change agreed", "", "", "pass", "loss-within"},
		{"more than agreed", `"495 psig"`, `"480 psig"`, "fail", "loss"},
		{"above the design pressure", `"600 psig"`, `"450 psig"`, "not determined", "above-design"},
		{"overdue gauge", "resolution = \"0.1 psig\"", "resolution = \"0.1 psig\"\ndue = 2031-04-08", "not determined", "overdue"},
		{"due on the day", "resolution = \"0.1 psig\"", "resolution = \"0.1 psig\"\ndue = 2031-04-09", "pass", "loss-within"},
		{"air", "dry nitrogen", "compressed air", "not determined", "gas-not-nitrogen"},
		{"nothing agreed", "max_change = \"10 psig\"", "", "fail", "loss"},
		{"gained", `"495 psig"`, `"520 psig"`, "not determined", "gained"},
	} {
		text := strings.Replace(sea, "REFRIGERANT", "R-32", 1) + `[pressure_test]
instrument = "gauge"
gas = "dry nitrogen"
temperature_at = "pipe"
duration = "24 h"
design_pressure = "600 psig"
start_pressure = "500 psig"
end_pressure = "495 psig"
start_temperature = "20 °C"
end_temperature = "20 °C"
max_change = "10 psig"
`
		text = strings.Replace(text, c.from, c.to, 1)
		j, faults := job.Decode(job.File{Name: "job.toml", Data: []byte(text)}, nil, nil)
		if faults.Stops() {
			t.Fatal(faults)
		}
		rec, _ := analysis.Run(j, nil, analysis.Options{})
		if p := rec.Pressure; p.Decision != c.decision || p.Note.Code != c.code {
			t.Errorf("%s: %q because %q (%s), want %q because %q", c.name, p.Decision, p.Note.Code, p.DecisionReason, c.decision, c.code)
		} else if (p.MaxChange != nil) != strings.Contains(text, "max_change") {
			t.Errorf("%s: the change agreed is %v", c.name, p.MaxChange)
		}
	}
}

// Gauge pressures with barometers, absolute by hand: 500 psig is 3447378.6 Pa. Each end takes its own barometer; one alone serves for both where
// the job knows no other than the altitude's standard atmosphere, and stands beside the job's own barometer where there is one.
func TestBarometersOfAPressureTest(t *testing.T) {
	const stated = `[pressure_test]
instrument = "gauge"
gas = "dry nitrogen"
duration = "24 h"
start_pressure = "500 psig"
end_pressure = "500 psig"
start_temperature = "20 °C"
end_temperature = "20 °C"
`
	for _, c := range []struct {
		job, keys  string
		start, end float64 // Pa, the air's
	}{
		{"", "", 101325, 101325},
		{"", "start_barometer = \"1021 hPa\"\nend_barometer = \"29.2 inHg abs\"\n", 102100, 98882.5},
		{"", "end_barometer = \"98 kPa\"\n", 101325, 98000},
		{`altitude = "0 m"`, "end_barometer = \"98 kPa\"\n", 98000, 98000},
		{`altitude = "0 m"`, "start_barometer = \"98 kPa\"\n", 98000, 98000},
	} {
		text := strings.Replace(sea, "REFRIGERANT", "R-32", 1)
		if c.job != "" {
			text = strings.Replace(text, `barometer = "101.325 kPa"`, c.job, 1)
		}
		j, faults := job.Decode(job.File{Name: "job.toml", Data: []byte(text + stated + c.keys)}, nil, nil)
		if faults.Stops() {
			t.Fatal(faults)
		}
		rec, _ := analysis.Run(j, nil, analysis.Options{})
		near(t, c.job+c.keys+"start", rec.Pressure.StartPressure, "Pa", 3447378.6+c.start, 0.2)
		near(t, c.job+c.keys+"end", rec.Pressure.EndPressure, "Pa", 3447378.6+c.end, 0.2)
	}
}
