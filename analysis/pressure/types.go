package pressure

import "time"

// State is the gas in the circuit at one time. A Temperature of 0 is unknown.
type State struct {
	Time        time.Time
	Pressure    float64 // Pa, absolute
	Temperature float64 // K
	Scatter     float64 // Pa, standard uncertainty of Pressure from the scatter of readings
}

// Gauge is what the job says of the pressure gauge; 0 means not stated.
type Gauge struct {
	Gain          float64 // error limit, fraction of the reading above the atmosphere
	Offset        float64 // error limit, Pa, added
	ZeroStability float64 // limit of the zero's change during the test, Pa
	Resolution    float64 // step, Pa
	Bottom, Top   float64 // range, Pa absolute
	Absolute      bool    // the gauge reads absolute pressure, not against the atmosphere
	Overdue       bool    // calibration was past its date
}

// Options is what the analysis takes from the job; 0 means not stated.
type Options struct {
	Gauge            Gauge
	Atmosphere       float64 // Pa at the start
	AtmosphereChange float64 // Pa, limit of its error between both ends; 0: 100 Pa an hour, 2 kPa at most
	TemperatureAt    string  // where it was measured: "pipe", "air", ...
	Thermometer      float64 // K, its error limit; the gas differs from the place by more, see TemperatureAt
	Volume           float64 // m³
	VolumeU          float64 // relative standard uncertainty
	Design           float64 // Pa absolute, design or plate pressure of the weakest part
	Required         float64 // s, the duration agreed
	Gas              string  // as the job names it
}

// Finding is what the test came to.
type Finding string

// The findings. NoLossShown is never more than that: see SmallestLeak.
const (
	LossShown     Finding = "loss shown"
	NoLossShown   Finding = "no loss shown"
	NotDetermined Finding = "not determined"
)

// Note is a reason or a warning: a stable code, a sentence in English, numbers
// in SI. A severe one forbids a pass.
type Note struct {
	Code   string
	Text   string
	Severe bool
	Facts  map[string]float64
}

// Term is one line of the uncertainty budget of the change.
type Term struct {
	Name string // "gain", "offset", "resolution", "scatter", "temperature", "atmosphere"
	U    float64
}

// Interval is a value with its 95 % interval.
type Interval struct{ Value, Low, High float64 }

// Stage is a time for which a pressure was held.
type Stage struct {
	Start, End time.Time
	Pressure   float64 // Pa absolute, mean
}

// Result is the outcome of one pressure test.
type Result struct {
	Found        string // "stated values", "stated" or "detected"
	Start, End   State
	Duration     float64 // s between the states that are compared
	Held         float64 // s for which the pressure stood, the averaged ends included
	Highest      float64 // Pa absolute, highest pressure of the test
	Expected     float64 // Pa absolute at the end
	Change       float64 // Pa, measured less expected
	U            float64 // Pa, standard uncertainty of Change
	Budget       []Term
	SmallestDrop float64   // Pa that the test could have shown
	SmallestLeak float64   // Pa m³/s at the end temperature; 0 where the volume is unknown
	Loss         *Interval // Pa m³/s outwards; nil where no loss is shown or the volume is unknown
	Finding      Finding
	Reason       Note
	Obstacle     *Note // what forbids a pass whatever the pressures show: a severe warning, an overdue gauge, too short a test; nil for none
	Stages       []Stage
	Warnings     []Note
}
