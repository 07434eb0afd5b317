package vacuum

import "time"

// Value is a number in SI units with its 95 % interval.
type Value struct {
	X, Low, High float64
	Known        bool // false: the readings or the job do not give it
}

// Cause is what a hold's rise is put down to.
type Cause string

// The causes of the record.
const (
	None          Cause = "none"
	Leak          Cause = "leak"
	Moisture      Cause = "moisture"
	LeakMoisture  Cause = "leak and moisture"
	NotDetermined Cause = "not determined"
)

// What names a phase of a recording.
type What string

// The phases of the record.
const (
	Idle          What = "idle"
	PullDown      What = "pull-down"
	NitrogenBreak What = "nitrogen break"
	HoldPhase     What = "hold"
	Other         What = "other"
)

// Phase is a part of the recording.
type Phase struct {
	What       What
	Start, End time.Time
}

// Reason says why something was, or was not, determined: a stable code, a sentence with the numbers in words, and the
// numbers themselves in SI units.
type Reason struct {
	Code  string
	Text  string
	Facts map[string]float64
}

// Warning is a caution about what the readings can show. Where is "" for the whole recording, or e.g. "hold 1".
type Warning struct {
	Code  string
	Text  string
	Where string
	Facts map[string]float64
}

// Gauge is what the job says of the vacuum gauge. Zero means not stated.
type Gauge struct {
	Gain          float64 // error limit proportional to the reading, as a fraction
	Offset        float64 // error limit independent of the reading, Pa; added to the proportional one
	ZeroStability float64 // limit of the zero's change during a hold, Pa
	Resolution    float64 // step, Pa
	Top, Bottom   float64 // range, Pa
	Principle     string  // as the job states it; "" is unknown
	Position      string  // "pump side", "far end", "other" or ""
	Overdue       bool    // calibration was past its date
}

// Span is a stated hold.
type Span struct{ Start, End time.Time }

// Hose is one piece of line between the pump and the system, in series with the others.
type Hose struct{ Diameter, Length float64 } // m

// Event is something the job says happened; nothing is interpolated across it.
type Event struct {
	Time time.Time
	What string
}

// Options is everything the analysis takes from the job. Zero values mean not stated.
type Options struct {
	Volume        float64 // m³
	VolumeU       float64 // relative standard uncertainty of Volume
	Gauge         Gauge
	Hold          Span   // the deciding hold, where stated
	Attempts      []Span // earlier holds, where stated
	Before        time.Time
	Minutes       float64 // criterion's duration from isolation, s; 0 without criterion
	Limit         float64 // criterion's pressure, Pa; only for cautions
	Levels        []float64
	Events        []Event
	Breaks        []Span
	Hoses         []Hose
	PumpFlow      float64 // stated volume flow rate, m³/s
	PumpReading   float64 // gauge straight on the pump, Pa
	OilChanged    *bool
	GasBallast    *bool
	AmbientKelvin float64 // where no ambient is recorded; 0 is 293.15
}

// Model is one of the four fits printed in the record.
type Model struct {
	Name       string             // "nothing", "leak", "moisture", "leak and moisture"
	Parameters map[string]float64 // SI: "start pressure", "leak rise", "moisture rise", "moisture time", "transient", "transient time"
	RSS        float64            // weighted, in units of the readings' variance
	AICc       float64
	Weight     float64 // share of the averaged distribution; adds up to 1
}

// Hold is one isolation.
type Hold struct {
	Start, End    time.Time
	Found         string // "stated" or "detected"
	StartPressure float64
	EndPressure   float64
	Rise          float64
	Settle        time.Time // the end of equalisation
	Transient     Reason    // how the equalisation was treated
	AtLimit       time.Time // start + Minutes; zero without criterion
	Reading       float64   // y: the highest reading from Settle to AtLimit, or to End without criterion
	ReadingKnown  bool
	ReadingReason Reason // why not known, or that it is a lower limit
	AtLeast       bool   // over-range inside: Reading is at least the range's top
	Uncertainty   float64
	RiseU         float64 // standard uncertainty of Rise
	Cause         Cause
	Reason        Reason
	LeakRate      Value // Pa m³/s
	LeakRise      Value // Pa/s
	MoistureRise  Value // Pa, over the hold from Settle
	MoistureTime  Value // s
	MoistureMass  Value // kg
	MassOrder     bool  // the mass is an order of magnitude
	SmallestLeak  float64
	SmallestKnown bool
	LongerHold    float64 // s, a hold of this length should settle the cause; 0 where none would
	Models        []Model
	Rows          int
	Noise         float64   // standard deviation of a reading, Pa, at the start pressure
	EffectiveRows float64   // independent readings
	CurveTime     []float64 // s from Start: averaged curve with 95 % band, for a figure
	Curve         []float64 // Pa
	BandLow       []float64
	BandHigh      []float64
	Threshold     float64 // Pa: a contribution above this is named
	LeakContr     Value   // Pa: the leak's contribution from Settle to End
	warnings      []Warning
}

// Candidate is a hold that the readings suggest but do not settle.
type Candidate struct {
	Start, End time.Time
	Why        string
}

// PullDownResult describes the last evacuation before the deciding hold.
type PullDownResult struct {
	Start, End  time.Time
	Lowest      float64
	TimeTo      []LevelTime
	Rate        Value // 1/s, S_eff/V at the fastest steady stretch below 1 kPa
	Rates       []RateAt
	Asymptotic  Value // Pa
	Plateaus    []Plateau
	IcePossible bool // passed the triple point of water
	Line        *LineResult
}

// LevelTime is the time to a level of pressure, from the start of the pull-down.
type LevelTime struct{ Level, Seconds float64 }

// RateAt is the pumping rate at a pressure.
type RateAt struct{ Pressure, Rate float64 }

// Plateau is a stretch in which the pressure hardly fell though it fell before and after.
type Plateau struct {
	Start, End time.Time
	Pressure   float64
}

// BreakResult is one filling with nitrogen and what of the gas before it is left.
type BreakResult struct {
	Start, End time.Time
	Before     float64 // Pa, at its start
	Reached    float64 // Pa
	Residual   float64 // fraction of the gas before, diluted in all nitrogen breaks up to this one
}

// Result is the analysis of one recording.
type Result struct {
	Phases     []Phase
	PullDown   *PullDownResult
	Breaks     []BreakResult
	Holds      []Hold
	Deciding   int         // index in Holds, -1 where none
	Candidates []Candidate // set when the hold had to be asked for
	Warnings   []Warning
	PumpCheck  *Reason
}

// ShareAt is the part of the pump that arrives at the system at a mean pressure in the hoses, Pa.
type ShareAt struct{ Pressure, Share float64 }

// LineResult is what the line between pump and system did to the pump.
type LineResult struct {
	Conductance float64 // m³/s at the mean pressure Pressure
	Pressure    float64 // Pa
	Effective   float64 // m³/s, 1/(1/S + 1/C)
	Share       float64 // Effective / PumpFlow
	Limited     bool    // less than half of the pump arrived
	Larger      float64 // Effective had the line been one and a half times as wide
	Shares      []ShareAt
}
