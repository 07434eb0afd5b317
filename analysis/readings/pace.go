package readings

import (
	"fmt"
	"slices"
	"time"

	"dryhold/analysis/fault"
)

// pace fills in first, last, interval and gaps of a file, from all rows that
// have a time.
func (p *recording) pace(in *Input, zone *time.Location) {
	if len(p.rows) == 0 {
		return
	}
	at := make([]int64, len(p.rows))
	for i, r := range p.rows {
		at[i] = r.at
	}
	if !slices.IsSorted(at) {
		slices.Sort(at)
	}
	in.First, in.Last = time.Unix(0, at[0]).In(zone), time.Unix(0, at[len(at)-1]).In(zone)
	steps := make([]int64, 0, len(at))
	for i := 1; i < len(at); i++ {
		if d := at[i] - at[i-1]; d > 0 {
			steps = append(steps, d)
		}
	}
	if len(steps) == 0 {
		return
	}
	median := medianOf(steps)
	in.Interval = float64(median) / 1e9
	for _, d := range steps {
		if float64(d) > 3*float64(median) {
			in.Gaps++
		}
	}
}

func medianOf(steps []int64) int64 {
	// Most logs have one interval: a majority vote needs no sorting.
	vote, count := steps[0], 0
	for _, d := range steps {
		if count == 0 {
			vote = d
		}
		if d == vote {
			count++
		} else {
			count--
		}
	}
	count = 0
	for _, d := range steps {
		if d == vote {
			count++
		}
	}
	if 2*count > len(steps) {
		return vote
	}
	sorted := slices.Clone(steps)
	slices.Sort(sorted)
	return (sorted[(len(sorted)-1)/2] + sorted[len(sorted)/2]) / 2
}

// longestPause is the longest time between two readings of one recording.
const longestPause = 366 * 24 * time.Hour

// leap refuses a recording with more than a year between two of its readings: the clock was
// set while it ran.
func leap(s *Series, all []reading, zone *time.Location, rep *report) {
	for i := 1; i < len(all); i++ {
		if a, b := all[i-1], all[i]; b.at-a.at > int64(longestPause) {
			day := func(r reading) string { return time.Unix(0, r.at).In(zone).Format(time.DateTime) }
			rep.add(fault.Fault{Code: "clock-set", File: s.Inputs[b.file].File, Sheet: s.Inputs[b.file].Sheet, Line: int(b.row),
				Found:    fmt.Sprintf("more than a year lies between two readings, %s in row %d and %s in row %d: the clock was set, or rows of another recording stand here", day(a), a.row, day(b), b.row),
				Expected: "times of one recording", Mend: "put the rows before and after into files of their own, with times corrected, and keep the original beside them"})
			return
		}
	}
}
