package analysis

import (
	"testing"
	"time"

	"dryhold/analysis/job"
)

// TestStampRounds: seconds are floats, and a nanosecond short of a second is that second.
func TestStampRounds(t *testing.T) {
	r := &runner{job: &job.Job{Zone: time.UTC}}
	for ns, want := range map[int]string{-1: "2031-04-09T10:00:00Z", 499999: "2031-04-09T10:00:00Z", 250e6: "2031-04-09T10:00:00.25Z"} {
		if got := r.stamp(time.Date(2031, 4, 9, 10, 0, 0, ns, time.UTC)); got != want {
			t.Errorf("%d ns: %s, want %s", ns, got, want)
		}
	}
}
