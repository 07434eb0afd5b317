// Package record is the plain, versioned result of one job: everything that a
// page may print, and nothing else. Its JSON is results.json (format 1).
//
// A Value is {"value","unit"} in SI, with "low", "high", "confidence" where it
// has an interval; what is unknown is absent, never null.
package record

// Record is one job's result.
type Record struct {
	Format      int          `json:"format"`
	Job         Job          `json:"job"`
	Software    Software     `json:"software"`
	Show        Presentation `json:"presentation"`
	Inputs      []Input      `json:"inputs"`
	Phases      []Phase      `json:"phases,omitempty"`
	PullDown    *PullDown    `json:"pulldown,omitempty"`
	Hold        *Hold        `json:"hold,omitempty"`
	Holds       []Hold       `json:"holds,omitempty"`
	Breaks      []Break      `json:"nitrogen_breaks,omitempty"`
	PumpCheck   *PumpCheck   `json:"pump_check,omitempty"`
	Pressure    *Pressure    `json:"pressure_test,omitempty"`
	Recovery    *Recovery    `json:"recovery,omitempty"`
	Charge      *Charge      `json:"charge,omitempty"`
	Leaks       []LeakCheck  `json:"leak_checks,omitempty"`
	Startup     *Startup     `json:"startup,omitempty"`
	Attempts    []Attempt    `json:"attempts,omitempty"`
	Loss        *Loss        `json:"loss,omitempty"`
	Instruments []Instrument `json:"instruments,omitempty"`
	Events      []Event      `json:"events,omitempty"`
	Signoffs    []Signoff    `json:"signoff,omitempty"`
	Photographs []Photograph `json:"photographs,omitempty"`
	Open        []Note       `json:"not_determined,omitempty"` // most important first; Facts may hold what settles it
	Warnings    []Note       `json:"warnings"`
	Cautions    []Caution    `json:"cautions,omitempty"`
	Traces      Traces       `json:"-"` // written by JSON, one curve a line
}

type Software struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Build   string `json:"build,omitempty"`
}

// Job is who, where and what, as written. Times are RFC 3339.
type Job struct {
	Number        string      `json:"number"`
	Kind          string      `json:"kind,omitempty"`
	Date          string      `json:"date,omitempty"` // 2031-04-09
	Timezone      string      `json:"timezone,omitempty"`
	Altitude      string      `json:"altitude,omitempty"`       // as written
	Barometer     *Value      `json:"barometer,omitempty"`      // station pressure used
	BarometerFrom string      `json:"barometer_from,omitempty"` // "measured", "altitude", "standard atmosphere"
	Company       Party       `json:"company"`
	Technician    Party       `json:"technician"`
	Customer      Party       `json:"customer"`
	Site          Party       `json:"site"`
	Equipment     []Equipment `json:"equipment,omitempty"`
	System        System      `json:"system"`
	Boundary      Boundary    `json:"boundary"`
	Revision      int         `json:"revision,omitempty"` // 2 and up
	Amends        string      `json:"amends,omitempty"`
	Reason        string      `json:"reason,omitempty"`
	Sample        bool        `json:"sample,omitempty"` // the firm marks itself as invented
}

// Party is a firm, a person or a place; unused fields stay empty.
type Party struct {
	Name          string `json:"name,omitempty"`
	Address       string `json:"address,omitempty"`
	Phone         string `json:"phone,omitempty"`
	Contact       string `json:"contact,omitempty"`
	Licence       string `json:"licence,omitempty"`
	Certification string `json:"certification,omitempty"`
	Permit        string `json:"permit,omitempty"`
	Logo          string `json:"logo,omitempty"` // file name
}

type Equipment struct {
	Role   string `json:"role,omitempty"`
	Maker  string `json:"maker,omitempty"`
	Model  string `json:"model,omitempty"`
	Serial string `json:"serial,omitempty"`
}

type System struct {
	Circuit     string `json:"circuit,omitempty"`
	Refrigerant string `json:"refrigerant,omitempty"`
	Class       string `json:"class,omitempty"` // ASHRAE 34
	Volume      *Value `json:"volume,omitempty"`
	VolumeFrom  string `json:"volume_from,omitempty"` // "stated", "worked out from the pieces", or that with a part whose uncertainty was not stated
	Lines       []Line `json:"lines,omitempty"`
}

type Line struct {
	Role   string `json:"role,omitempty"`
	Text   string `json:"text"` // as written
	Volume *Value `json:"volume,omitempty"`
}

type Boundary struct {
	Included     []string `json:"included,omitempty"`
	Excluded     []string `json:"excluded,omitempty"`
	Valves       string   `json:"valves,omitempty"`
	IsolatedAt   string   `json:"isolated_at,omitempty"`
	GaugeAt      string   `json:"gauge_at,omitempty"`
	CoresRemoved *bool    `json:"cores_removed,omitempty"`
}

