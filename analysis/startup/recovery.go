package startup

import (
	"fmt"

	"dryhold/analysis/fluid"
	"dryhold/analysis/quantity"
)

// Recovery is the level to which an appliance must be evacuated before it is
// opened, 40 CFR 82.156(a), Table 1. It is no dehydration target.
type Recovery struct {
	Class    string  // "very high pressure", "high pressure", "medium pressure", "low pressure"
	Absolute float64 // Pa, the highest pressure allowed
	Vacuum   float64 // Pa below the standard atmosphere of 29.9 inHg; 0 for low pressure
	Source   string
	Doubt    string // "" where there is none
}

const (
	table1        = "40 CFR 82.156(a), Table 1"
	classesMemory = "the class was found from the saturation pressure at 104 °F by the limits of 40 CFR 82.152 (45, 170 and 355 psia), from memory"
)

var twoHundred = quantity.Pound.SI(200) // kg

// RecoveryLevel returns the level for a refrigerant and a full charge in kg;
// old is for recovery machines made before 15 November 1993. A charge of 0 is
// taken as under 200 lb.
func RecoveryLevel(r *fluid.Refrigerant, charge float64, old bool) (Recovery, error) {
	p, err := r.BubblePressure(313.15) // 104 °F
	if err != nil {
		return Recovery{}, err
	}
	class := "very high pressure"
	switch psia := quantity.Psia.From(p); {
	case psia < 45:
		class = "low pressure"
	case psia < 170:
		class = "medium pressure"
	case psia <= 355:
		class = "high pressure"
	}
	level, err := RecoveryCell(class, charge, old)
	level.Doubt = join(classesMemory, level.Doubt)
	return level, err
}

// cells is Table 1 in inHg below the standard atmosphere: under 200 lb and from
// 200 lb, each with an old and a newer recovery machine.
var cells = map[string][2][2]float64{
	"very high pressure": {{0, 0}, {0, 0}},
	"high pressure":      {{0, 0}, {4, 10}},
	"medium pressure":    {{4, 10}, {4, 15}},
}

// RecoveryCell is one cell of Table 1.
func RecoveryCell(class string, charge float64, old bool) (Recovery, error) {
	l := Recovery{Class: class, Source: table1}
	if class == "low pressure" {
		l.Absolute = quantity.MmHg.SI(25)
		return l, nil
	}
	rows, ok := cells[class]
	if !ok {
		return Recovery{}, fmt.Errorf("recovery level: %q is not a class of %s", class, table1)
	}
	row, column := 0, 1
	if charge >= twoHundred {
		row = 1
	}
	if old {
		column = 0
	}
	if class == "medium pressure" && row == 1 && column == 1 {
		l.Doubt = "a page of the agency prints 10 inHg here; the regulation's text, 15 inHg, governs"
	}
	l.Vacuum = quantity.InHgAbs.SI(rows[row][column])
	l.Absolute = fluid.StandardAtmosphere - l.Vacuum
	return l, nil
}

func join(a, b string) string {
	if b == "" {
		return a
	}
	return a + "; " + b
}
