package form

// section is a table of single values, shown on the sheet "Job".
type section struct{ table, title, note string }

var sections = []section{
	{"job", "Job", ""},
	{"company", "Company", "leave empty what company.toml holds"},
	{"technician", "Technician", "leave empty what company.toml holds"},
	{"customer", "Customer", ""},
	{"site", "Site", ""},
	{"system", "Circuit", "volume, or the pieces of tube on the sheet Lines"},
	{"boundary", "What was under test", ""},
	{"pump_check", "Pump, checked straight at its inlet", ""},
	{"evacuation", "Evacuation", "hoses on the sheet Hoses"},
	{"hold", "Hold, the pump isolated", "name an acceptance, or write your own figures"},
	{"pressure_test", "Standing pressure test", ""},
	{"charge", "Charge", ""},
	{"startup", "Start-up", ""},
	{"recovery", "Recovery", ""},
	{"record", "Record", ""},
}

// list is an array of tables: a sheet of its own, a row each.
type list struct{ table, sheet, note string }

var lists = []list{
	{"equipment", "Equipment", "one row for each piece of equipment on this circuit; serials keep their leading zeros"},
	{"system.line", "Lines", "one row for each piece of tube, with units: 3/8 in, 0.032 in, 35 ft"},
	{"system.component", "Components", "other parts with a known volume"},
	{"evacuation.hose", "Hoses", "inside diameter and length of each hose between pump and circuit, with units"},
	{"instrument", "Instruments", "keep this sheet from job to job; other sheets name an instrument by its id"},
	{"readings", "Readings", "one row for each recording; several files of one recording are separated by ;"},
	{"event", "Events", "what happened meanwhile: power lost, valve moved, heat applied, recorder stopped"},
	{"attempt", "Earlier attempts", "tests that failed or were stopped before the last one, with what was found and mended"},
	{"leak_check", "Leak checks", ""},
	{"photograph", "Photographs", "PNG or JPEG in the folder; where and when it was taken is not kept"},
	{"signoff", "Sign-off", "a name typed by the office is not a signature; the record says so"},
}