// Presentation is how the record is told; it does not change a number.
type Presentation struct {
	Audience []string `json:"audience"`
	Units    string   `json:"units"`
	Language string   `json:"language"`
	Paper    string   `json:"paper"`
}

type Input struct {
	ID           string `json:"id,omitempty"`
	File         string `json:"file"`
	SHA256       string `json:"sha256"`
	Kind         string `json:"kind,omitempty"`
	Sheet        string `json:"sheet,omitempty"`
	Rows         int    `json:"rows"`
	Used         int    `json:"used"`
	OverRange    int    `json:"over_range"`
	UnderRange   int    `json:"under_range"`
	NotANumber   int    `json:"not_a_number"`
	Duplicates   int    `json:"duplicates"`
	Unused       int    `json:"unused"`
	OutOfOrder   int    `json:"out_of_order"`
	Gaps         int    `json:"gaps"`
	PressureUnit string `json:"pressure_unit,omitempty"`
	TimeZone     string `json:"time_zone,omitempty"`
	First        string `json:"first,omitempty"`
	Last         string `json:"last,omitempty"`
	Interval     *Value `json:"interval,omitempty"`
}

// Phase is a part of the recording; times are RFC 3339.
type Phase struct {
	What  string `json:"what"` // idle, pull-down, nitrogen break, hold, other
	Start string `json:"start"`
	End   string `json:"end"`
}

type PullDown struct {
	Start       string            `json:"start"`
	End         string            `json:"end"`
	Lowest      *Value            `json:"lowest,omitempty"`
	TimeTo      map[string]*Value `json:"time_to,omitempty"` // "1000 micron": s
	Rate        *Value            `json:"rate,omitempty"`    // 1/s, S_eff/V
	Asymptotic  *Value            `json:"asymptotic_pressure,omitempty"`
	Plateaus    []Plateau         `json:"plateaus"`
	HoseLimited *bool             `json:"hose_limited,omitempty"`
	Hoses       *Hoses            `json:"hoses,omitempty"`
	RateAt      []RateAt          `json:"rate_at,omitempty"`
}

type Plateau struct {
	Start    string `json:"start"`
	End      string `json:"end"`
	Pressure *Value `json:"pressure"`
}

// RateAt is S_eff/V at a pressure.
type RateAt struct {
	Pressure *Value `json:"pressure"`
	Rate     *Value `json:"rate"`
}

// Hoses is how much of the pump arrives at the system.
type Hoses struct {
	Pressure    *Value   `json:"pressure"`              // at which the conductance holds
	Conductance *Value   `json:"conductance"`           // m3/s
	Effective   *Value   `json:"effective_flow"`        // m3/s
	Share       *Value   `json:"share"`                 // 1, of the stated volume flow rate
	Larger      *Value   `json:"larger_hose,omitempty"` // 1, share with the next larger hose
	Table       []HoseAt `json:"table,omitempty"`
}

type HoseAt struct {
	Pressure *Value `json:"pressure"`
	Share    *Value `json:"share"`
}

// Hold is one isolation. The deciding one carries Decision; earlier ones don't.
type Hold struct {
	Start         string `json:"start"`
	End           string `json:"end"`
	Found         string `json:"found"` // stated, detected
	StartPressure *Value `json:"start_pressure,omitempty"`
	EndPressure   *Value `json:"end_pressure,omitempty"`
	Rise          *Value `json:"rise,omitempty"`
	SettleEnd     string `json:"settle_end,omitempty"`
	SettleHow     string `json:"settle_how,omitempty"` // "left out", "fitted"
	SettleNote    *Note  `json:"settle_note,omitempty"`

	Criterion           *Criterion  `json:"criterion,omitempty"`
	Criteria            []Criterion `json:"criteria,omitempty"` // each of several, judged
	Limit               *Value      `json:"limit,omitempty"`
	LimitAt             string      `json:"limit_at,omitempty"`
	ReadingAtLimit      *Value      `json:"reading_at_limit,omitempty"`
	AtLeast             bool        `json:"reading_over_range,omitempty"` // the pressure was ReadingAtLimit or more, how much is not known
	StandardUncertainty *Value      `json:"standard_uncertainty,omitempty"`
	GuardBand           *Value      `json:"guard_band,omitempty"`
	Decision            string      `json:"decision,omitempty"`
	DecisionReason      string      `json:"decision_reason,omitempty"`
	DecisionNote        *Note       `json:"decision_note,omitempty"` // the reason by code, for other languages

	Cause        string  `json:"cause"`
	CauseReason  string  `json:"cause_reason,omitempty"`
	CauseNote    *Note   `json:"cause_note,omitempty"`
	Inflow       bool    `json:"inflow_shown"` // the cause has a leak, or the leak's interval excludes zero
	LeakRate     *Value  `json:"leak_rate,omitempty"`
	LeakRise     *Value  `json:"leak_rise,omitempty"`         // Pa/s
	LeakPart     *Value  `json:"leak_contribution,omitempty"` // Pa, a T
	MoistureRise *Value  `json:"moisture_rise,omitempty"`     // Pa
	MoistureTime *Value  `json:"moisture_time,omitempty"`
	MoistureMass *Value  `json:"moisture_mass,omitempty"`
	SmallestLeak *Value  `json:"smallest_leak,omitempty"`
	SmallestRise *Value  `json:"smallest_rise,omitempty"` // Pa/s, the same as a rate of rise
	Threshold    *Value  `json:"threshold,omitempty"`     // Pa, contribution above which a cause is named
	LongerHold   *Value  `json:"longer_hold,omitempty"`
	Models       []Model `json:"models,omitempty"`
	Budget       []Term  `json:"budget,omitempty"`   // of the reading at the limit
	Residual     *Value  `json:"residual,omitempty"` // Pa, standard deviation about the fit
	Correlation  *Value  `json:"correlation,omitempty"`
	Readings     int     `json:"readings,omitempty"`
	Ambient      *Value  `json:"ambient,omitempty"` // K, low and high over the hold
}

