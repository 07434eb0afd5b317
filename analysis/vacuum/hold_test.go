package vacuum

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/readings"
)

// curve makes a series of n readings every dt seconds with relative noise f and a step.
func curve(n int, dt, f, q float64, p func(t float64) float64) *readings.Series {
	r := rand.New(rand.NewPCG(1, 2))
	s := &readings.Series{Start: epoch}
	for i := range n {
		t := float64(i) * dt
		v := p(t) * (1 + f*r.NormFloat64())
		if q > 0 {
			v = math.Round(v/q) * q
		}
		s.T, s.P, s.Mark = append(s.T, t), append(s.P, v), append(s.Mark, readings.Used)
	}
	return s
}

func stated(s *readings.Series, o Options) Hold {
	return analyseHold(s, Span{s.At(0), s.At(s.Len() - 1)}, "stated", o)
}

// The rate of rise by hand: 8.0 L, 30.0 to 42.0 Pa in 1800 s is dp/dt = 6.6667e-3 Pa/s and Q = V dp/dt = 5.333e-5 Pa m³/s.
func TestRateOfRise(t *testing.T) {
	s := curve(361, 5, 0.002, 0.01, func(t float64) float64 { return 30 + 12*t/1800 })
	h := stated(s, Options{Volume: 8e-3, Gauge: Gauge{Position: "far end"}})
	if h.Cause != Leak {
		t.Fatalf("cause %s: %s", h.Cause, h.Reason.Text)
	}
	if !in(h.LeakRate, 5.333e-5) || math.Abs(h.LeakRate.X/5.333e-5-1) > 0.02 {
		t.Errorf("leak rate %v, want 5.333e-5", h.LeakRate)
	}
	if !in(h.LeakRise, 12.0/1800) {
		t.Errorf("leak rise %v", h.LeakRise)
	}
}

// A rise that levels off is moisture, its size and time constant are found, and the mass follows from the ideal gas law:
// by hand, 20 Pa in 10 L at 293.15 K is 20·0.01·0.018015/(8.3145·293.15) = 1.478e-6 kg; all count from the settle time.
func TestMoisture(t *testing.T) {
	s := curve(721, 5, 0.002, 0.01, func(t float64) float64 { return 40 - 20*math.Expm1(-t/300) })
	h := stated(s, Options{Volume: 10e-3, Gauge: Gauge{Position: "far end", Principle: "capacitance diaphragm"}})
	if h.Cause != Moisture {
		t.Fatalf("cause %s: %s", h.Cause, h.Reason.Text)
	}
	left := math.Exp(-h.Settle.Sub(h.Start).Seconds()/300) - math.Exp(-3600.0/300)
	if !in(h.MoistureRise, 20*left) || !in(h.MoistureTime, 300) || !in(h.MoistureMass, 1.478e-6*left) || h.MassOrder {
		t.Errorf("rise %v time %v mass %v order %v", h.MoistureRise, h.MoistureTime, h.MoistureMass, h.MassOrder)
	}
	if !h.SmallestKnown || h.SmallestLeak < h.Threshold*10e-3/3600*0.99 {
		t.Errorf("smallest leak %g below the threshold", h.SmallestLeak)
	}
}

// A far-end gauge that falls while the circuit equalises must not invent moisture.
func TestFallingTransient(t *testing.T) {
	s := curve(361, 5, 0.003, 0.1, func(t float64) float64 { return 60 + 30*math.Exp(-t/40) })
	h := stated(s, Options{Volume: 10e-3, Gauge: Gauge{Position: "far end"}})
	if h.Cause != None && h.Cause != NotDetermined {
		t.Errorf("cause %s: %s", h.Cause, h.Reason.Text)
	}
	if d := h.Settle.Sub(h.Start); d < 60*time.Second || d > 400*time.Second {
		t.Errorf("settled after %v", d)
	}
	if h.MoistureRise.X > h.Threshold {
		t.Errorf("moisture %v", h.MoistureRise)
	}
}

// With a short hold and few readings a slow store and a leak look alike: the program must not choose.
func TestShortHoldNotDetermined(t *testing.T) {
	s := curve(20, 30, 0.01, 0.1333, func(t float64) float64 { return 40 - 12*math.Expm1(-t/900) })
	h := stated(s, Options{Gauge: Gauge{Position: "far end"}})
	if h.Cause != NotDetermined || h.Reason.Text == "" {
		t.Errorf("cause %s, reason %q", h.Cause, h.Reason.Text)
	}
}

func TestTooFewReadings(t *testing.T) {
	h := stated(curve(5, 30, 0, 0, func(float64) float64 { return 40 }), Options{})
	if h.Cause != NotDetermined || h.Reason.Code != "too-few-readings" {
		t.Errorf("%s %v", h.Cause, h.Reason)
	}
}

// The same readings give the same result, digit for digit.
func TestHoldDeterministic(t *testing.T) {
	s := curve(300, 5, 0.005, 0.1, func(t float64) float64 { return 40 + 0.01*t })
	a, b := stated(s, Options{Volume: 0.01}), stated(s, Options{Volume: 0.01})
	if a.LeakRate != b.LeakRate || a.MoistureRise != b.MoistureRise || a.Reason.Text != b.Reason.Text {
		t.Error("two runs differ")
	}
}

