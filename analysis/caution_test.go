package analysis_test

import (
	"slices"
	"testing"

	"dryhold/analysis"
	"dryhold/analysis/record"
)

// TestCautionOfTheRefrigerant: what can burn by its ASHRAE 34 class is told as such,
// and of what is not in the table, or not stated, that nobody here knows.
func TestCautionOfTheRefrigerant(t *testing.T) {
	for name, want := range map[string]string{"R-454B": "flammable", "R-32": "flammable", "R-290": "flammable", "R-410A": "", "R-600a": "class-unknown", "": "class-unknown"} {
		l := loadSample(t, "slow-leak")
		l.Job.System.Refrigerant = name
		rec, _ := analysis.Run(l.Job, l.Series, analysis.Options{})
		for _, code := range []string{"flammable", "class-unknown"} {
			has := slices.ContainsFunc(rec.Cautions, func(c record.Caution) bool { return c.Code == code })
			if has != (code == want) {
				t.Errorf("%q: caution %q is there: %v", name, code, has)
			}
		}
	}
}
