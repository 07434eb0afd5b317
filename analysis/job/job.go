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
