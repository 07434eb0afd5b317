package job

import (
	"fmt"
	"math"
	"strings"

	"dryhold/analysis/fault"
	"dryhold/analysis/fluid"
	"dryhold/analysis/quantity"
)

// The limits of this file are common practice, no source: wide enough for any
// job, narrow enough to catch another temperature scale or reference of pressure.
// The manual lists them (help/numbers.md).

func (d *decoder) checkPressureTest() {
	p := d.job.PressureTest
	if p == nil {
		return
	}
	d.lasts("pressure_test.", p.Start, p.End)
	air, from, _ := d.job.Atmosphere()
	if q := p.StartPressure; q.Given() && from != "standard atmosphere" && q.Pa(air) <= air {
		d.implausible("pressure_test.start_pressure", q.Text, "a pressure above that of the air: a test pressure counted from the air is written psig or barg")
	}
	for path, q := range map[string]quantity.Pressure{"pressure_test.start_barometer": p.StartBarometer, "pressure_test.end_barometer": p.EndBarometer} {
		if q.Given() {
			d.station(path, q)
		}
	}
	if m := p.MaxChange; m.Given() && (m.Unit.Dim != quantity.DimPressure || m.SI <= 0) {
		d.implausible("pressure_test.max_change", m.Text, `a pressure above zero, such as "70 kPa"`)
	}
}

// station checks a barometer's reading: absolute, and near what the altitude
// gives where that is known.
func (d *decoder) station(path string, b quantity.Pressure) {
	if b.Unit.Ref != quantity.Absolute || b.SI < 40e3 || b.SI > 110e3 {
		d.implausible(path, b.Text, "the absolute air pressure at the site, between 40 kPa and 110 kPa")
		return
	}
	a := d.job.Job.Altitude
	if !a.Given() {
		return
	}
	p, err := fluid.StationPressure(a.SI)
	if err == nil && math.Abs(b.SI/p-1) > 0.05 {
		d.faultIn(path, fault.Fault{Code: "barometer", Found: fmt.Sprintf("%s, %.0f %% from the pressure at %s", b.Text, 100*math.Abs(b.SI/p-1), a.Text),
			Expected: fmt.Sprintf("about %.1f kPa, the standard atmosphere at this altitude, within 5 %%", p/1e3),
			Mend:     "weather services give the pressure reduced to sea level: write the station pressure, or only the altitude"})
	}
}

// checkRefrigerant doubts a name that is not in the table: it may be a slip of
// one that is, and then its safety class is known.
func (d *decoder) checkRefrigerant() {
	name := d.job.System.Refrigerant
	if _, err := fluid.LookUp(name); name == "" || err == nil {
		return
	}
	known := strings.Join(fluid.Refrigerants(), ", ")
	f := fault.Fault{Code: "refrigerant", Doubt: true, Found: fmt.Sprintf("%q is not in the table of refrigerants: its safety class and its saturation are not known", name),
		Expected: "one of " + known, Mend: "compare it with the name plate; if it is right, leave it"}
	if near := Nearest(name, fluid.Refrigerants()); near != "" {
		f.Expected = fmt.Sprintf("%s, if it is a slip, or another of %s", near, known)
	}
	d.faultIn("system.refrigerant", f)
}

// checkPressures refuses what is below an absolute vacuum. Not so the level of a
// recovery: it is one at sea level, wherever it is read.
func (d *decoder) checkPressures() {
	air, _, _ := d.job.Atmosphere()
	above := func(path string, q quantity.Pressure) {
		if q.Given() && q.Pa(air) < 0 {
			d.implausible(path, q.Text, "no less than an absolute vacuum")
		}
	}
	if p := d.job.PressureTest; p != nil {
		above("pressure_test.end_pressure", p.EndPressure)
		above("pressure_test.design_pressure", p.DesignPressure)
	}
	if s := d.job.Startup; s != nil {
		above("startup.suction_pressure", s.SuctionPressure)
		above("startup.liquid_pressure", s.LiquidPressure)
	}
	if p := d.job.PumpCheck; p != nil {
		above("pump_check.reading", p.Reading)
	}
}

// checkTemperatures refuses what no site and no running circuit has: most often
// °F written as °C, or the other way round.
func (d *decoder) checkTemperatures() {
	between := func(path string, q quantity.Temperature, low, high float64) {
		if t := quantity.Celsius.From(q.SI); q.Given() && (t < low || t > high) {
			d.faultIn(path, fault.Fault{Code: "plausible", Found: q.Text, Expected: fmt.Sprintf("a temperature from %g °C to %g °C", low, high),
				Mend: "look whether it was read in °C or in °F"})
		}
	}
	if s := d.job.Startup; s != nil {
		between("startup.return_air", s.ReturnAir, 5, 50)
		between("startup.supply_air", s.SupplyAir, -5, 55)
		between("startup.outdoor_air", s.OutdoorAir, -45, 57)
		between("startup.suction_temperature", s.SuctionTemperature, -60, 50)
		between("startup.liquid_temperature", s.LiquidTemperature, -45, 80)
	}
	if p := d.job.PressureTest; p != nil {
		between("pressure_test.start_temperature", p.StartTemperature, -45, 57)
		between("pressure_test.end_temperature", p.EndTemperature, -45, 57)
	}
}

// checkReferences looks for a pressure that is written as absolute, but was
// read from a gauge whose range counts from the air, and the other way round.
func (d *decoder) checkReferences() {
	if p := d.job.PressureTest; p != nil {
		d.sameReference("pressure_test.start_pressure", p.StartPressure, p.Instrument)
		d.sameReference("pressure_test.end_pressure", p.EndPressure, p.Instrument)
	}
	if s := d.job.Startup; s != nil {
		d.sameReference("startup.suction_pressure", s.SuctionPressure, s.PressureGauge)
		d.sameReference("startup.liquid_pressure", s.LiquidPressure, s.PressureGauge)
	}
}

func (d *decoder) sameReference(path string, q quantity.Pressure, id string) {
	for _, in := range d.job.Instruments {
		r := in.Range.High.Unit
		if in.ID != id || !q.Given() || !in.Range.Given() || r.Dim != quantity.DimPressure {
			continue
		}
		if (r.Ref == quantity.Absolute) != (q.Unit.Ref == quantity.Absolute) {
			d.faultIn(path, fault.Fault{Code: "plausible", Doubt: true, Found: fmt.Sprintf("%s, read from %s, whose range is %s", q.Text, id, in.Range.Text),
				Expected: "both counted from the air (psig, barg, kPag) or both absolute", Mend: "write the unit as the gauge shows it"})
		}
	}
}
