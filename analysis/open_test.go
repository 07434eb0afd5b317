package analysis

import (
	"testing"

	"dryhold/analysis/record"
)

// What would settle a cause that is open for the readings' unit is the unit, not a longer hold.
func TestOpenUnit(t *testing.T) {
	for code, want := range map[string]string{"below-resolution": "readings-unit", "near-threshold": "cause"} {
		r := &runner{rec: &record.Record{Hold: &record.Hold{Cause: "not determined", CauseNote: &record.Note{Code: code}}}}
		r.notDetermined()
		if got := r.rec.Open[0].Code; got != want {
			t.Errorf("%s: %s, want %s", code, got, want)
		}
	}
}
