package pressure

import (
	"math"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/fluid"
)

const (
	atm = 101325.0
	psi = 6894.757293168
)

func fahrenheit(f float64) float64 { return (f-32)*5/9 + 273.15 }

func near(t *testing.T, what string, got, want, absolute float64) {
	t.Helper()
	if !(math.Abs(got-want) <= absolute) {
		t.Errorf("%s = %.9g, want %.9g ± %.2g", what, got, want, absolute)
	}
}

var noon = time.Date(2031, 4, 9, 12, 0, 0, 0, time.UTC)

// gauge is a digital pressure gauge: 0.5 % of the reading and 2 kPa, to 0.1 psi.
var plain = Options{Gauge: Gauge{Gain: 0.005, Offset: 2e3, Resolution: 0.1 * psi, Top: 800 * psi}, Atmosphere: atm,
	TemperatureAt: "pipe", Volume: 0.010, VolumeU: 0.05, Design: 650*psi + atm, Gas: "dry nitrogen"}

// Expected pressures of the equation of state of Span et al. 2000 (CoolProp
// 8.0.1dev), three worked examples; the virial fit is within 20 Pa of them.
func TestExpectedWorkedExamples(t *testing.T) {
	one := Evaluate(State{noon, 35e5 + atm, 298.15, 0}, State{noon.Add(time.Hour), 3404898, 283.15, 0}, plain)
	near(t, "35 bar(g), 25 to 10 °C: expected", one.Expected, 3404898, 20)
	near(t, "35 bar(g), 25 to 10 °C: change", one.Change, 0, 20)

	// The ideal gas would give 3 420 141 Pa, 0.152 bar more; gauge pressure in place of absolute 33.239 bar(g), 0.203 bar more.
	near(t, "less than the ideal gas", 3420141-one.Expected, 0.152e5, 60)
	near(t, "less than by gauge pressure", 33.239e5+atm-one.Expected, 0.203e5, 60)

	two := Evaluate(State{noon, 600*psi + 14.696*psi, fahrenheit(80), 0}, State{noon.Add(time.Hour), 500e4, fahrenheit(60), 0}, plain)
	near(t, "600 psig, 80 to 60 °F, psig", two.Expected/psi-14.696, 575.007, 0.01)
	near(t, "less than the ideal gas, psi", 577.220-(two.Expected/psi-14.696), 2.213, 0.01)

	three := Evaluate(State{noon, 500*psi + 14.696*psi, fahrenheit(75), 0}, State{noon.Add(time.Hour), 500e4, fahrenheit(76), 0}, plain)
	near(t, "500 psig at 75 °F, 1 °F more, psi", three.Expected/psi-514.696, 1.0425, 0.001)
}

// 40 CFR 1065.644, example of a vacuum decay test: V = 2.0000 L, 25.3 to 50.6
// kPa in 70 s at 293.15 K is 0.00030 mol/s (printed), 2.9657e-4 by hand; here as
// the same pressures the other way round.
func TestLossAgainstCFR1065(t *testing.T) {
	exact := Options{Gauge: Gauge{Offset: 1}, Volume: 0.002}
	r := Evaluate(State{noon, 50600, 293.15, 0}, State{noon.Add(70 * time.Second), 25300, 293.15, 0}, exact)
	if r.Loss == nil {
		t.Fatalf("no loss: %+v", r)
	}
	near(t, "throughput", r.Loss.Value, 0.72286, 1e-5)
	near(t, "mol/s", r.Loss.Value/(8.314472*293.15), 2.9657e-4, 1e-8)
}

// By hand for 500 psig at 296 K, no change of temperature, one hour:
// offset 2000/√3·√2 = 1633 Pa, resolution 689.5/√12·√2 = 281.5 Pa, atmosphere
// 100/√3 = 57.7 Pa, gain none since nothing changed; the temperature by the
// slope 12 938 Pa/K of the third worked example: 1/√3·√2·12 938 = 10 564 Pa.
func TestBudget(t *testing.T) {
	p := 514.696 * psi
	T := fahrenheit(75)
	r := Evaluate(State{noon, p, T, 0}, State{noon.Add(time.Hour), p, T, 0}, plain)
	for i, want := range []Term{{"gain", 0}, {"offset", 1633}, {"resolution", 281.5}, {"scatter", 0}, {"temperature", 10564}, {"atmosphere", 57.7}} {
		got := r.Budget[i]
		if got.Name != want.Name {
			t.Fatalf("term %d is %q, want %q", i, got.Name, want.Name)
		}
		near(t, got.Name, got.U, want.U, 0.01*want.U+0.01)
	}
	near(t, "combined", r.U, math.Sqrt(1633*1633+281.5*281.5+10564*10564+57.7*57.7), 110)
	near(t, "smallest leak", r.SmallestLeak, 0.010*3.29*r.U/3600, 1e-12)
	if r.Finding != NoLossShown || r.Obstacle != nil || r.Loss != nil {
		t.Errorf("nothing changed: %q because %q", r.Finding, r.Reason.Text)
	}
}

