package vacuum

import (
	"math"
	"strings"
	"testing"
	"time"

	"dryhold/samples/sim"
)

// A hold that the job lets begin while the pump still ran is cut where the readings show that it was shut off: else the fall under the pump would
// pass for the circuit's, and the leak for nothing.
func TestStatedTooEarly(t *testing.T) {
	c := twoParts{q1: 4e-4, line: 2e-4, pump: 2e-3}
	s := c.series()
	for _, early := range []float64{0, 150, 400} {
		o := Options{Volume: 0.02, VolumeU: 0.05, Gauge: Gauge{Position: "pump side"},
			Hold: Span{epoch.Add(time.Duration(isolated-early) * time.Second), epoch.Add(3000 * time.Second)}}
		r := Analyse(s, o)
		h := r.Holds[r.Deciding]
		if d := h.Start.Sub(epoch).Seconds() - isolated; math.Abs(d) > 30 {
			t.Errorf("stated %g s early: the hold begins %g s late", early, d)
		}
		if told := len(r.Warnings) > 0 && r.Warnings[0].Code == "start-later"; told != (early > 0) {
			t.Errorf("stated %g s early: %v", early, r.Warnings)
		}
		if h.Cause != Leak || !in(h.LeakRate, c.q1) {
			t.Errorf("stated %g s early: %s, %v", early, h.Cause, h.LeakRate)
		}
	}
}

// Readings below the gauge's own step are no vacuum that it can have seen, but a unit that was mistaken (torr for micron): nothing is decided on
// them.
func TestBelowResolution(t *testing.T) {
	for _, c := range []struct {
		p     float64
		known bool
	}{{0.3 * micron, false}, {300 * micron, true}} {
		s := curve(200, 5, 0.003, 0, func(float64) float64 { return c.p })
		r := Analyse(s, Options{Hold: Span{s.At(0), s.At(199)}, Minutes: 600, Gauge: Gauge{Gain: 0.1, Offset: 5 * micron, Resolution: micron}})
		h := r.Holds[r.Deciding]
		if !c.known && (h.Cause != NotDetermined || h.LeakRate.Known) {
			t.Errorf("%g Pa: cause %s", c.p, h.Cause)
		}
		if h.ReadingKnown != c.known || (len(r.Warnings) > 0 && r.Warnings[0].Code == "below-resolution") == c.known {
			t.Errorf("%g Pa: known %v, %v, %v", c.p, h.ReadingKnown, h.ReadingReason, r.Warnings)
		}
	}
}

// Where the pump ran again before the stated end, the hold ends there.
func TestStatedTooLate(t *testing.T) {
	s := twoParts{q1: 4e-4, line: 2e-4, pump: 2e-3, again: 2500}.series()
	r := Analyse(s, Options{Gauge: Gauge{Position: "pump side"},
		Hold: Span{epoch.Add(isolated * time.Second), epoch.Add(3000 * time.Second)}})
	h := r.Holds[r.Deciding]
	if d := h.End.Sub(epoch).Seconds() - 2500; math.Abs(d) > 30 {
		t.Errorf("the hold ends %g s late", d)
	}
	if len(r.Warnings) == 0 || r.Warnings[0].Code != "end-earlier" {
		t.Errorf("%v", r.Warnings)
	}
}

// Left out are 30 s, or a minute where the start is stated to the minute, and no more than a twentieth or a tenth of the hold.
func TestLead(t *testing.T) {
	for _, c := range []struct {
		start, length time.Duration
		found         string
		want          float64
	}{
		{0, 1200 * time.Second, "stated", 60}, {time.Second, 1200 * time.Second, "stated", 30}, {0, 1200 * time.Second, "detected", 30},
		{0, 300 * time.Second, "stated", 30}, {time.Second, 300 * time.Second, "stated", 15},
	} {
		if got := lead(Span{epoch.Add(c.start), epoch.Add(c.start + c.length)}, c.found); got != c.want {
			t.Errorf("%v: %g s", c, got)
		}
	}
}

// The end of a hold is not known better than its start: the last readings, in which the pump runs again, are left out and counted. Were they taken
// in, they would pass for scatter of all: the interval of the leak would be many times as wide.
func TestEndDeparts(t *testing.T) {
	fall := func(t float64) float64 { return 30 + 12*t/1800 - 3*max(0, t-1790) }
	s := curve(361, 5, 0.002, 0.01, fall)
	whole := curve(359, 5, 0.002, 0.01, fall)
	o := Options{Volume: 8e-3, Gauge: Gauge{Position: "far end"}}
	h, want := stated(s, o), stated(whole, o)
	if h.Cause != Leak || h.LeakRate.High-h.LeakRate.Low > 1.1*(want.LeakRate.High-want.LeakRate.Low) {
		t.Errorf("%s, %v; without the last two readings %v", h.Cause, h.LeakRate, want.LeakRate)
	}
	if len(h.warnings) == 0 || h.warnings[0].Code != "end-departs" || h.warnings[0].Facts["readings"] != 2 {
		t.Errorf("not told: %v", h.warnings)
	}
	if !strings.Contains(h.warnings[0].Text, "from 08:29:55 on") { // 1795 s after the start at 08:00
		t.Errorf("the time is not told: %s", h.warnings[0].Text)
	}
	if len(want.warnings) > 0 && want.warnings[0].Code == "end-departs" {
		t.Errorf("told without reason: %v", want.warnings[0])
	}
}

// Neither scatter nor a curve leaves its own course.
func TestEndStays(t *testing.T) {
	for seed := range uint64(40) {
		c := sim.Case(seed + 1).Run()
		s := series(&c)
		r, _ := within(s, Span{clock(c.Truth.HoldStart), clock(c.Truth.HoldEnd - 2)})
		if _, left := r.fittable(30, 0); left.end+left.lone > 0 {
			t.Errorf("case %d: %+v", seed+1, left)
		}
	}
}

// A single reading far off its neighbours is no scatter of all: it is left out of the fit and counted. Every reading counts for the criterion.
func TestLoneReading(t *testing.T) {
	s := curve(61, 30, 0.005, micron, func(t float64) float64 { return 30 + 12*t/1800 })
	o := Options{Volume: 8e-3, Gauge: Gauge{Position: "far end"}}
	was := stated(s, o)
	s.P[30] *= 3
	h := stated(s, o)
	if h.Cause != Leak || math.Abs(h.LeakRate.X/was.LeakRate.X-1) > 0.02 || h.LeakRate.High-h.LeakRate.Low > 1.1*(was.LeakRate.High-was.LeakRate.Low) {
		t.Errorf("%s, %v; without the slip %v", h.Cause, h.LeakRate, was.LeakRate)
	}
	if len(h.warnings) == 0 || h.warnings[0].Code != "reading-alone" || h.warnings[0].Facts["readings"] != 1 {
		t.Errorf("not told: %v", h.warnings)
	}
	h.readLimit(s, Options{})
	if h.Reading != s.P[30] {
		t.Errorf("the highest reading is %g Pa, want %g", h.Reading, s.P[30])
	}
}
