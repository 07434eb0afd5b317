// Package form makes the job form, a workbook for those who do not write TOML,
// and turns a filled one into a job file. The form follows the types of package
// job: a hidden column, or a hidden row, holds the key of each cell, so that rows
// may be moved or inserted and a spreadsheet program may save the workbook its
// own way. What is wrong with a filled form is told at its cell.
package form

import (
	"cmp"

	"strings"

	"dryhold/analysis/job"
	"dryhold/analysis/quantity"
)

const (
	mainSheet = "Job"
	keyColumn = "E" // hidden, on the sheet Job
	rows      = 24  // that a list is laid out for; more are read
)

// units are the units offered for a kind of quantity; the first stands there at
// first, for a firm that keeps to SI that of si.
var units = map[quantity.Dimension][]string{
	quantity.DimPressure:    {"micron", "Pa", "hPa", "kPa", "mbar", "Torr", "psia", "psig", "bara", "barg", "kPag", "inHg abs", "inHg vac"},
	quantity.DimTemperature: {"°F", "°C"},
	quantity.DimDifference:  {"°F", "K"},
	quantity.DimLength:      {"ft", "m", "in", "mm"},
	quantity.DimVolume:      {"L", "ft3", "m3"},
	quantity.DimMass:        {"lb", "kg", "oz", "g"},
	quantity.DimTime:        {"min", "h", "s"},
	quantity.DimFlow:        {"cfm", "m3/h", "L/s", "L/min"},
	quantity.DimVoltage:     {"V"},
	quantity.DimCurrent:     {"A"},
	quantity.DimResistance:  {"Mohm", "kohm", "ohm"},
}

var si = map[quantity.Dimension]string{
	quantity.DimPressure: "Pa", quantity.DimTemperature: "°C", quantity.DimDifference: "K", quantity.DimLength: "m",
	quantity.DimMass: "kg", quantity.DimFlow: "m3/h",
}

// firstUnit is the unit that stands beside a value at first.
func firstUnit(k job.Key, system string) string {
	if system == "si" {
		return cmp.Or(unitOf[k.Path].si, si[k.Dim], units[k.Dim][0])
	}
	return cmp.Or(unitOf[k.Path].us, units[k.Dim][0])
}

// label is a key's name on the form, with an asterisk where it is required, and
// the remark beside it.
func label(k job.Key) (name, note string) {
	name, note = called(k.Path), words[k.Path][1]
	if k.Required {
		name += " *"
	}
	return name, note
}

// called is a key's name on the form; what is no key stays as it is.
func called(path string) string {
	if name := words[path][0]; name != "" || path == "" {
		return name
	}
	last := path[strings.LastIndexByte(path, '.')+1:]
	last = strings.ReplaceAll(last, "_", " ")
	return strings.ToUpper(last[:1]) + last[1:]
}