// name applies the fixed rule; the numbers are the rule's own.
func TestName(t *testing.T) {
	v := func(x, lo, hi float64) Value { return Value{x, lo, hi, true} }
	for _, c := range []struct {
		leak, moist Value
		lp, mp      float64
		want        Cause
	}{
		{v(20, 10, 30), v(1, 0, 2), 1, 0, Leak},
		{v(20, 4, 30), v(1, 0, 2), 0.97, 0, NotDetermined}, // the lower end is below
		{v(20, 10, 30), v(1, 0, 9), 1, 0.4, NotDetermined}, // moisture beside the leak is not unlikely
		{v(1, 0, 2), v(20, 10, 30), 0, 1, Moisture},
		{v(4, 0, 30), v(20, 10, 30), 0.3, 1, NotDetermined}, // a leak is not excluded
		{v(20, 10, 30), v(20, 10, 30), 1, 1, LeakMoisture},
		{v(1, 0, 4.9), v(1, 0, 4.9), 0, 0, None},
		{v(1, 0, 5.1), v(1, 0, 4.9), 0.03, 0, NotDetermined},
		{v(20, 10, 30), v(1, 0, 9), 1, 0.19, Leak}, // our limits of what may stand beside: 20 %, 5 %
		{v(20, 10, 30), v(1, 0, 9), 1, 0.21, NotDetermined},
		{v(4, 0, 30), v(20, 10, 30), 0.04, 1, Moisture},
		{v(4, 0, 30), v(20, 10, 30), 0.06, 1, NotDetermined},
		{v(1, 0, 4.9), v(1, 0, 4.9), 0, 0.24, None}, // quick moisture may hide in the equalisation: 25 %
		{v(1, 0, 4.9), v(1, 0, 4.9), 0, 0.26, NotDetermined},
		{v(4, 10, 30), v(1, 0, 2), 1, 0, NotDetermined}, // the lower end alone does not name
	} {
		if got := name(c.leak, c.moist, 5, c.lp, c.mp); got != c.want {
			t.Errorf("leak %v moisture %v: %s, want %s", c.leak, c.moist, got, c.want)
		}
	}
	// 5 micron, 3 % of the start, 10 % of the rise: 0.66661 Pa, 3 Pa, 10 Pa by hand.
	for _, c := range [][3]float64{{10, 1, 5 * micron}, {100, 1, 3}, {100, 100, 10}} {
		if got := threshold(c[0], c[1]); math.Abs(got-c[2]) > 1e-12 {
			t.Errorf("threshold(%g, %g) = %g, want %g", c[0], c[1], got, c[2])
		}
	}
}

// The gauge's budget by hand (JCGM 100:2008, rectangular limits): 8 % + 5 micron at 500 micron is a limit of 45 micron,
// u = 45/√3 = 25.98 micron. On a rise of 100 micron: gain 8/√3 = 4.619, offset twice √2·5/√3 = 4.082, together 6.164.
func TestBudget(t *testing.T) {
	b := newBudget(Gauge{Gain: 0.08, Offset: 5 * micron}, 0)
	if u := b.reading(500*micron, 0) / micron; math.Abs(u-25.981) > 1e-3 {
		t.Errorf("reading: %g", u)
	}
	if u := b.rise(100*micron, 0) / micron; math.Abs(u-6.164) > 1e-3 {
		t.Errorf("rise: %g", u)
	}
	// A step of 1 micron adds 1/√12 at each end; a stated zero stability of 1 micron takes the offset's place.
	b = newBudget(Gauge{Gain: 0.08, Offset: 5 * micron, ZeroStability: micron, Resolution: micron}, 0)
	want := math.Sqrt(8*8/3.0 + 1/3.0 + 2/12.0)
	if u := b.rise(100*micron, 0) / micron; math.Abs(u-want) > 1e-9 {
		t.Errorf("rise: %g, want %g", u, want)
	}
}

func TestCautions(t *testing.T) {
	s := curve(20, 30, 0.001, 5, func(t float64) float64 { return 60 + t/600 })
	h := stated(s, Options{Gauge: Gauge{Position: "pump side", Overdue: true, Resolution: 5}})
	var codes []string
	for _, w := range h.warnings {
		codes = append(codes, w.Code)
	}
	all := strings.Join(codes, " ")
	for _, c := range []string{"too-few-readings", "resolution-coarse", "gauge-at-pump", "principle-unknown", "calibration-overdue"} {
		if !strings.Contains(all, c) {
			t.Errorf("no %s in %s", c, all)
		}
	}
}

// One hour at 1 Hz.
func BenchmarkHoldHour(b *testing.B) {
	s := curve(3600, 1, 0.004, 0.1333, func(t float64) float64 { return 40 + 0.004*t - 20*math.Expm1(-t/300) })
	o := Options{Volume: 0.01, VolumeU: 0.05, Gauge: Gauge{Gain: 0.08, Offset: 0.7, Position: "far end"}}
	for b.Loop() {
		stated(s, o)
	}
}
