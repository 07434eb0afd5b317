// Package job decodes a job file (format 1) strictly: every fault names file,
// line and key, says what was found and expected, and proposes the nearest key.
//
// Local dates and times in the file are in the job's time zone; Zone holds it
// and every time.Time below is already in it.
package job

import (
	"time"

	"dryhold/analysis/quantity"
)

// Beside the toml key, field tags hold what Decode checks and Schema tells:
// rule has "required", "path" (a file beside job.toml) and "instrument" or
// "readings" (the id of one); words are the only texts allowed.

// Job is one refrigerant circuit's job description, job.toml over company.toml.
// Times that were not given are zero; texts are as written.
type Job struct {
	Format       int           `toml:"format" rule:"required"`
	Job          Identity      `toml:"job"`
	Company      Company       `toml:"company"`
	Technician   Person        `toml:"technician"`
	Customer     Customer      `toml:"customer"`
	Site         Site          `toml:"site"`
	Equipment    []Equipment   `toml:"equipment"`
	System       System        `toml:"system"`
	Boundary     Boundary      `toml:"boundary"`
	Instruments  []Instrument  `toml:"instrument"`
	Readings     []Reading     `toml:"readings"`
	Events       []Event       `toml:"event"`
	PumpCheck    *PumpCheck    `toml:"pump_check"`
	PressureTest *PressureTest `toml:"pressure_test"`
	Recovery     *Recovery     `toml:"recovery"`
	Evacuation   *Evacuation   `toml:"evacuation"`
	Hold         *Hold         `toml:"hold"`
	Attempts     []Attempt     `toml:"attempt"`
	LeakChecks   []LeakCheck   `toml:"leak_check"`
	Charge       *Charge       `toml:"charge"`
	Startup      *Startup      `toml:"startup"`
	Signoffs     []Signoff     `toml:"signoff"`
	Photographs  []Photograph  `toml:"photograph"`
	Record       Presentation  `toml:"record"`
	Key          string        `toml:"key"` // company.toml only: name of the signing key

	Zone *time.Location `toml:"-"`

	from map[string]place `toml:"-"` // where each value stands
}

// Identity is [job]: which job, when, and under how much air.
type Identity struct {
	Number    string            `toml:"number" rule:"required"`
	Kind      string            `toml:"kind" words:"new|replacement|repair|relocation|retrofit"`
	Date      Date              `toml:"date" rule:"required"`
	Timezone  string            `toml:"timezone"`
	Altitude  quantity.Length   `toml:"altitude"`
	Barometer quantity.Pressure `toml:"barometer"` // station pressure
}

// Company is [company], the firm; its name is that of the signing key.
type Company struct {
	Name, Address, Phone, Licence string
	Logo                          string `toml:"logo" rule:"path"`
}

// Person is [technician].
type Person struct{ Name, Certification string }

// Customer is [customer].
type Customer struct{ Name, Contact string }

// Site is [site].
type Site struct{ Address, Permit string }

// Equipment is one [[equipment]].
type Equipment struct{ Role, Maker, Model, Serial string }

// System is [system]: the volume is stated, or the sum of its lines and components.
type System struct {
	Circuit     string          `toml:"circuit"`
	Refrigerant string          `toml:"refrigerant"`
	Volume      quantity.Volume `toml:"volume"`
	Lines       []Line          `toml:"line"`
	Components  []Component     `toml:"component"` // volumes beside the lines
}

// Line is a piece of tube: outside diameter, wall and length.
type Line struct {
	Role     string          `toml:"role"`
	Diameter quantity.Length `toml:"diameter" rule:"required"`
	Wall     quantity.Length `toml:"wall" rule:"required"`
	Length   quantity.Length `toml:"length" rule:"required"`
}

// Component is a coil, receiver or other part with a stated internal volume.
type Component struct {
	Role   string          `toml:"role"`
	Volume quantity.Volume `toml:"volume" rule:"required"`
}

// Boundary is [boundary]: what was inside the test.
type Boundary struct {
	Included     Texts  `toml:"included"`
	Excluded     Texts  `toml:"excluded"`
	Valves       string `toml:"valves"`
	IsolatedAt   string `toml:"isolated_at"`
	GaugeAt      string `toml:"gauge_at" words:"pump side|far end|other"`
	CoresRemoved *bool  `toml:"cores_removed"`
}

