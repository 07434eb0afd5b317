package vacuum

import (
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"dryhold/analysis/readings"
)

// recording is a series of a pressure given by time, sampled at dt, with proportional noise.
func recording(end, dt, noise float64, p func(t float64) float64) *readings.Series {
	random := rand.New(rand.NewPCG(1, 2))
	s := &readings.Series{Start: epoch}
	for t := 0.0; t <= end; t += dt {
		x := p(t)
		mark := readings.Used
		if x > 3e5 || math.IsNaN(x) {
			x, mark = math.NaN(), readings.OverRange
		}
		s.T, s.P, s.Mark = append(s.T, t), append(s.P, x*(1+noise*random.NormFloat64())), append(s.Mark, mark)
	}
	return s
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.6g, want %.6g within %.3g", what, got, want, tolerance)
	}
}

// Worked example, computed: V = 10 l, S = 1 l/s, from 1013.25 mbar without ultimate pressure: t = (V/S) ln(p0/p) is 46.183 s to
// 10 mbar, 69.209 s to 1 mbar, 73.265 s to 0.6666 mbar; with 0.02 mbar ultimate pressure 73.569 s. The formula is that of the
// textbooks on vacuum, from memory.
func TestTimesOfConstantPumping(t *testing.T) {
	if testing.Verbose() {
		t.Log("closed form:", 10*math.Log(101325/66.66))
	}
	for _, c := range []struct {
		ultimate float64
		level    float64
		want     float64
	}{{0, 1000, 46.183}, {0, 100, 69.209}, {0, 66.66, 73.265}, {2, 66.66, 73.569}} {
		s := recording(140, 1, 0, func(t float64) float64 {
			if t < 20 {
				return 101325
			}
			return c.ultimate + (101325-c.ultimate)*math.Exp(-(t-20)/10)
		})
		r := Analyse(s, Options{Levels: []float64{c.level}})
		if r.PullDown == nil || len(r.PullDown.TimeTo) != 1 {
			t.Fatalf("no time to %g Pa: %+v", c.level, r.PullDown)
		}
		got := r.PullDown.TimeTo[0].Seconds - (20 - r.PullDown.Start.Sub(epoch).Seconds())
		near(t, "time", got, c.want, 0.5) // readings are averaged over 5 s: a line in ln p, curved only near the ultimate pressure
		if c.ultimate == 0 {
			near(t, "rate", r.PullDown.Rate.X, 0.1, 0.001)
		}
	}
}

// Worked example, computed: V = 100 l, S = 5 l/s, from 760 to 0.1 Torr: t = (V/S) ln(p0/p) = 178.72 s.
func TestTimeOfLargeVolume(t *testing.T) {
	const torr = 101325.0 / 760
	s := recording(300, 1, 0, func(t float64) float64 {
		if t < 20 {
			return 760 * torr
		}
		return 760 * torr * math.Exp(-(t-20)/20)
	})
	r := Analyse(s, Options{Levels: []float64{0.1 * torr}})
	if r.PullDown == nil || len(r.PullDown.TimeTo) != 1 {
		t.Fatalf("no time: %+v", r.PullDown)
	}
	near(t, "time", r.PullDown.TimeTo[0].Seconds-(20-r.PullDown.Start.Sub(epoch).Seconds()), 178.72, 0.5)
	near(t, "rate", r.PullDown.Rate.X, 0.05, 0.0005)
}

// Worked example, computed, of a laminar hose of 1/4 in and 150 cm before a pump of 1 l/s: where the system stands at 0.6666 mbar, a gauge at the
// pump reads 0.0324 mbar (500 against 24 micron). What the hose lets through must be what the pump takes; ours has the molecular part too, which is
// taken off: at 0.35 mbar it is (1 + 192 · 0.222)/(1 + 237 · 0.222) = 0.81 of what it is towards nothing.
func TestGaugeAtPumpReadsLow(t *testing.T) {
	const system, pump = 66.66, 3.24 // Pa
	mean := (system + pump) / 2
	laminar := Conductance(0.00635, 1.5, mean) - 0.81*Conductance(0.00635, 1.5, 0)
	near(t, "throughput through the hose", laminar*(system-pump), 1e-3*pump, 0.03*1e-3*pump)
}

// Worked example, computed: the same pump behind a laminar hose, S p2 = (k/2)(p1² - p2²), is 251.40 s to 0.66661 mbar for k = 0.14633 and
// 101.21 s for k = 0.74080 (1/s per mbar in 10 l).
func TestTimesBehindHose(t *testing.T) {
	for _, c := range []struct{ k, want float64 }{{0.14633, 251.40}, {0.74080, 101.21}} {
		p, at := 1013.25, 0.0
		var ps []float64
		const dt = 0.01
		for ; at < 400; at += dt {
			if int(at/dt+0.5)%100 == 0 {
				ps = append(ps, p*100)
			}
			rate := func(p float64) float64 { u := c.k * p; return -(math.Sqrt(1+u*u) - 1) / c.k / 10 }
			k1 := rate(p)
			p += dt * rate(p+dt/2*k1)
		}
		s := recording(390, 1, 0, func(t float64) float64 { return ps[int(t+0.5)] })
		r := Analyse(s, Options{Levels: []float64{66.661}})
		if r.PullDown == nil || len(r.PullDown.TimeTo) != 1 {
			t.Fatalf("no time: %+v", r.PullDown)
		}
		near(t, "time", r.PullDown.TimeTo[0].Seconds+r.PullDown.Start.Sub(epoch).Seconds(), c.want, 0.7)
	}
}

