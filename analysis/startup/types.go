package startup

import (
	"math"

	"dryhold/analysis/fluid"
)

// Estimate is a measured value in SI with its standard uncertainty. The zero
// value means that it was not measured.
type Estimate struct{ Value, U float64 }

// given reports whether it was measured and is a number.
func (e Estimate) given() bool {
	return e.Value != 0 && !math.IsNaN(e.Value) && !math.IsInf(e.Value, 0) && e.U >= 0
}

// Input is what the job gives; zero means not stated.
type Input struct {
	Refrigerant                       *fluid.Refrigerant // nil where not in the table
	SuctionPressure, LiquidPressure   Estimate           // Pa absolute; U has that of the station pressure, where it was added
	SuctionTemperature                Estimate           // K
	LiquidTemperature                 Estimate           // K
	ReturnAir, SupplyAir, OutdoorAir  Estimate           // K
	Voltages                          []Estimate         // V, between the three lines
	Currents                          []Estimate         // A
	PlateCurrent                      float64            // A
	Insulation                        Estimate           // ohm
	TargetSuperheat, TargetSubcooling float64            // K
	Tolerance                         float64            // K, either side of the target
	MinutesSteady                     float64
	VariableSpeed, TestMode           *bool
}

// Note is a reason or a remark: a stable code, a sentence in English, numbers in SI.
type Note struct {
	Code  string
	Text  string
	Facts map[string]float64
}

// Row is one quantity of a start-up.
type Row struct {
	Name       string  // "superheat", "subcooling", "temperature split", "voltage unbalance", "current", "insulation resistance"
	Value, U   float64 // SI, with the standard uncertainty
	Unknown    bool    // Value could not be worked out; Why says why
	Unit       string  // "K", "1" or "ohm"
	Saturation float64 // K, 0 where it has none
	Target     *Target // nil where it should not be judged; Why says why
	Why        *Note
	Source     string // of the limits or of the definition
	Notes      []Note
}

// Target bounds a value; a one-sided one has only High.
type Target struct {
	Low, High float64
	OneSided  bool
}
