package startup

import "math"

func electrical(in Input) (rows []Row) {
	if len(in.Voltages) > 0 {
		rows = append(rows, unbalance(in.Voltages))
	}
	if len(in.Currents) > 0 {
		rows = append(rows, current(in))
	}
	if in.Insulation.given() {
		r := Row{Name: "insulation resistance", Unit: "ohm", Value: in.Insulation.Value, U: in.Insulation.U,
			Source: "IEEE 43 is written for machines from 750 W and not for hermetic compressors"}
		r.refuse("trend-only", "refrigerant and oil lower the reading: compare with earlier readings of the same compressor only", nil)
		rows = append(rows, r)
	}
	return rows
}

// VoltageUnbalance is the largest deviation of a line voltage from their
// average, divided by the average (NEMA MG 1). It is NaN for no voltages and for
// an average that is not positive.
func VoltageUnbalance(volts ...float64) float64 {
	average := 0.0
	for _, v := range volts {
		average += v / float64(len(volts))
	}
	if !(average > 0) {
		return math.NaN()
	}
	largest := 0.0
	for _, v := range volts {
		largest = math.Max(largest, math.Abs(v-average))
	}
	return largest / average
}

// Derating returns the factor on a motor's rated power at a voltage unbalance
// (0.01 for 1 %), and false above 5 %, where running is not recommended. NEMA
// MG 1, figure 14-1, as read off by a third party within ± 0.01.
func Derating(unbalance float64) (float64, bool) {
	curve := []float64{1, 1, 1, 0.97, 0.95, 0.93, 0.89, 0.85, 0.82, 0.78, 0.76} // every 0.5 %
	x := unbalance / 0.005
	if !(x >= 0) || x > float64(len(curve)-1) {
		return 0, false
	}
	i := min(int(x), len(curve)-2)
	return curve[i] + (x-float64(i))*(curve[i+1]-curve[i]), true
}

func unbalance(volts []Estimate) Row {
	r := Row{Name: "voltage unbalance", Unit: "1", Source: "NEMA MG 1, 12.45 and 14.36: 1 % at the terminals"}
	if len(volts) != 3 {
		r.unknown("not-three-voltages", "unbalance is that of the voltages between three lines", nil)
		return r
	}
	values, average, u := make([]float64, 0, 3), 0.0, 0.0
	for _, v := range volts {
		values, average = append(values, v.Value), average+v.Value/3
		u = math.Max(u, v.U)
	}
	r.Value = VoltageUnbalance(values...)
	if math.IsNaN(r.Value) || math.IsInf(r.Value, 0) {
		r.unknown("no-voltage", "the three line voltages are not above zero", nil)
		return r
	}
	// d = (V1 - average)/average: slopes 2/3, -1/3, -1/3 over the average.
	r.U = math.Sqrt(6) / 3 * u / average
	r.Target = &Target{High: 0.01, OneSided: true}
	factor, ok := Derating(r.Value)
	switch {
	case !ok:
		r.Notes = append(r.Notes, Note{Code: "do-not-run", Text: "above 5 % unbalance running the motor is not recommended"})
	case factor < 1:
		r.Notes = append(r.Notes, Note{Code: "derate", Text: "the motor's power is to be derated; the factor was read off a curve within 0.01",
			Facts: map[string]float64{"factor": factor}})
	}
	return r
}

// current is the highest line current as a ratio to the plate's.
func current(in Input) Row {
	r := Row{Name: "current", Unit: "1", Source: "the unit's plate"}
	if !(in.PlateCurrent > 0) {
		r.unknown("no-plate-current", "the plate's current is not stated", nil)
		return r
	}
	highest := Estimate{}
	for _, c := range in.Currents {
		if c.Value > highest.Value && !math.IsInf(c.Value, 1) {
			highest = c
		}
	}
	r.Value, r.U = highest.Value/in.PlateCurrent, highest.U/in.PlateCurrent
	if highest.Value == 0 {
		r.unknown("no-current", "no current above zero is stated", nil)
		return r
	}
	r.Target = &Target{High: 1, OneSided: true}
	return r
}
