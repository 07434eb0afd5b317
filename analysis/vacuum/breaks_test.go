package vacuum

import (
	"math"
	"testing"
)

// filled is an evacuation broken with nitrogen that is let in at a rate (Pa/s) up to a pressure, where it stands, and a hold after the second.
func filled(rate, to float64) func(t float64) float64 {
	end := 900 + (to-70)/rate
	return func(t float64) float64 {
		switch {
		case t < 60:
			return 90000
		case t < 900:
			return 70 + 90000*math.Exp(-(t-60)/30)
		case t < end:
			return 70 + (t-900)*rate
		case t < 1500:
			return to
		case t < 2700:
			return 40 + to*math.Exp(-(t-1500)/60)
		}
		return 40 + 20*(1-math.Exp(-(t-2700)/20)) + 0.01*(t-2700)
	}
}

// Gas that is let in slowly is a break too, whatever the sampling, and while it stands it is no hold.
func TestFillings(t *testing.T) {
	for _, rate := range []float64{40, 400, 4000} {
		for _, dt := range []float64{1, 2, 5, 15} {
			for _, to := range []float64{7000, 80000} {
				if to/rate > 500 {
					continue
				}
				r := Analyse(recording(3900, dt, 0.004, filled(rate, to)), Options{})
				if len(r.Breaks) != 1 || len(r.Holds) != 1 {
					t.Errorf("%g Pa/s every %g s up to %g Pa: %d breaks, %d holds; want one each", rate, dt, to, len(r.Breaks), len(r.Holds))
					continue
				}
				near(t, "break's start", seconds(r.Breaks[0].Start), 900, 3*dt)
				near(t, "break's end", seconds(r.Breaks[0].End), 1500, max(15, 3*dt))
				near(t, "pressure reached", r.Breaks[0].Reached, to, 0.02*to)
			}
		}
	}
}

// An isolation that the readings plainly show is among the holds where the job states a later one.
func TestEarlierIsolationBesideAStatedHold(t *testing.T) {
	first := func(t float64) float64 {
		if t >= 3600 {
			t -= 2400 // once more
		}
		return whole(t)
	}
	s := recording(6000, 2, 0.004, first)
	r := Analyse(s, Options{Hold: Span{clock(4800), clock(5990)}})
	if len(r.Holds) != 2 || r.Deciding != 1 || r.Holds[0].Found != "detected" || r.Holds[1].Found != "stated" {
		t.Fatalf("holds %d, deciding %d", len(r.Holds), r.Deciding)
	}
	near(t, "the first", seconds(r.Holds[0].Start), 2400, 30)
	near(t, "the stated", seconds(r.Holds[1].Start), 4800, 30)
}

// Columns in another unit differ in the last digit: a reading that stands at a level has reached it in all of them.
func TestLevelInAnotherUnit(t *testing.T) {
	for _, off := range []float64{-1e-6, -1e-15, 0, 1e-15, 1e-6} {
		s := recording(600, 5, 0, func(t float64) float64 {
			return (1 + off) * micron * math.Round(max(300, 600000*math.Exp(-t/30)))
		})
		tr := newTrace(s, blockTime, false)
		got := tr.timesTo(0, len(tr.t), 0, []float64{300 * micron})
		if len(got) != 1 {
			t.Errorf("%g: no time to the level", off)
			continue
		}
		near(t, "time", got[0].Seconds, 30*math.Log(2000), 5)
	}
}

// Hours with six decimals are up to 2 ms away from the second: the phases are the same.
func TestTimesToMilliseconds(t *testing.T) {
	s := recording(3900, 1, 0.004, whole)
	want := newTrace(s, blockTime, false)
	for i := range s.T {
		s.T[i] = math.Round(s.T[i]/3600*1e6) * 3600 / 1e6
	}
	got := newTrace(s, blockTime, false)
	if len(got.t) != len(want.t) {
		t.Fatalf("%d blocks, want %d", len(got.t), len(want.t))
	}
	for i := range got.t {
		if got.from[i] != want.from[i] || got.to[i] != want.to[i] {
			t.Fatalf("block %d holds the readings %d to %d, want %d to %d", i, got.from[i], got.to[i], want.from[i], want.to[i])
		}
	}
}

// A level stretch before the pump goes on is offered where nothing else is seen: far from the pump the change is slow, and the display coarse.
func TestLevelStretchIsOffered(t *testing.T) {
	level, step := 135*micron, 5*micron
	s := recording(1980, 20, 0, func(t float64) float64 {
		p := level + 90000*math.Exp(-(t-30)/40)
		switch {
		case t < 30:
			p = 90000
		case t > 1300:
			p = level * math.Exp(-(t-1300)/500)
		}
		return step * math.Round(p/step)
	})
	still := 30 + 40*math.Log(90000/step) // from then on the display changes by less than a step
	r := Analyse(s, Options{})
	if r.Deciding >= 0 {
		t.Fatal("named")
	}
	for _, c := range r.Candidates {
		if math.Abs(seconds(c.Start)-still) < 60 && math.Abs(seconds(c.End)-1300) < 60 {
			return
		}
	}
	t.Errorf("not among the candidates %+v", r.Candidates)
}
