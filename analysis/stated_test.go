package analysis_test

import (
	"regexp"
	"testing"
	"time"

	"dryhold/analysis"
	"dryhold/analysis/fault"
	"dryhold/analysis/job"
)

// TestHalfStated: the job file's contract is that start and end of the hold are found in the readings where absent, each by itself. In the
// demo job "heat-wave" the isolation is plain to see at the gauge.
func TestHalfStated(t *testing.T) {
	whole := runSample(t, "heat-wave").Hold
	for _, part := range []string{"start", "end"} {
		l := loadSample(t, "heat-wave")
		h := *l.Job.Hold
		h.Start, h.End = stated(t, l.Job, whole.Start), stated(t, l.Job, whole.End)
		if part == "start" {
			h.End = job.DateTime{}
		} else {
			h.Start = job.DateTime{}
		}
		l.Job.Hold = &h
		rec, faults := analysis.Run(l.Job, l.Series, analysis.Options{})
		if faults.Stops() || rec.Hold == nil || rec.Hold.Cause != whole.Cause || rec.Hold.Decision != whole.Decision {
			t.Errorf("only the %s is stated: %v, %+v", part, faults, rec.Hold)
			continue
		}
		for _, x := range [][2]string{{rec.Hold.Start, whole.Start}, {rec.Hold.End, whole.End}} {
			if off := instant(t, x[0]).Sub(instant(t, x[1])).Abs(); off > 30*time.Second {
				t.Errorf("only the %s is stated: %s for %s", part, x[0], x[1])
			}
		}
		if want := map[string]string{"start": "stated", "end": "detected"}[part]; rec.Hold.Found != want {
			t.Errorf("only the %s is stated: %s", part, rec.Hold.Found)
		}
	}
}

func instant(t *testing.T, s string) time.Time {
	t.Helper()
	x, err := time.Parse(time.RFC3339, s)
	if err != nil {
		t.Fatal(err)
	}
	return x
}

func stated(t *testing.T, j *job.Job, s string) job.DateTime {
	return job.DateTime{Time: instant(t, s).In(j.Zone)}
}

// TestEndIsAskedFor where the readings end in the middle of the pull-down: a start alone decides nothing.
func TestEndIsAskedFor(t *testing.T) {
	l := loadSample(t, "slow-leak")
	s := l.Series[l.Job.Hold.Readings]
	h := *l.Job.Hold
	h.Start, h.End = job.DateTime{Time: s.At(s.Len() / 8)}, job.DateTime{}
	l.Job.Hold = &h
	_, faults := analysis.Run(l.Job, l.Series, analysis.Options{})
	if len(faults) != 1 || faults[0].Kind != fault.Readings || faults[0].Key != "hold.end" {
		t.Errorf("%v", faults)
	}
}

// TestHintsInTheRepeatedHour: on 2031-11-02 clocks in Denver went back from 02:00 at -06:00 to 01:00 at -07:00, so that a
// time between says which of the two it is.
func TestHintsInTheRepeatedHour(t *testing.T) {
	l := loadSample(t, "slow-leak")
	s := l.Series[l.Job.Hold.Readings]
	s.Start = instant(t, "2031-11-02T01:10:00-07:00").In(l.Job.Zone)
	h := *l.Job.Hold
	h.Start, h.End = job.DateTime{}, job.DateTime{}
	l.Job.Hold = &h
	_, faults := analysis.Run(l.Job, l.Series, analysis.Options{})
	for _, want := range []string{`start = 2031-11-02T01:\d\d:\d\d-07:00\n`, `end = 2031-11-02T01:\d\d:\d\d-07:00 `} {
		if len(faults) != 1 || !regexp.MustCompile(want).MatchString(faults[0].Mend) {
			t.Errorf("%v, want %s", faults, want)
		}
	}
}