// Criterion is what was agreed and where it comes from.
type Criterion struct {
	Name       string `json:"name,omitempty"` // preset
	What       string `json:"what,omitempty"` // reach, limit, max_rise
	Text       string `json:"text"`
	Source     string `json:"source,omitempty"`
	Certainty  string `json:"certainty,omitempty"`
	Limit      *Value `json:"limit,omitempty"`
	Reading    *Value `json:"reading,omitempty"`
	AtLeast    bool   `json:"reading_over_range,omitempty"` // the reading is that or more
	Minutes    *Value `json:"minutes,omitempty"`            // s
	U          *Value `json:"standard_uncertainty,omitempty"`
	Decision   string `json:"decision,omitempty"`
	Note       *Note  `json:"note,omitempty"`
	Comparison bool   `json:"comparison_only,omitempty"`
}

type Model struct {
	Name       string            `json:"name"`
	Parameters map[string]*Value `json:"parameters"`
	RSS        float64           `json:"rss"`
	AICc       float64           `json:"aicc"` // not finite where the readings are too few for it
	Weight     float64           `json:"weight"`
}

// Term is a line of an uncertainty budget.
type Term struct {
	Name string `json:"name"`
	Kind string `json:"kind,omitempty"` // rectangular, normal, type A
	U    *Value `json:"u"`
}

type Break struct {
	Start     string `json:"start"`
	End       string `json:"end"`
	Pressure  *Value `json:"pressure"`
	Remaining *Value `json:"residual_fraction,omitempty"` // 1, of the gas before it
}

type PumpCheck struct {
	Reading    *Value `json:"reading,omitempty"`
	Result     string `json:"result"` // "oil serves", "change the oil", "not judged"
	OilChanged *bool  `json:"oil_changed,omitempty"`
	GasBallast *bool  `json:"gas_ballast,omitempty"`
	Pump       string `json:"pump,omitempty"`
}

// Pressure is the standing pressure test.
type Pressure struct {
	Kind             string  `json:"kind"`
	Gas              string  `json:"gas,omitempty"`
	From             string  `json:"from"` // "readings", "stated, not logged"
	Start            string  `json:"start,omitempty"`
	End              string  `json:"end,omitempty"`
	Duration         *Value  `json:"duration,omitempty"`
	StartPressure    *Value  `json:"start_pressure,omitempty"` // Pa absolute
	EndPressure      *Value  `json:"end_pressure,omitempty"`
	StartTemperature *Value  `json:"start_temperature,omitempty"`
	EndTemperature   *Value  `json:"end_temperature,omitempty"`
	Expected         *Value  `json:"expected_end_pressure,omitempty"`
	Change           *Value  `json:"change,omitempty"` // Pa beyond the temperature's effect, with interval
	U                *Value  `json:"standard_uncertainty,omitempty"`
	LeakRate         *Value  `json:"leak_rate,omitempty"`
	SmallestLeak     *Value  `json:"smallest_leak,omitempty"`
	DesignPressure   *Value  `json:"design_pressure,omitempty"`
	MaxChange        *Value  `json:"max_change,omitempty"`
	Decision         string  `json:"decision"`
	Note             *Note   `json:"decision_note,omitempty"`
	DecisionReason   string  `json:"decision_reason,omitempty"`
	CarryLow         *Value  `json:"hold_inflow_at_test_pressure,omitempty"` // value with low and high: the bracket
	Agreement        string  `json:"agreement,omitempty"`                    // agree, differ, cannot decide
	AgreementReason  string  `json:"agreement_reason,omitempty"`
	Instrument       string  `json:"instrument,omitempty"`
	TemperatureAt    string  `json:"temperature_at,omitempty"`
	Stages           []Stage `json:"stages,omitempty"`
	Budget           []Term  `json:"budget,omitempty"`
}

