package analysis

import (
	"testing"

	"dryhold/analysis/record"
)

// Too few readings are mended by more readings, not by another place of the gauge.
func TestOpenFew(t *testing.T) {
	r := &runner{rec: &record.Record{Hold: &record.Hold{Cause: "not determined", CauseNote: &record.Note{Code: "too-few-readings"}}}}
	r.notDetermined()
	if got, want := r.rec.Open[0].Settle, "a new hold with more readings, at least one a minute"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

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

// A gauge that stands at the far end already is not to be moved there.
func TestOpenFar(t *testing.T) {
	for at, want := range map[string]string{"far end": "a longer hold", "": "a longer hold, with the gauge away from the pump side"} {
		r := &runner{rec: &record.Record{Job: record.Job{Boundary: record.Boundary{GaugeAt: at}}, Hold: &record.Hold{Cause: "not determined"}}}
		r.notDetermined()
		if got := r.rec.Open[0].Settle; got != want {
			t.Errorf("%q: %q, want %q", at, got, want)
		}
	}
}
