package record

// Phase is a part of the recording; times are RFC 3339.
type Phase struct {
	What  string `json:"what"` // idle, pull-down, nitrogen break, hold, other
	Start string `json:"start"`
	End   string `json:"end"`
}

// PullDown is the evacuation before the deciding hold; pressures in Pa.
type PullDown struct {
	Start       string            `json:"start"`
	End         string            `json:"end"`
	Lowest      *Value            `json:"lowest,omitempty"`
	TimeTo      map[string]*Value `json:"time_to,omitempty"` // "1000 micron": s
	Rate        *Value            `json:"rate,omitempty"`    // 1/s, S_eff/V
	Asymptotic  *Value            `json:"asymptotic_pressure,omitempty"`
	Plateaus    []Stretch         `json:"plateaus"`
	HoseLimited *bool             `json:"hose_limited,omitempty"`
	Hoses       *Hoses            `json:"hoses,omitempty"`
	RateAt      []RateAt          `json:"rate_at,omitempty"`
}

// Stretch is a time at one pressure, in Pa: a plateau of a pull-down, a stage of a pressure test.
type Stretch struct {
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
	Pressure    *Value   `json:"pressure"`                 // at which the conductance holds
	Conductance *Value   `json:"conductance"`              // m3/s
	Effective   *Value   `json:"effective_flow,omitempty"` // m3/s
	Share       *Value   `json:"share,omitempty"`          // 1, of the stated volume flow rate
	Larger      *Value   `json:"larger_hose,omitempty"`    // 1, share with the next larger hose
	Table       []HoseAt `json:"table,omitempty"`
}

// HoseAt is the share of the pump's stated volume flow rate that arrives at a pressure in Pa.
type HoseAt struct {
	Pressure *Value `json:"pressure"`
	Share    *Value `json:"share,omitempty"`
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

// Model is a shape of the curve fitted to the hold: its best fit, with the weight
// that it has among all. RSS is in Pa2.
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

// Break is a filling with nitrogen between two evacuations.
type Break struct {
	Start     string `json:"start"`
	End       string `json:"end"`
	Pressure  *Value `json:"pressure"`
	Remaining *Value `json:"residual_fraction,omitempty"` // 1, of the gas before it
}

// PumpCheck is the pump read straight at its inlet, in Pa.
type PumpCheck struct {
	Reading    *Value `json:"reading,omitempty"`
	Result     string `json:"result"` // "oil serves", "change the oil", "not judged"
	OilChanged *bool  `json:"oil_changed,omitempty"`
	GasBallast *bool  `json:"gas_ballast,omitempty"`
	Pump       string `json:"pump,omitempty"`
}

// Loss is the hold's inflow told as refrigerant lost in a year: a bracket,
// Low molecular, High viscous.
type Loss struct {
	Refrigerant string `json:"refrigerant"`
	Pressure    *Value `json:"pressure"`
	Temperature *Value `json:"temperature"`
	PerYear     *Value `json:"per_year"` // kg in a year of 31557600 s; value is the geometric mean
}