type Stage struct {
	Start    string `json:"start"`
	End      string `json:"end"`
	Pressure *Value `json:"pressure"`
}

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

type LeakCheck struct {
	Stage       string `json:"stage,omitempty"`
	Method      string `json:"method,omitempty"`
	Place       string `json:"place,omitempty"`
	Sensitivity string `json:"sensitivity,omitempty"`
	Detector    string `json:"detector,omitempty"`
	Result      string `json:"result,omitempty"`
}

type Startup struct {
	Rows []Judged `json:"rows"` // in the order of the page
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
	Stated     string `json:"stated,omitempty"` // as written, of a quantity that is only a trend
}

// Attempt is an earlier test that the job file states.
type Attempt struct {
	Test     string    `json:"test"`
	Finding  string    `json:"finding,omitempty"`
	Repair   string    `json:"repair,omitempty"`
	Hold     *Hold     `json:"hold,omitempty"`
	Pressure *Pressure `json:"pressure_test,omitempty"`
}

// Loss is the hold's inflow told as refrigerant lost in a year: a bracket,
// Low molecular, High viscous.
type Loss struct {
	Refrigerant string `json:"refrigerant"`
	Pressure    *Value `json:"pressure"`
	Temperature *Value `json:"temperature"`
	PerYear     *Value `json:"per_year"` // kg in a year of 31557600 s; value is the geometric mean
}

type Instrument struct {
	ID          string   `json:"id"`
	Measures    string   `json:"measures,omitempty"`
	Principle   string   `json:"principle,omitempty"`
	Maker       string   `json:"maker,omitempty"`
	Model       string   `json:"model,omitempty"`
	Range       string   `json:"range,omitempty"`
	Serial      string   `json:"serial,omitempty"`
	Calibrated  string   `json:"calibrated,omitempty"`
	Due         string   `json:"due,omitempty"`
	Certificate string   `json:"certificate,omitempty"`
	Check       string   `json:"check,omitempty"`
	Accuracy    string   `json:"accuracy,omitempty"`
	Resolution  string   `json:"resolution,omitempty"`
	Overdue     bool     `json:"overdue,omitempty"`
	UsedFor     []string `json:"used_for,omitempty"`
}

type Event struct {
	Time string `json:"time"`
	What string `json:"what"`
}

type Signoff struct {
	Role   string `json:"role,omitempty"`
	Name   string `json:"name,omitempty"`
	Date   string `json:"date,omitempty"`
	Method string `json:"method"`
	Image  string `json:"image,omitempty"`
}

// Photograph is a picture that the firm added; nothing was worked out from it.
type Photograph struct {
	File    string `json:"file"`
	Caption string `json:"caption"`
}

// Note is a coded statement: Text in English, Facts for other languages.
type Note struct {
	Code   string            `json:"code"`
	Text   string            `json:"text"`
	Where  string            `json:"where,omitempty"`
	Facts  map[string]*Value `json:"facts,omitempty"`
	Names  map[string]string `json:"names,omitempty"`
	Settle string            `json:"settles,omitempty"` // what would settle it, English
}

// Caution is a safety or evidence caution by code; its texts live in templates.
type Caution struct {
	Code  string            `json:"code"`
	Facts map[string]*Value `json:"facts,omitempty"`
}

// Traces are decimated curves for the figures; times in s after Start.
type Traces struct {
	Start         string `json:"start,omitempty"` // RFC 3339, of t = 0 of the recording
	Vacuum        *Trace `json:"vacuum,omitempty"`
	Hold          *Trace `json:"hold,omitempty"`
	Fit           *Band  `json:"fit,omitempty"`
	PressureStart string `json:"pressure_start,omitempty"` // RFC 3339, t = 0 of the pressure recording
	Pressure      *Trace `json:"pressure,omitempty"`
	Corrected     *Trace `json:"pressure_corrected,omitempty"`
}

// Trace is a curve decimated by minimum and maximum; a NaN y never occurs, a
// gap starts a new piece: Breaks holds the indices at which one starts.
type Trace struct {
	T         Floats `json:"t"`
	Y         Floats `json:"y"` // Pa
	Breaks    []int  `json:"breaks,omitempty"`
	OverRange Floats `json:"over_range,omitempty"` // times
}

// Band is the averaged fit with its 95 % band over the hold.
type Band struct {
	T    Floats `json:"t"`
	Y    Floats `json:"y"`
	Low  Floats `json:"low"`
	High Floats `json:"high"`
}