func TestFindings(t *testing.T) {
	T, p := 293.15, 3.5e6
	with := func(change func(*Options)) Options { o := plain; change(&o); return o }
	for _, c := range []struct {
		name    string
		hours   float64
		end     float64
		T2      float64
		o       Options
		finding Finding
		code    string
		forbids string // code of the obstacle
	}{
		{"still", 24, p, T, plain, NoLossShown, "within", ""},
		{"fell by 60 kPa", 24, p - 60e3, T, plain, LossShown, "loss", ""},
		{"rose by 60 kPa", 24, p + 60e3, T, plain, NotDetermined, "gained", ""},
		{"no temperature", 24, p, 0, plain, NotDetermined, "no-temperature", ""},
		{"no time", 0, p, T, plain, NotDetermined, "no-duration", ""},
		{"temperature outside", 24, p, 400, plain, NotDetermined, "out-of-range", ""},
		{"not a number", 24, math.NaN(), T, plain, NotDetermined, "no-pressure", ""},
		{"too short", 1, p, T, with(func(o *Options) { o.Required = 86400 }), NotDetermined, "too-short", "too-short"},
		{"overdue", 24, p, T, with(func(o *Options) { o.Gauge.Overdue = true }), NotDetermined, "overdue", "overdue"},
		{"overdue, yet fell", 24, p - 60e3, T, with(func(o *Options) { o.Gauge.Overdue = true }), LossShown, "loss", "overdue"},
		{"above design", 24, p, T, with(func(o *Options) { o.Design = 3.4e6 }), NoLossShown, "within", "above-design"},
		{"air", 24, p, T, with(func(o *Options) { o.Gas = "compressed air" }), NoLossShown, "within", "gas-not-nitrogen"},
		{"gauge at its top", 24, p, T, with(func(o *Options) { o.Gauge.Top = 3.4e6 }), NoLossShown, "within", "gauge-over-range"},
	} {
		r := Evaluate(State{noon, p, T, 0}, State{noon.Add(time.Duration(c.hours * float64(time.Hour))), c.end, c.T2, 0}, c.o)
		forbids := ""
		if r.Obstacle != nil {
			forbids = r.Obstacle.Code
		}
		if r.Finding != c.finding || r.Reason.Code != c.code || forbids != c.forbids {
			t.Errorf("%s: %q because %q, a pass forbidden by %q; want %q because %q, %q", c.name, r.Finding, r.Reason.Code, forbids, c.finding, c.code, c.forbids)
		}
		if r.Reason.Text == "" || strings.Contains(r.Reason.Text, "NaN") {
			t.Errorf("%s: the reason %q does not read", c.name, r.Reason.Text)
		}
	}
}

// A fall of 60 kPa in 24 h from 10 L: 0.010·60000/86400 = 6.944e-3 Pa m³/s.
func TestLossRateOfATest(t *testing.T) {
	r := Evaluate(State{noon, 3.5e6, 293.15, 0}, State{noon.Add(24 * time.Hour), 3.44e6, 293.15, 0}, plain)
	if r.Loss == nil {
		t.Fatal("no loss rate")
	}
	near(t, "loss", r.Loss.Value, 6.944e-3, 1e-6)
	if !(r.Loss.Low > 0 && r.Loss.Low < r.Loss.Value && r.Loss.High > r.Loss.Value) {
		t.Errorf("interval %+v", *r.Loss)
	}
}

// Carry-over to 3.5 MPa by hand: viscous 18.206/17.573·(3.5e6²-101325²)/101325²
// = 1235.1, molecular √(28.96/28.01)·(3.5e6-101325)/101325 = 34.104.
func TestCarry(t *testing.T) {
	o := fluid.Opening{Atmosphere: atm, Inside: 0, Temperature: 293.15}
	test := func(fall float64) Result {
		return Evaluate(State{noon, 3.5e6, 293.15, 0}, State{noon.Add(24 * time.Hour), 3.5e6 - fall, 293.15, 0}, plain)
	}
	c, err := Carry(Inflow{1e-6, 2e-6, true}, o, test(0))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "molecular", c.Low, 34.104e-6, 2e-8)
	near(t, "viscous", c.High, 2*1235.1e-6, 3e-6)
	// The test could show about 4.5e-3 Pa m³/s; 60 kPa are a loss of 6.9e-3.
	for _, k := range []struct {
		name string
		in   Inflow
		fall float64
		want Verdict
		code string
	}{
		{"neither", Inflow{0, 1e-6, false}, 0, Agree, "neither-shows"},
		{"hold shows a little", Inflow{1e-6, 2e-6, true}, 0, CannotDecide, "test-blind"},
		{"hold shows much", Inflow{1e-3, 2e-3, true}, 0, Differ, "less-under-pressure"},
		{"both", Inflow{1e-5, 2e-5, true}, 60e3, Agree, "both-show"},
		{"test shows more", Inflow{1e-7, 2e-7, true}, 60e3, Differ, "more-under-pressure"},
		{"test shows less", Inflow{1e-2, 2e-2, true}, 60e3, Differ, "less-under-pressure"},
		{"only the test", Inflow{0, 1e-5, false}, 60e3, CannotDecide, "hold-blind"},
		{"no test", Inflow{1e-5, 2e-5, true}, math.NaN(), CannotDecide, "no-test"},
	} {
		got, err := Carry(k.in, o, test(k.fall))
		if err != nil || got.Verdict != k.want || got.Reason.Code != k.code {
			t.Errorf("%s: %q (%s), %v; want %q (%s)", k.name, got.Verdict, got.Reason.Code, err, k.want, k.code)
		}
	}
}
