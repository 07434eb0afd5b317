package startup

import (
	"fmt"

	"dryhold/analysis/fluid"
	"dryhold/analysis/quantity"
)

// Substances that the two rules treat apart; every other refrigerant in the
// table is, or contains, a hydrofluorocarbon of Annex I.
var (
	annexII       = map[string]bool{"R-1234yf": true}
	notFluorogas  = map[string]bool{"R-290": true, "R-22": true} // R-22 falls under rules for the ozone layer
	fifteenPounds = quantity.Pound.SI(15)
)

// duties lists the leak-check duties that follow from a charge in kg. Whether a
// rule applies at the site is for the reader to say.
func duties(r *fluid.Refrigerant, charge float64) []Note {
	return []Note{european(r, charge), american(r, charge)}
}

// european is Regulation (EU) 2024/573, Article 5(6). The entry threshold is
// worded as in Regulation 517/2014, Article 4(1): the newer sub-paragraph was
// missing in the copy that was read.
func european(r *fluid.Refrigerant, charge float64) Note {
	const rule = "where Regulation (EU) 2024/573 applies: "
	if notFluorogas[r.Name] {
		return Note{Code: "eu-other-rule", Text: rule + r.Name + " is not a gas of its Annex I or II"}
	}
	amount, steps, unit := charge*r.GWP[0].Value/1000, [3]float64{5, 50, 500}, "t of CO2 equivalent"
	if annexII[r.Name] {
		amount, steps, unit = charge, [3]float64{1, 10, 100}, "kg of a gas of Annex II"
	}
	facts := map[string]float64{"charge": charge, "gwp": r.GWP[0].Value}
	amount *= 1 + rounding
	if amount < steps[0] {
		return Note{Code: "eu-none", Facts: facts, Text: fmt.Sprintf("%sno periodic leak check below %g %s "+
			"(threshold as in Regulation 517/2014, Article 4(1); believed unchanged)", rule, steps[0], unit)}
	}
	months := 12
	if amount >= steps[1] {
		months = 6
	}
	if amount >= steps[2] {
		months = 3
	}
	facts["months"], facts["months_with_detection"] = float64(months), float64(2*months)
	return Note{Code: "eu-interval", Facts: facts, Text: fmt.Sprintf("%sa leak check every %d months, %d with a leak detection system "+
		"(Article 5(6)); labelled hermetically sealed equipment has exemptions", rule, months, 2*months)}
}

// american is 40 CFR 84.106 (89 FR 82682), from 1 January 2026, known from
// summaries: 15 lb or more of a substance with a GWP above 53.
func american(r *fluid.Refrigerant, charge float64) Note {
	const rule = "where 40 CFR 84.106 applies (known from summaries of 89 FR 82682): "
	facts := map[string]float64{"charge": charge, "gwp": r.GWP[0].Value}
	switch {
	case r.Name == "R-22":
		return Note{Code: "us-other-rule", Facts: facts, Text: "R-22 falls under 40 CFR 82.157, from 50 lb"}
	case charge*(1+rounding) < fifteenPounds || r.GWP[0].Value <= 53:
		return Note{Code: "us-none", Facts: facts, Text: rule + "no duty below 15 lb or at a GWP of 53 or less"}
	}
	return Note{Code: "us-leak-rate", Facts: facts, Text: rule + "repair within 30 days above a yearly leak rate of 10 % (comfort cooling), " +
		"20 % (commercial refrigeration) or 30 % (industrial process); residential and light commercial air conditioning is excluded"}
}
