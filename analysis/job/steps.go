package job

import (
	"dryhold/analysis/quantity"
)

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
