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

// Job is one refrigerant circuit's job description, job.toml over company.toml.
// Times that were not given are zero; texts are as written.
type Job struct {
	Format       int           `toml:"format"`
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
	Record       Presentation  `toml:"record"`
	Key          string        `toml:"key"` // company.toml only: name of the signing key

	Zone *time.Location `toml:"-"`
}

type Identity struct {
	Number    string            `toml:"number"`
	Kind      string            `toml:"kind"` // new, replacement, repair, relocation, retrofit
	Date      Date              `toml:"date"`
	Timezone  string            `toml:"timezone"`
	Altitude  quantity.Length   `toml:"altitude"`
	Barometer quantity.Pressure `toml:"barometer"` // station pressure
}

type Company struct {
	Name, Address, Phone, Licence, Logo string
}

type Person struct{ Name, Certification string }

type Customer struct{ Name, Contact string }

type Site struct{ Address, Permit string }

type Equipment struct{ Role, Maker, Model, Serial string }

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
	Diameter quantity.Length `toml:"diameter"`
	Wall     quantity.Length `toml:"wall"`
	Length   quantity.Length `toml:"length"`
}

// Component is a coil, receiver or other part with a stated internal volume.
type Component struct {
	Role   string          `toml:"role"`
	Volume quantity.Volume `toml:"volume"`
}

type Boundary struct {
	Included     Texts  `toml:"included"`
	Excluded     Texts  `toml:"excluded"`
	Valves       string `toml:"valves"`
	IsolatedAt   string `toml:"isolated_at"`
	GaugeAt      string `toml:"gauge_at"` // "pump side", "far end", "other"
	CoresRemoved *bool  `toml:"cores_removed"`
}

type Instrument struct {
	ID            string            `toml:"id"`
	Measures      string            `toml:"measures"` // vacuum, pressure, temperature, mass, electrical
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

type Reading struct {
	ID         string   `toml:"id"`
	File       Texts    `toml:"file"`
	Sheet      string   `toml:"sheet"`
	Instrument string   `toml:"instrument"`
	Time       string   `toml:"time"`
	Pressure   string   `toml:"pressure"`
	Ambient    string   `toml:"ambient"`
	Start      DateTime `toml:"start"`
}

type Event struct {
	Time DateTime `toml:"time"`
	What string   `toml:"what"`
}

type PumpCheck struct {
	Reading    quantity.Pressure `toml:"reading"`
	OilChanged *bool             `toml:"oil_changed"`
	GasBallast *bool             `toml:"gas_ballast"`
	Pump       string            `toml:"pump"` // serial or name, for the register
	Instrument string            `toml:"instrument"`
}

type PressureTest struct {
	Kind             string               `toml:"kind"` // strength, tightness
	Readings         string               `toml:"readings"`
	Instrument       string               `toml:"instrument"`
	Thermometer      string               `toml:"thermometer"`
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

type Recovery struct {
	Refrigerant string            `toml:"refrigerant"`
	Mass        quantity.Mass     `toml:"mass"`
	Level       quantity.Pressure `toml:"level"`
	Cylinder    string            `toml:"cylinder"`
}

type Evacuation struct {
	Readings       string        `toml:"readings"`
	Hose           []Hose        `toml:"hose"`
	VolumeFlowRate quantity.Flow `toml:"volume_flow_rate"`
	Breaks         *int          `toml:"breaks"`
}

// Hose is a piece of hose by inside diameter and length; pieces are in series.
type Hose struct {
	Diameter quantity.Length `toml:"diameter"`
	Length   quantity.Length `toml:"length"`
}

type Hold struct {
	Readings   string            `toml:"readings"`
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

type Attempt struct {
	Test     string   `toml:"test"` // hold, pressure
	Readings string   `toml:"readings"`
	Start    DateTime `toml:"start"`
	End      DateTime `toml:"end"`
	Finding  string   `toml:"finding"`
	Repair   string   `toml:"repair"`
}

type LeakCheck struct {
	Stage       string `toml:"stage"`
	Method      string `toml:"method"`
	Place       string `toml:"place"`
	Sensitivity string `toml:"sensitivity"`
	Detector    string `toml:"detector"` // how and when it was checked
	Result      string `toml:"result"`
}

type Charge struct {
	Factory       quantity.Mass `toml:"factory"`
	LineAllowance quantity.Mass `toml:"line_allowance"`
	Added         quantity.Mass `toml:"added"`
	Plate         quantity.Mass `toml:"plate"`
	Instrument    string        `toml:"instrument"`
	Time          DateTime      `toml:"time"`
}

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
	PressureGauge      string               `toml:"pressure_gauge"`
	Thermometer        string               `toml:"thermometer"`
}

type Signoff struct {
	Role   string `toml:"role"`
	Name   string `toml:"name"`
	Date   Date   `toml:"date"`
	Method string `toml:"method"` // typed by office, image, digital
	Image  string `toml:"image"`
}

// Presentation is the [record] table: how the record is told.
type Presentation struct {
	Audience Texts  `toml:"audience"` // homeowner, inspector, warranty; empty: all
	Units    string `toml:"units"`    // us, si
	Language string `toml:"language"` // en, es
	Paper    string `toml:"paper"`    // letter, a4
	Template string `toml:"template"`
	Amends   string `toml:"amends"`
	Reason   string `toml:"reason"`
}
