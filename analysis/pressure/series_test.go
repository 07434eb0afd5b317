package pressure

import (
	"math"
	"testing"
	"time"

	"dryhold/analysis/fluid"
	"dryhold/analysis/readings"
)

// series is a recording with a stage at 1 MPa for 10 minutes and one at 3.5 MPa
// for hours, every 10 s, whose pipe cools by 6 K and whose gas leaks by q.
func series(hours, q float64) *readings.Series {
	s := &readings.Series{Start: noon}
	add := func(t, p, T float64) {
		s.T, s.P, s.Ambient, s.Mark = append(s.T, t), append(s.P, p), append(s.Ambient, T), append(s.Mark, readings.Used)
	}
	t := 0.0
	for ; t < 120; t += 10 {
		add(t, atm, 298.15)
	}
	for ; t < 240; t += 10 {
		add(t, atm+(t-120)/120*0.9e6, 298.15)
	}
	for ; t < 840; t += 10 {
		add(t, atm+0.9e6, 298.15)
	}
	for ; t < 1140; t += 10 {
		add(t, atm+0.9e6+(t-840)/300*2.5e6, 298.15)
	}
	from, p1 := t, atm+3.4e6
	for ; t <= from+hours*3600; t += 10 {
		T := 298.15 - 6*(t-from)/(hours*3600)
		p, err := fluid.NitrogenIsochore(p1, 298.15, T)
		if err != nil {
			panic(err)
		}
		add(t, p-q*(t-from)/0.010, T)
	}
	return s
}

func TestStages(t *testing.T) {
	s := series(2, 0)
	got := Stages(s)
	if len(got) != 2 {
		t.Fatalf("%d stages %v, want 2", len(got), got)
	}
	// Their edges may be off by the window over which the rate is taken.
	for i, want := range []Stage{{noon.Add(240 * time.Second), noon.Add(840 * time.Second), atm + 0.9e6},
		{noon.Add(1140 * time.Second), noon.Add(1140*time.Second + 2*time.Hour), 3.46e6}} {
		near(t, "start", got[i].Start.Sub(want.Start).Seconds(), 0, 30)
		near(t, "end", got[i].End.Sub(want.End).Seconds(), 0, 30)
		near(t, "pressure", got[i].Pressure, want.Pressure, 1e4)
	}
	if Stages(&readings.Series{}) != nil {
		t.Error("no readings, no stages")
	}
}

func TestFromReadings(t *testing.T) {
	still := FromReadings(series(20, 0), time.Time{}, time.Time{}, plain)
	if still.Finding != NoLossShown || still.Found != "detected" || len(still.Stages) != 2 {
		t.Errorf("a pressure that follows the temperature: %q because %q, %d stages", still.Finding, still.Reason.Text, len(still.Stages))
	}
	near(t, "change", still.Change, 0, 50)
	near(t, "duration", still.Duration, 20*3600-600-300, 60)

	leak := FromReadings(series(20, 8e-3), time.Time{}, time.Time{}, plain)
	if leak.Finding != LossShown {
		t.Fatalf("8e-3 Pa m³/s for 20 h: %q because %q", leak.Finding, leak.Reason.Text)
	}
	if leak.Loss.Low > 8e-3 || leak.Loss.High < 8e-3 {
		t.Errorf("interval %+v misses 8e-3", *leak.Loss)
	}
	stated := FromReadings(series(20, 0), noon.Add(time.Hour), noon.Add(2*time.Hour), plain)
	if stated.Found != "stated" || stated.Duration > 3600 {
		t.Errorf("stated hold: %q, %g s", stated.Found, stated.Duration)
	}
}

// A hold that is stated beyond its readings was held no longer than they go: 24 h agreed and stated, 20 logged. One stated
// bound alone cuts the stage that is found.
func TestStatedBeyondTheReadings(t *testing.T) {
	s := series(20, 0)
	o := plain
	o.Required = 24 * 3600
	start := noon.Add(1140 * time.Second)
	r := FromReadings(s, start, start.Add(24*time.Hour), o)
	near(t, "held, h", r.Held/3600, 20, 0.01)
	if r.Reason.Code != "too-short" {
		t.Errorf("20 of 24 h: %q because %q", r.Finding, r.Reason.Code)
	}
	near(t, "from a stated start, h", FromReadings(s, start.Add(5*time.Hour), time.Time{}, plain).Held/3600, 15, 0.02)
	near(t, "to a stated end, h", FromReadings(s, time.Time{}, start.Add(5*time.Hour), plain).Held/3600, 5, 0.02)
	if r := FromReadings(s, start.Add(48*time.Hour), start.Add(72*time.Hour), plain); r.Finding != NotDetermined {
		t.Errorf("stated after all readings: %q because %q", r.Finding, r.Reason.Code)
	}
}

// A recording that begins after the circuit was filled is one stage.
func TestRecordingOfTheHoldAlone(t *testing.T) {
	s := &readings.Series{Start: noon}
	for i := range 3600 {
		s.T, s.P = append(s.T, float64(i)), append(s.P, 3.5e6+float64(i%7)*100)
		s.Ambient, s.Mark = append(s.Ambient, 293.15), append(s.Mark, readings.Used)
	}
	r := FromReadings(s, time.Time{}, time.Time{}, plain)
	if len(r.Stages) != 1 || r.Finding != NoLossShown {
		t.Errorf("%d stages, %q because %q", len(r.Stages), r.Finding, r.Reason.Text)
	}
}

// The corrected curve of a circuit that only cooled is flat.
func TestCorrected(t *testing.T) {
	s := series(2, 0)
	s.P[len(s.P)-1] = math.NaN()
	times, p, skipped := Corrected(s, 298.15)
	if len(times) != len(s.T)-1 || skipped != 1 {
		t.Fatalf("%d of %d readings, %d skipped", len(times), len(s.T), skipped)
	}
	for i, x := range p {
		if times[i] > 1200 {
			near(t, "corrected", x, atm+3.4e6, 5)
		}
	}
	if _, _, skipped := Corrected(s, math.NaN()); skipped != len(s.T) {
		t.Error("no temperature to correct to: everything is left out")
	}
}

func TestOddReadings(t *testing.T) {
	for name, s := range map[string]*readings.Series{
		"empty":    {Start: noon},
		"one":      {Start: noon, T: []float64{0}, P: []float64{3e6}, Mark: []readings.Mark{readings.Used}},
		"all over": {Start: noon, T: []float64{0, 10}, P: []float64{math.NaN(), math.NaN()}, Mark: []readings.Mark{readings.OverRange, readings.OverRange}},
	} {
		for _, span := range [][2]time.Time{{}, {noon, noon.Add(time.Hour)}} {
			if r := FromReadings(s, span[0], span[1], plain); r.Finding != NotDetermined || r.Reason.Code == "" {
				t.Errorf("%s: %q because %q", name, r.Finding, r.Reason.Code)
			}
		}
	}
	bare := series(2, 0)
	bare.Ambient = nil
	if r := FromReadings(bare, time.Time{}, time.Time{}, plain); r.Reason.Code != "no-temperature" {
		t.Errorf("without temperature: %q because %q", r.Finding, r.Reason.Code)
	}
}

func BenchmarkDayAtOneHertz(b *testing.B) {
	s := &readings.Series{Start: noon}
	for i := range 86400 {
		s.T, s.P = append(s.T, float64(i)), append(s.P, 3.5e6+float64(i%7)*100)
		s.Ambient, s.Mark = append(s.Ambient, 293.15), append(s.Mark, readings.Used)
	}
	for b.Loop() {
		FromReadings(s, time.Time{}, time.Time{}, plain)
	}
}
