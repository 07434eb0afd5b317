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

// Software is the program that worked the record out.
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
	BarometerFrom string      `json:"barometer_from,omitempty"` // "barometer", "altitude", "standard atmosphere"
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

// Equipment is a unit of the circuit; serial numbers stay as written.
type Equipment struct {
	Role   string `json:"role,omitempty"`
	Maker  string `json:"maker,omitempty"`
	Model  string `json:"model,omitempty"`
	Serial string `json:"serial,omitempty"`
}

// System is the circuit: its refrigerant and its internal volume in m3.
type System struct {
	Circuit     string `json:"circuit,omitempty"`
	Refrigerant string `json:"refrigerant,omitempty"`
	Class       string `json:"class,omitempty"` // ASHRAE 34
	Volume      *Value `json:"volume,omitempty"`
	VolumeFrom  string `json:"volume_from,omitempty"` // "stated", "worked out from the pieces", or that with a part whose uncertainty was not stated
	Lines       []Line `json:"lines,omitempty"`
}

// Line is a piece of tube or another part with its internal volume in m3.
type Line struct {
	Role   string `json:"role,omitempty"`
	Text   string `json:"text"` // as written
	Volume *Value `json:"volume,omitempty"`
}

// Boundary is what was inside the test, and where it was shut off and read.
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

// Input is a file of readings: Rows = Used + OverRange + UnderRange + NotANumber +
// Duplicates + Unused. First and Last are RFC 3339, the interval is in s.
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

// Instrument is what measured, as written, and which results rest on it.
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

// Event is something that happened meanwhile, with its time (RFC 3339).
type Event struct {
	Time string `json:"time"`
	What string `json:"what"`
}

// Signoff is who answers for what; a typed name is not a signature.
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