// words are the label and the note of a key where its name does not say enough.
var words = map[string][2]string{
	"job.number":                   {"Job number", "letters, digits, . _ -; it becomes the file name"},
	"job.kind":                     {"Kind of work", ""},
	"job.date":                     {"Date of the work", ""},
	"job.timezone":                 {"Time zone", "of the site and the loggers, for example America/Denver"},
	"job.altitude":                 {"Altitude of the site", ""},
	"job.barometer":                {"Barometer", "station pressure, not the one reduced to sea level"},
	"company.licence":              {"Licence number", ""},
	"company.logo":                 {"Logo file", "in the folder, PNG or JPEG"},
	"system.circuit":               {"Circuit", "where a unit has several, for example A"},
	"system.refrigerant":           {"Refrigerant", "for example R-454B"},
	"system.volume":                {"Volume of the circuit", "with its uncertainty if known: 9.6 L ± 15 %"},
	"boundary.included":            {"Included", "separate by ;"},
	"boundary.excluded":            {"Excluded", "separate by ;"},
	"boundary.valves":              {"Position of the valves", "for example service valves closed"},
	"boundary.isolated_at":         {"Isolated at", "the valve that cut off the pump"},
	"boundary.gauge_at":            {"Gauge at", ""},
	"boundary.cores_removed":       {"Valve cores removed", ""},
	"pump_check.reading":           {"Reading at the pump", ""},
	"pump_check.pump":              {"Pump", "serial or name, for the register"},
	"evacuation.volume_flow_rate":  {"Pump's volume flow rate", "as stated on the pump"},
	"evacuation.breaks":            {"Nitrogen breaks", "leave empty to have them found in the readings"},
	"hold.start":                   {"Pump isolated at", "leave empty to have it found in the readings"},
	"hold.end":                     {"End of the hold", "leave empty to have it found in the readings"},
	"hold.acceptance":              {"Acceptance", "maker: then its figures and document below; common-practice where nobody has them"},
	"hold.reach":                   {"To be reached first", "the maker's figure comes first"},
	"hold.limit":                   {"Not above", "at the end of the minutes below"},
	"hold.minutes":                 {"Minutes of the hold", ""},
	"hold.max_rise":                {"Greatest rise", ""},
	"hold.document":                {"Maker's or project's document", ""},
	"hold.page":                    {"Page in it", ""},
	"pressure_test.gas":            {"Gas", "dry nitrogen; never oxygen or air"},
	"pressure_test.temperature_at": {"Temperature taken at", ""},
	"pressure_test.max_change":     {"Agreed limit of the change", "beyond the temperature's effect, with unit"},
	"charge.factory":               {"Factory charge", ""},
	"charge.line_allowance":        {"Allowance for the lines", ""},
	"charge.added":                 {"Added", ""},
	"charge.plate":                 {"Charge on the name plate", ""},
	"charge.time":                  {"Charged at", ""},
	"startup.voltages":             {"Voltages", "separate by ;"},
	"startup.currents":             {"Currents", "separate by ;"},
	"record.audience":              {"Audience", "homeowner; inspector; warranty; empty: all three"},
	"record.amends":                {"Amends the record", "digest of the record that this one replaces"},
	"record.reason":                {"Reason of the amendment", ""},
	"system.line.role":             {"Role", "liquid, suction, discharge"},
	"system.line.diameter":         {"Outside diameter", "3/8 in"},
	"system.line.wall":             {"Wall", "0.032 in"},
	"system.line.length":           {"Length", "35 ft"},
	"system.component.role":        {"Role", "receiver, coil"},
	"system.component.volume":      {"Volume", "2.1 L ± 10 %"},
	"evacuation.hose.diameter":     {"Inside diameter", "3/8 in"},
	"evacuation.hose.length":       {"Length", "5 ft"},
	"equipment.role":               {"Role", "outdoor unit, indoor unit, air handler"},
	"event.time":                   {"Time", exampleDay + " 13:05:00"},
	"event.what":                   {"What happened", ""},
	"attempt.test":                 {"Test", ""},
	"leak_check.stage":             {"Stage", "under nitrogen, after charging"},
	"leak_check.method":            {"Method", "bubble solution, electronic detector"},
	"leak_check.detector":          {"Detector", "how and when it was checked"},
	"signoff.role":                 {"Role", "technician, customer, inspector"},
	"instrument.range":             {"Range", "0 to 20000 micron"},
	"instrument.accuracy":          {"Accuracy", "as on the data sheet: 10 % + 5 micron"},
	"instrument.resolution":        {"Resolution", "1 micron"},
	"instrument.zero_stability":    {"Zero stability", "1 micron"},
	"instrument.check":             {"Check before use", ""},
	"instrument.due":               {"Calibration due", ""},
	"instrument.principle":         {"Principle", "thermal conductivity, capacitance diaphragm, ..."},
	"readings.id":                  {"Id", "a short name, for example evacuation"},
	"readings.file":                {"File", "gauge.csv"},
	"readings.sheet":               {"Sheet", "only where a workbook has several"},
	"readings.time":                {"Header of the time", "only where it is not recognised"},
	"readings.pressure":            {"Header of the pressure", "only where it is not recognised"},
	"readings.ambient":             {"Header of the temperature", "only where it is not recognised"},
	"readings.decimal":             {"Decimal mark", "point or comma; only where it can't be told"},
	"readings.start":               {"Started at", "only for logs that count elapsed time"},
}

// unitOf is the unit that stands beside a value at first, where it is not that
// of its kind (see units).
var unitOf = map[string]string{
	"job.barometer": "kPa", "pressure_test.start_pressure": "psig", "pressure_test.end_pressure": "psig",
	"pressure_test.design_pressure": "psig", "pressure_test.start_barometer": "kPa", "pressure_test.end_barometer": "kPa",
	"startup.suction_pressure": "psig", "startup.liquid_pressure": "psig", "recovery.level": "inHg vac", "pressure_test.duration": "h",
}

// siUnitOf is the same for a firm that keeps to SI.
var siUnitOf = map[string]string{
	"job.barometer": "kPa", "pressure_test.start_pressure": "barg", "pressure_test.end_pressure": "barg",
	"pressure_test.design_pressure": "barg", "pressure_test.start_barometer": "kPa", "pressure_test.end_barometer": "kPa",
	"startup.suction_pressure": "barg", "startup.liquid_pressure": "barg", "recovery.level": "bara", "pressure_test.duration": "h",
}
