package analysis

import (
	"math"

	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

func facts(m map[string]float64) map[string]*record.Value {
	if len(m) == 0 {
		return nil
	}
	out := make(map[string]*record.Value, len(m))
	for k, v := range m {
		if !math.IsNaN(v) && !math.IsInf(v, 0) {
			out[k] = record.Plain(v, factUnit(k))
		}
	}
	return out
}

// factUnit is the SI unit of a fact by its name.
func factUnit(name string) string {
	switch name {
	case "held", "asked", "steady", "settle", "left out", "hold", "time", "length", "longer", "seconds", "seconds from the phase's start":
		return "s"
	case "threshold", "rise", "leak", "leak low", "leak high", "moisture", "moisture low", "moisture high", "early moisture",
		"reading", "resolution", "limit", "guard", "size", "step", "drift", "end", "level", "highest", "design", "top", "saturation", "plateau",
		"pressure", "change", "expanded", "smallest_drop":
		return "Pa"
	case "low", "high", "smallest":
		return "Pa m3/s"
	case "temperature", "outdoor", "value":
		return "K"
	case "charge":
		return "kg"
	}
	return "1"
}

// value is nil for what is not known.
func value(v vacuum.Value, unit string) *record.Value {
	if !v.Known || math.IsNaN(v.X+v.Low+v.High) || math.IsInf(v.X+v.Low+v.High, 0) {
		return nil
	}
	return record.Between(v.X, v.Low, v.High, unit)
}

func plain(x float64, unit string) *record.Value {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return record.Plain(x, unit)
}