// whole is a job in one recording: idle, pull-down, nitrogen, pull-down, hold, pump again.
func whole(t float64) float64 {
	switch {
	case t < 60:
		return 90000
	case t < 900:
		return 70 + 90000*math.Exp(-(t-60)/30)
	case t < 960:
		return 70 + (t-900)*1000
	case t < 1200:
		return 60070
	case t < 2400:
		return 40 + 60000*math.Exp(-(t-1200)/60)
	case t < 3600:
		return 40 + 20*(1-math.Exp(-(t-2400)/20)) + 0.01*(t-2400)
	}
	return 30 + 42*math.Exp(-(t-3600)/30)
}

func TestWholeJob(t *testing.T) {
	s := recording(3900, 2, 0.004, whole)
	r := Analyse(s, Options{Levels: []float64{133.3}})
	want := []struct {
		what       What
		start, end float64
	}{{Idle, 0, 60}, {PullDown, 60, 900}, {NitrogenBreak, 900, 1200}, {PullDown, 1200, 2400}, {HoldPhase, 2400, 3600}, {PullDown, 3600, 3900}}
	if len(r.Phases) != len(want) {
		t.Fatalf("phases %v", r.Phases)
	}
	for i, w := range want {
		p := r.Phases[i]
		if p.What != w.what {
			t.Errorf("phase %d is %q, want %q", i, p.What, w.what)
		}
		near(t, string(w.what)+" start", seconds(p.Start), w.start, 15)
		near(t, string(w.what)+" end", seconds(p.End), w.end, 15)
	}
	if r.Deciding != 0 || len(r.Holds) != 1 || r.Holds[0].Found != "detected" {
		t.Fatalf("holds %d, deciding %d", len(r.Holds), r.Deciding)
	}
	p := r.PullDown
	near(t, "lowest", p.Lowest, 40, 1)
	if !p.Asymptotic.Known || !in(p.Asymptotic, 40) {
		t.Errorf("asymptotic pressure %+v, want 40", p.Asymptotic)
	}
	if !p.Rate.Known || !in(p.Rate, 1.0/60) {
		t.Errorf("rate %+v, want 1/60", p.Rate)
	}
	if !p.IcePossible {
		t.Error("the triple point was passed unseen")
	}
	if len(r.Breaks) != 1 {
		t.Fatalf("breaks %v", r.Breaks)
	}
	near(t, "residual", r.Breaks[0].Residual, 70.0/60070, 0.02*70/60070)
}

func TestPlateau(t *testing.T) {
	s := recording(1500, 5, 0.003, func(t float64) float64 {
		switch {
		case t < 30:
			return 90000
		case t < 200:
			return 600 + 89400*math.Exp(-(t-30)/25)
		case t < 700:
			return 690 - 0.02*(t-200)
		}
		return 30 + 650*math.Exp(-(t-700)/100)
	})
	p := Analyse(s, Options{}).PullDown
	if p == nil || len(p.Plateaus) != 1 {
		t.Fatalf("plateaus: %+v", p)
	}
	near(t, "plateau start", seconds(p.Plateaus[0].Start), 200, 60)
	near(t, "plateau end", seconds(p.Plateaus[0].End), 700, 60)
	near(t, "plateau", p.Plateaus[0].Pressure, 680, 30)
}

// A pull-down alone, or a rise alone, names no hold.
func TestNothingToName(t *testing.T) {
	for name, p := range map[string]func(float64) float64{
		"still falling": func(t float64) float64 { return 20 + 9e4*math.Exp(-t/120) },
		"only a rise":   func(t float64) float64 { return 60 + 0.02*t },
	} {
		r := Analyse(recording(1800, 3, 0.005, p), Options{})
		if r.Deciding >= 0 {
			t.Errorf("%s: a hold was named: %v to %v", name, r.Holds[0].Start, r.Holds[0].End)
		}
		if len(r.Candidates) == 0 {
			t.Errorf("%s: nothing offered", name)
		}
	}
}

// A gap where the pump was shut off: asked.
func TestIsolationInGap(t *testing.T) {
	s := recording(3600, 2, 0.004, whole)
	var g readings.Series
	g.Start = s.Start
	for i, x := range s.T {
		if x > 2340 && x < 2460 {
			continue
		}
		g.T, g.P, g.Mark = append(g.T, x), append(g.P, s.P[i]), append(g.Mark, s.Mark[i])
	}
	r := Analyse(&g, Options{})
	if r.Deciding >= 0 {
		t.Errorf("named %v inside a gap", r.Holds[r.Deciding].Start)
	}
	if len(r.Candidates) == 0 {
		t.Error("nothing offered")
	}
}

