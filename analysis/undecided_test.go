package analysis_test

import (
	"math"
	"slices"
	"testing"
	"time"

	"dryhold/analysis"
	"dryhold/analysis/job"
	"dryhold/analysis/load"
	"dryhold/analysis/quantity"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
)

// TestNoCriterionIsNeverAPass: without acceptance the outcome is "not
// determined", with common practice beside it for comparison only.
func TestNoCriterionIsNeverAPass(t *testing.T) {
	l := loadSample(t, "clean-install")
	h := *l.Job.Hold
	h.Acceptance, h.Minutes = "", nil
	h.Limit.Text, h.Reach.Text, h.MaxRise.Text = "", "", ""
	l.Job.Hold = &h
	rec, _ := analysis.Run(l.Job, l.Series, analysis.Options{})
	if rec.Hold.Decision != "not determined" || rec.Hold.DecisionNote.Code != "no-criterion" {
		t.Errorf("%s: %s", rec.Hold.Decision, rec.Hold.DecisionReason)
	}
	last := rec.Hold.Criteria[len(rec.Hold.Criteria)-1]
	if !last.Comparison || last.Name != "common-practice" {
		t.Errorf("no comparison beside it: %+v", last)
	}
}

// TestOverdueGaugeDecidesNothing by the day on which the gauge was used, the job's or that of its readings, against its due date: on the
// date itself the calibration still holds.
func TestOverdueGaugeDecidesNothing(t *testing.T) {
	for _, c := range []struct {
		due, date int // days after the readings
		overdue   bool
	}{{0, 0, false}, {-1, 0, true}, {-1, -1, true}, {0, -1, false}, {0, 1, true}, {1, 1, false}} {
		l := loadSample(t, "clean-install")
		day := l.Job.Job.Date
		l.Job.Job.Date = job.Date{Time: day.AddDate(0, 0, c.date)}
		for i := range l.Job.Instruments {
			l.Job.Instruments[i].Due = job.Date{Time: day.AddDate(0, 0, c.due)}
		}
		rec, _ := analysis.Run(l.Job, l.Series, analysis.Options{})
		if got := rec.Hold.Decision == "not determined" && rec.Hold.DecisionNote.Code == "overdue"; got != c.overdue || rec.Instruments[0].Overdue != c.overdue {
			t.Errorf("due %d and dated %d days after the readings: %s: %s; overdue %t, want %t", c.due, c.date, rec.Hold.Decision, rec.Hold.DecisionReason, rec.Instruments[0].Overdue, c.overdue)
		}
	}
}

// TestNothingToDecideOn: the reason names what is wrong with the readings, and what settles it is that.
func TestNothingToDecideOn(t *testing.T) {
	for what, c := range map[string]struct {
		spoil        func(l *load.Loaded)
		code, settle string
	}{
		"torr called micron": {func(l *load.Loaded) {
			for i := range l.Series["vacuum"].P {
				l.Series["vacuum"].P[i] /= 1000
			}
		}, "below-resolution", "the unit of the readings put right in the job, and the record made again"},
		"blanks": {func(l *load.Loaded) {
			for i := range l.Series["vacuum"].P {
				if at := l.Series["vacuum"].At(i); !at.Before(l.Job.Hold.Start.Time) {
					l.Series["vacuum"].P[i], l.Series["vacuum"].Mark[i] = math.NaN(), readings.UnderRange
				}
			}
		}, "no-reading", "a new hold over the whole time agreed"},
		"no accuracy": {func(l *load.Loaded) { l.Job.Instruments[0].Accuracy = quantity.Accuracy{} }, "no-accuracy", "the gauge's accuracy, from its data sheet or its calibration"},
	} {
		l := loadSample(t, "slow-leak")
		c.spoil(l)
		rec, faults := analysis.Run(l.Job, l.Series, analysis.Options{})
		if faults.Stops() {
			t.Errorf("%s: %v", what, faults)
			continue
		}
		i := slices.IndexFunc(rec.Open, func(n record.Note) bool { return n.Code == "decision" })
		if h := rec.Hold; h.Decision != "not determined" || h.DecisionNote.Code != c.code || i < 0 || rec.Open[i].Settle != c.settle {
			t.Errorf("%s: %s, %s, %+v", what, h.Decision, h.DecisionReason, rec.Open)
		}
	}
}

// TestTooFewReadings: what no curve was fitted to is absent, not zero.
func TestTooFewReadings(t *testing.T) {
	l := loadSample(t, "slow-leak")
	h := *l.Job.Hold
	h.Start = stated(t, l.Job, runSample(t, "slow-leak").Hold.Start)
	h.End = job.DateTime{Time: h.Start.Add(20 * time.Second)}
	l.Job.Hold = &h
	rec, _ := analysis.Run(l.Job, l.Series, analysis.Options{})
	if x := rec.Hold; x.StartPressure != nil || x.EndPressure != nil || x.Rise != nil || x.Threshold != nil || x.Residual != nil {
		t.Errorf("%v %v %v %v %v", x.StartPressure, x.EndPressure, x.Rise, x.Threshold, x.Residual)
	}
	if rec.Hold.Cause != "not determined" || rec.Hold.Decision != "not determined" {
		t.Errorf("%s, %s", rec.Hold.Cause, rec.Hold.Decision)
	}
}

// TestNoAccuracy: a gauge whose accuracy is not stated has no uncertainty, not one of zero, and decides nothing.
func TestNoAccuracy(t *testing.T) {
	l := loadSample(t, "slow-leak")
	for i := range l.Job.Instruments {
		l.Job.Instruments[i].Accuracy = quantity.Accuracy{}
	}
	rec, _ := analysis.Run(l.Job, l.Series, analysis.Options{})
	if h := rec.Hold; h.StandardUncertainty != nil || h.GuardBand != nil || h.Decision != "not determined" || h.ReadingAtLimit == nil {
		t.Errorf("%v %v %s", h.StandardUncertainty, h.GuardBand, h.Decision)
	}
}

// TestHoldsHaveNoDecision: the contract of results.json keeps the decision to the deciding hold (and to what the job calls an attempt).
func TestHoldsHaveNoDecision(t *testing.T) {
	for _, name := range []string{"slow-leak", "repaired"} {
		for _, h := range runSample(t, name).Holds {
			if h.Decision != "" || h.Criteria != nil {
				t.Errorf("%s: %s", name, h.Decision)
			}
		}
	}
}
