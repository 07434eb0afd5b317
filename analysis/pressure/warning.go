package pressure

import (
	"math"
	"strings"
)

// warnings are the cautions that follow from pressures, gauge and gas alone.
func warnings(r *Result, o Options) (list []Note) {
	g := o.Gauge
	add := func(severe bool, code, text string, facts map[string]float64) {
		list = append(list, Note{Code: code, Text: text, Severe: severe, Facts: facts})
	}
	if positive(o.Design) && r.Highest > o.Design+g.Resolution {
		add(true, "above-design", "the test pressure exceeded the design pressure of the weakest part: parts may be damaged; "+
			"have the maker confirm before the circuit is used", map[string]float64{"highest": r.Highest, "design": o.Design})
	}
	if !positive(o.Design) {
		add(false, "design-unknown", "no design or plate pressure is stated to compare the test pressure with", nil)
	}
	switch {
	case o.Gas == "":
		add(false, "gas-unknown", "the test gas is not stated; nitrogen is assumed", nil)
	case !nitrogen(o.Gas):
		add(true, "gas-not-nitrogen", unfit(o.Gas), nil)
	}
	switch facts := map[string]float64{"highest": r.Highest, "top": g.Top}; {
	case !positive(g.Top):
		add(false, "gauge-range-unknown", "the gauge's range is not stated", nil)
	case r.Highest >= g.Top:
		add(true, "gauge-over-range", "the test pressure reached the top of the gauge's range", facts)
	case r.Highest-g.Bottom < (g.Top-g.Bottom)/4:
		add(false, "gauge-coarse", "the test pressure lies in the lowest quarter of the gauge's range", facts)
	}
	if g.Gain == 0 && g.Offset == 0 {
		add(false, "accuracy-unknown", "the gauge's accuracy is not stated: the uncertainty is a lower limit", nil)
	}
	if o.TemperatureAt != "pipe" && r.Start.Temperature > 0 {
		add(false, "temperature-not-on-pipe", "the temperature was not measured on the pipe", nil)
	}
	return list
}

func unfit(gas string) string {
	if g := strings.ToLower(gas); strings.Contains(g, "air") || strings.Contains(g, "oxygen") || g == "o2" {
		return "oxygen and air must never be used for a pressure test: oil can explode"
	}
	return "the expected pressure is worked out for nitrogen, the job names another gas"
}

// mean returns the average and its standard uncertainty from the scatter, NaN
// and 0 for no values.
func mean(x []float64) (m, u float64) {
	if len(x) == 0 {
		return math.NaN(), 0
	}
	for _, v := range x {
		m += v / float64(len(x))
	}
	if len(x) < 2 {
		return m, 0
	}
	for _, v := range x {
		u += (v - m) * (v - m)
	}
	return m, math.Sqrt(u / float64(len(x)-1) / float64(len(x)))
}