func TestStated(t *testing.T) {
	s := recording(3900, 2, 0.004, whole)
	no := false
	o := Options{Hold: Span{clock(2400), clock(3500)}, PumpReading: 60 * micron, OilChanged: &no,
		Events: []Event{{clock(2500), "power lost"}}}
	r := Analyse(s, o)
	if r.Deciding != 0 || r.Holds[0].Found != "stated" || !r.Holds[0].Start.Equal(o.Hold.Start) {
		t.Errorf("deciding %d", r.Deciding)
	}
	if r.PumpCheck == nil || r.PumpCheck.Code != "change-oil" {
		t.Errorf("pump check %+v", r.PumpCheck)
	}
	found := false
	for _, w := range r.Warnings {
		found = found || w.Code == "power-lost"
	}
	if !found {
		t.Error("the loss of power is not told")
	}
}

// Whatever the readings are, there is no panic and the phases are contiguous from the first to the last reading.
func TestOddSeries(t *testing.T) {
	nan := func(float64) float64 { return math.NaN() }
	for name, s := range map[string]*readings.Series{
		"empty":    {Start: epoch},
		"one":      recording(0, 1, 0, func(float64) float64 { return 50 }),
		"two":      recording(1, 1, 0, func(t float64) float64 { return 50 + t }),
		"over":     recording(100, 1, 0, nan),
		"constant": recording(1000, 1, 0, func(float64) float64 { return 66 }),
		"zero":     recording(1000, 1, 0, func(float64) float64 { return 0 }),
		"falling":  recording(1000, 1, 0, func(t float64) float64 { return 1e5 * math.Exp(-t/50) }),
		"negative": recording(1000, 1, 0, func(t float64) float64 { return 100 - t }),
		"spikes":   recording(2000, 1, 3, func(t float64) float64 { return 100 }),
		"square": recording(4000, 1, 0, func(t float64) float64 {
			if int(t/50)%2 == 0 {
				return 1e5
			}
			return 20
		}),
	} {
		for _, o := range []Options{{}, {Hold: Span{clock(100), clock(900)}}, {Before: clock(-5)}, {Before: clock(500), Levels: []float64{10, 100}}} {
			r := Analyse(s, o)
			for i, p := range r.Phases {
				if p.End.Before(p.Start) || i > 0 && !p.Start.Equal(r.Phases[i-1].End) {
					t.Errorf("%s: phases %v", name, r.Phases)
				}
			}
			if n := len(s.T); n > 1 {
				if len(r.Phases) == 0 || !r.Phases[0].Start.Equal(s.At(0)) || math.Abs(r.Phases[len(r.Phases)-1].End.Sub(s.At(n-1)).Seconds()) > 1e-6 {
					t.Errorf("%s: phases %v do not cover the recording", name, r.Phases)
				}
			}
		}
	}
}

// Conductance, computed from Knudsen's formula in the form of the textbooks (from memory), 150 cm of hose, l/s. Its laminar constant is
// rounded to 135 against 134.8 here.
func TestConductance(t *testing.T) {
	p := []float64{1000, 100, 66.66, 26.66, 10, 1}
	for bore, row := range map[float64][]float64{
		0.00635:  {1.4800, 0.1631, 0.1143, 0.0558, 0.0316, 0.0198},
		0.009525: {7.4645, 0.7973, 0.5504, 0.2542, 0.1311, 0.0679},
		0.0127:   {23.547, 2.4753, 1.6947, 0.7584, 0.3690, 0.1651},
		0.01905:  {118.98, 12.305, 8.3532, 3.6126, 1.6394, 0.5895},
	} {
		for i, want := range row {
			near(t, "conductance", 1000*Conductance(bore, 1.5, p[i]), want, 0.005*want)
		}
	}
}

// Same source: 4 cubic feet a minute (1.8878 l/s) at 0.6666 mbar leave 0.1078, 0.4261 and 0.8930 l/s.
func TestLine(t *testing.T) {
	for bore, want := range map[float64]float64{0.00635: 0.1078e-3, 0.009525: 0.4261e-3, 0.0127: 0.8930e-3} {
		r := line(Options{Hoses: []Hose{{bore, 1.5}}, PumpFlow: 1.8878e-3})
		near(t, "effective", r.Effective, want, 0.005*want)
		if !r.Limited || r.Larger <= r.Effective {
			t.Errorf("line %+v", r)
		}
	}
	one, two := line(Options{Hoses: []Hose{{0.01, 2}}}), line(Options{Hoses: []Hose{{0.01, 1}, {0.01, 1}}})
	near(t, "two halves", two.Conductance, one.Conductance, 1e-9*one.Conductance)
	if line(Options{}) != nil || line(Options{Hoses: []Hose{{0, 1}}}) != nil {
		t.Error("a line without hoses, or with one of no bore")
	}
}

func TestCandidatesAreTimes(t *testing.T) {
	r := Analyse(recording(1800, 3, 0.005, func(t float64) float64 { return 20 + 9e4*math.Exp(-t/120) }), Options{})
	for _, c := range r.Candidates {
		if c.Why == "" || c.End.Sub(c.Start) < time.Second {
			t.Errorf("candidate %+v", c)
		}
	}
}