// Instrument is one [[instrument]]; the accuracy is an error limit.
type Instrument struct {
	ID            string            `toml:"id" rule:"required"`
	Measures      string            `toml:"measures" rule:"required" words:"vacuum|pressure|temperature|mass|electrical"`
	Principle     string            `toml:"principle"`
	Range         quantity.Range    `toml:"range"`
	Maker         string            `toml:"maker"`
	Model         string            `toml:"model"`
	Serial        string            `toml:"serial"`
	Calibrated    Date              `toml:"calibrated"`
	Due           Date              `toml:"due"`
	Certificate   string            `toml:"certificate"`
	Check         string            `toml:"check"` // check before use
	Accuracy      quantity.Accuracy `toml:"accuracy"`
	Resolution    quantity.Any      `toml:"resolution"`
	ZeroStability quantity.Any      `toml:"zero_stability"`
}

// Reading is one [[readings]], a recording in one file or several; Time, Pressure and
// Ambient name columns where they are not recognised.
type Reading struct {
	ID         string   `toml:"id" rule:"required"`
	File       Texts    `toml:"file" rule:"required,path"`
	Sheet      string   `toml:"sheet"`
	Instrument string   `toml:"instrument" rule:"instrument"`
	Time       string   `toml:"time"`
	Pressure   string   `toml:"pressure"`
	Ambient    string   `toml:"ambient"`
	Start      DateTime `toml:"start"`
	Decimal    string   `toml:"decimal" words:"point|comma"`
}

// Event is one [[event]].
type Event struct {
	Time DateTime `toml:"time" rule:"required"`
	What string   `toml:"what" rule:"required"`
}

// PumpCheck is [pump_check], the pump read straight at its inlet.
type PumpCheck struct {
	Reading    quantity.Pressure `toml:"reading"`
	OilChanged *bool             `toml:"oil_changed"`
	GasBallast *bool             `toml:"gas_ballast"`
	Pump       string            `toml:"pump"` // serial or name, for the register
	Instrument string            `toml:"instrument" rule:"instrument"`
}

// PressureTest is [pressure_test]: a recording, or the values at both ends.
type PressureTest struct {
	Kind             string               `toml:"kind" words:"strength|tightness"`
	Readings         string               `toml:"readings" rule:"readings"`
	Instrument       string               `toml:"instrument" rule:"instrument"`
	Thermometer      string               `toml:"thermometer" rule:"instrument"`
	Start            DateTime             `toml:"start"`
	End              DateTime             `toml:"end"`
	StartPressure    quantity.Pressure    `toml:"start_pressure"`
	EndPressure      quantity.Pressure    `toml:"end_pressure"`
	StartTemperature quantity.Temperature `toml:"start_temperature"`
	EndTemperature   quantity.Temperature `toml:"end_temperature"`
	StartBarometer   quantity.Pressure    `toml:"start_barometer"`
	EndBarometer     quantity.Pressure    `toml:"end_barometer"`
	Gas              string               `toml:"gas"`
	Duration         quantity.Time        `toml:"duration"`
	DesignPressure   quantity.Pressure    `toml:"design_pressure"`
	TemperatureAt    string               `toml:"temperature_at"`
	MaxChange        quantity.Any         `toml:"max_change"` // agreed limit of the fall beyond the temperature's effect
}

// Recovery is [recovery].
type Recovery struct {
	Refrigerant string            `toml:"refrigerant"`
	Mass        quantity.Mass     `toml:"mass"`
	Level       quantity.Pressure `toml:"level"`
	Cylinder    string            `toml:"cylinder"`
}

// Evacuation is [evacuation]; Breaks is nil where they are to be found in the readings.
type Evacuation struct {
	Readings       string        `toml:"readings" rule:"readings"`
	Hose           []Hose        `toml:"hose"`
	VolumeFlowRate quantity.Flow `toml:"volume_flow_rate"`
	Breaks         *int          `toml:"breaks"`
}

// Hose is a piece of hose by inside diameter and length; pieces are in series.
type Hose struct {
	Diameter quantity.Length `toml:"diameter" rule:"required"`
	Length   quantity.Length `toml:"length" rule:"required"`
}

