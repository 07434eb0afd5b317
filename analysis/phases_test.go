package analysis

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/job"
	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

// TestStatedHoldIsThePhase: where the hold that the job states is a part of the isolation that the readings show, that part is the phase
// "hold"; the rest joins its neighbours, and nothing is left out. Letters are phases, minutes their ends.
func TestStatedHoldIsThePhase(t *testing.T) {
	zero := time.Date(2031, 4, 9, 10, 0, 0, 0, time.UTC)
	minute := func(m float64) time.Time { return zero.Add(time.Duration(m * float64(time.Minute))) }
	names := map[rune]vacuum.What{'i': vacuum.Idle, 'p': vacuum.PullDown, 'n': vacuum.NitrogenBreak, 'h': vacuum.HoldPhase, 'o': vacuum.Other}
	for _, c := range []struct {
		name, phases string
		ends         []float64
		from, to     float64 // the stated hold
		want         string
	}{
		{"as stated", "iphp", []float64{1, 20, 40, 50}, 20, 40, "idle 1 pull-down 20 hold 40 pull-down 50"},
		{"begins after the isolation", "iphhp", []float64{1, 20, 25, 40, 50}, 25, 40, "idle 1 pull-down 25 hold 40 pull-down 50"},
		{"ends a second early", "iphhp", []float64{1, 20, 39.75, 40, 50}, 20, 39.75, "idle 1 pull-down 20 hold 39.75 pull-down 50"},
		{"both", "phhhp", []float64{20, 21, 39.75, 40, 50}, 21, 39.75, "pull-down 21 hold 39.75 pull-down 50"},
		{"the first part of a long isolation", "iphhp", []float64{1, 20, 30, 60, 70}, 20, 30, "idle 1 pull-down 20 hold 30 other 60 pull-down 70"},
		{"the recording ends isolated", "phh", []float64{20, 30, 30.5}, 20, 30, "pull-down 20 hold 30 other 30.5"},
		{"the recording begins isolated", "hhp", []float64{5, 30, 40}, 5, 30, "other 5 hold 30 pull-down 40"},
		{"stated beyond the recording", "phh", []float64{20, 22, 40}, 22, 45, "pull-down 22 hold 40"},
		{"an earlier isolation keeps its name", "phnphp", []float64{10, 20, 25, 35, 50, 60}, 35, 50, "pull-down 10 hold 20 nitrogen break 25 pull-down 35 hold 50 pull-down 60"},
	} {
		r := &runner{job: &job.Job{Zone: time.UTC}, rec: &record.Record{}}
		res := vacuum.Result{Holds: []vacuum.Hold{{Start: minute(c.from), End: minute(c.to)}}}
		at := zero
		for i, letter := range c.phases {
			res.Phases = append(res.Phases, vacuum.Phase{What: names[letter], Start: at, End: minute(c.ends[i])})
			at = minute(c.ends[i])
		}
		r.phases(res, res, false)
		var got []string
		last := r.stamp(zero)
		for _, p := range r.rec.Phases {
			if p.Start != last {
				t.Errorf("%s: %s begins at %s, the one before it ends at %s", c.name, p.What, p.Start, last)
			}
			end, err := time.Parse(time.RFC3339, p.End)
			if err != nil {
				t.Fatal(err)
			}
			got, last = append(got, fmt.Sprintf("%s %g", p.What, end.Sub(zero).Minutes())), p.End
		}
		if g := strings.Join(got, " "); g != c.want {
			t.Errorf("%s: %s, want %s", c.name, g, c.want)
		}
	}
}
