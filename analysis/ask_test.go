package analysis

import (
	"testing"
	"time"

	"dryhold/analysis/job"
	"dryhold/analysis/readings"
	"dryhold/analysis/vacuum"
)

// TestAskWithoutCandidates: where the readings show nothing, the lines for [hold] are there all the same, with the day and the time
// that the readings cover, in the site's zone.
func TestAskWithoutCandidates(t *testing.T) {
	denver, err := time.LoadLocation("America/Denver")
	if err != nil {
		t.Fatal(err)
	}
	r := &runner{job: &job.Job{Zone: denver, Hold: &job.Hold{}},
		series: map[string]*readings.Series{"v": {Start: time.Date(2031, 4, 10, 2, 30, 0, 0, time.UTC), T: []float64{0, 3600}, P: []float64{50, 50}, Mark: make([]readings.Mark, 2)}}}
	r.ask(vacuum.Result{Deciding: -1}, "v")
	const want = "write under [hold] in job.toml when the pump was isolated and when the hold ended\n  start = 2031-04-09THH:MM:SS\n" +
		"  end = 2031-04-09THH:MM:SS    # the readings run from 2031-04-09 20:30:00 to 2031-04-09 21:30:00"
	if len(r.faults) != 1 || r.faults[0].Code != "hold-unclear" || r.faults[0].Mend != want {
		t.Errorf("%+v, want %q", r.faults, want)
	}
}