// Hold is [hold]; Start and End are zero where they are to be found in the readings.
type Hold struct {
	Readings   string            `toml:"readings" rule:"readings"`
	Start      DateTime          `toml:"start"`
	End        DateTime          `toml:"end"`
	Acceptance string            `toml:"acceptance"`
	Reach      quantity.Pressure `toml:"reach"`
	Limit      quantity.Pressure `toml:"limit"`
	Minutes    *float64          `toml:"minutes"`
	MaxRise    quantity.Pressure `toml:"max_rise"`
	Document   string            `toml:"document"` // for the presets maker and project
	Page       string            `toml:"page"`
}

// Attempt is one [[attempt]], an earlier test.
type Attempt struct {
	Test     string   `toml:"test" rule:"required" words:"hold|pressure"`
	Readings string   `toml:"readings" rule:"readings"`
	Start    DateTime `toml:"start"`
	End      DateTime `toml:"end"`
	Finding  string   `toml:"finding"`
	Repair   string   `toml:"repair"`
}

// LeakCheck is one [[leak_check]].
type LeakCheck struct {
	Stage       string `toml:"stage"`
	Method      string `toml:"method"`
	Place       string `toml:"place"`
	Sensitivity string `toml:"sensitivity"`
	Detector    string `toml:"detector"` // how and when it was checked
	Result      string `toml:"result"`
}

// Charge is [charge].
type Charge struct {
	Factory       quantity.Mass `toml:"factory"`
	LineAllowance quantity.Mass `toml:"line_allowance"`
	Added         quantity.Mass `toml:"added"`
	Plate         quantity.Mass `toml:"plate"`
	Instrument    string        `toml:"instrument" rule:"instrument"`
	Time          DateTime      `toml:"time"`
}

// Startup is [startup].
type Startup struct {
	SuctionPressure    quantity.Pressure    `toml:"suction_pressure"`
	LiquidPressure     quantity.Pressure    `toml:"liquid_pressure"`
	SuctionTemperature quantity.Temperature `toml:"suction_temperature"`
	LiquidTemperature  quantity.Temperature `toml:"liquid_temperature"`
	ReturnAir          quantity.Temperature `toml:"return_air"`
	SupplyAir          quantity.Temperature `toml:"supply_air"`
	OutdoorAir         quantity.Temperature `toml:"outdoor_air"`
	Voltages           []quantity.Voltage   `toml:"voltages"`
	Currents           []quantity.Current   `toml:"currents"`
	PlateCurrent       quantity.Current     `toml:"plate_current"`
	Insulation         quantity.Resistance  `toml:"insulation"`
	TargetSuperheat    quantity.Difference  `toml:"target_superheat"`
	TargetSubcooling   quantity.Difference  `toml:"target_subcooling"`
	Tolerance          quantity.Difference  `toml:"tolerance"`
	MinutesSteady      *float64             `toml:"minutes_steady"`
	VariableSpeed      *bool                `toml:"variable_speed"`
	TestMode           *bool                `toml:"test_mode"`
	PressureGauge      string               `toml:"pressure_gauge" rule:"instrument"`
	Thermometer        string               `toml:"thermometer" rule:"instrument"`
}

// Signoff is one [[signoff]].
type Signoff struct {
	Role   string `toml:"role" rule:"required"`
	Name   string `toml:"name" rule:"required"`
	Date   Date   `toml:"date"`
	Method string `toml:"method" words:"typed by office|image|digital"`
	Image  string `toml:"image" rule:"path"`
}

// Photograph is a picture that the record shows, with what it shows in words.
type Photograph struct {
	File    string `toml:"file" rule:"required,path"`
	Caption string `toml:"caption" rule:"required"`
}

// Presentation is the [record] table: how the record is told.
type Presentation struct {
	Audience Texts  `toml:"audience" words:"homeowner|inspector|warranty"` // empty: all
	Units    string `toml:"units" words:"us|si"`
	Language string `toml:"language" words:"en|es"`
	Paper    string `toml:"paper" words:"letter|a4"`
	Template string `toml:"template" rule:"path"`
	Amends   string `toml:"amends"`
	Reason   string `toml:"reason"`
}
