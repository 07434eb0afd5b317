package record

import "strings"

// Pressure is the standing pressure test.
type Pressure struct {
	Kind             string    `json:"kind"`
	Gas              string    `json:"gas,omitempty"`
	From             string    `json:"from"` // "readings", "stated, not logged"
	Start            string    `json:"start,omitempty"`
	End              string    `json:"end,omitempty"`
	Duration         *Value    `json:"duration,omitempty"`
	StartPressure    *Value    `json:"start_pressure,omitempty"` // Pa absolute
	EndPressure      *Value    `json:"end_pressure,omitempty"`
	StartTemperature *Value    `json:"start_temperature,omitempty"`
	EndTemperature   *Value    `json:"end_temperature,omitempty"`
	Expected         *Value    `json:"expected_end_pressure,omitempty"`
	Change           *Value    `json:"change,omitempty"` // Pa beyond the temperature's effect, with interval
	U                *Value    `json:"standard_uncertainty,omitempty"`
	LeakRate         *Value    `json:"leak_rate,omitempty"`
	SmallestLeak     *Value    `json:"smallest_leak,omitempty"`
	DesignPressure   *Value    `json:"design_pressure,omitempty"`
	MaxChange        *Value    `json:"max_change,omitempty"`
	Decision         string    `json:"decision"`
	Note             *Note     `json:"decision_note,omitempty"`
	DecisionReason   string    `json:"decision_reason,omitempty"`
	CarryLow         *Value    `json:"hold_inflow_at_test_pressure,omitempty"` // value with low and high: the bracket
	Agreement        string    `json:"agreement,omitempty"`                    // agree, differ, cannot decide
	AgreementReason  string    `json:"agreement_reason,omitempty"`
	Instrument       string    `json:"instrument,omitempty"`
	TemperatureAt    string    `json:"temperature_at,omitempty"`
	Stages           []Stretch `json:"stages,omitempty"`
	Budget           []Term    `json:"budget,omitempty"`
}

// Lost reports whether the readings show a fall beyond their uncertainty; the
// decision answers the change agreed alone.
func (p *Pressure) Lost() bool {
	return p != nil && p.Change.Finite() && p.Change.Confidence > 0 && p.Change.High < 0
}

// Concern is what a table beside the hold has to say of the test, "" for nothing.
func (p *Pressure) Concern() string {
	switch {
	case p == nil, p.Note != nil && p.Note.Code == "no-criterion":
		return ""
	case Passes(p.Decision):
		if p.Lost() {
			return "pressure test " + p.Decision + ", but the readings show a loss: find it"
		}
		return ""
	}
	return "pressure test " + p.Decision + ": " + p.DecisionReason
}

// Recovery is the refrigerant taken out before: mass in kg, level in Pa.
type Recovery struct {
	Refrigerant string `json:"refrigerant,omitempty"`
	Mass        *Value `json:"mass,omitempty"`
	Level       *Value `json:"level,omitempty"`
	Cylinder    string `json:"cylinder,omitempty"`
	Required    *Value `json:"required_level,omitempty"`
	Decision    string `json:"decision,omitempty"`
	Note        *Note  `json:"note,omitempty"`
	Source      string `json:"source,omitempty"`
}

// Charge is the refrigerant put in; masses in kg.
type Charge struct {
	Factory    *Value `json:"factory,omitempty"`
	Allowance  *Value `json:"line_allowance,omitempty"`
	Added      *Value `json:"added,omitempty"`
	Total      *Value `json:"total,omitempty"`
	Plate      *Value `json:"plate,omitempty"`
	Difference *Value `json:"difference,omitempty"` // weighed in less the line allowance
	GWP        *Value `json:"gwp,omitempty"`
	GWPEdition string `json:"gwp_edition,omitempty"`
	CO2e       *Value `json:"co2_equivalent,omitempty"` // kg
	Checks     []Note `json:"leak_check_duties,omitempty"`
	Instrument string `json:"instrument,omitempty"`
}

// LeakCheck is a search for leaks, as written; nothing is worked out from it.
type LeakCheck struct {
	Stage       string `json:"stage,omitempty"`
	Method      string `json:"method,omitempty"`
	Place       string `json:"place,omitempty"`
	Sensitivity string `json:"sensitivity,omitempty"`
	Detector    string `json:"detector,omitempty"`
	Result      string `json:"result,omitempty"`
}

// Startup is what the running system showed.
type Startup struct {
	Rows []Judged `json:"rows"` // in the order of the page
}

// Concern names what is outside its target, for a table; "" for nothing.
func (s *Startup) Concern() string {
	if s == nil {
		return ""
	}
	var list []string
	for _, r := range s.Rows {
		if r.Decision == "fail" || r.Decision == "conditional fail" {
			list = append(list, r.Name+" "+r.Decision)
		}
	}
	if len(list) == 0 {
		return ""
	}
	return "start-up: " + strings.Join(list, ", ")
}

// Beside is what the tests beside the hold ask for.
func (r *Record) Beside() []string {
	var list []string
	for _, s := range []string{r.Pressure.Concern(), r.Startup.Concern()} {
		if s != "" {
			list = append(list, s)
		}
	}
	return list
}

// Judged is one start-up quantity against its target.
type Judged struct {
	Name       string `json:"name"` // superheat, subcooling, temperature split, voltage unbalance, current, insulation resistance
	Value      *Value `json:"value,omitempty"`
	U          *Value `json:"standard_uncertainty,omitempty"`
	Low        *Value `json:"target_low,omitempty"`
	High       *Value `json:"target_high,omitempty"`
	Decision   string `json:"decision"` // pass ... , not judged
	Note       *Note  `json:"note,omitempty"`
	Source     string `json:"source,omitempty"`
	Saturation *Value `json:"saturation_temperature,omitempty"`
	Stated     string `json:"stated,omitempty"` // as written, of a quantity that is only a trend or could not be worked out
}

// Attempt is an earlier test that the job file states.
type Attempt struct {
	Test     string    `json:"test"`
	Finding  string    `json:"finding,omitempty"`
	Repair   string    `json:"repair,omitempty"`
	Hold     *Hold     `json:"hold,omitempty"`
	Pressure *Pressure `json:"pressure_test,omitempty"`
}
