package vacuum

import (
	"math"
	"testing"

	"dryhold/samples/sim"
)

// TestLastDigits: another machine may fuse a multiplication with an addition, so that last digits differ, and a record must be the same
// there to one part in a million. Here the readings' own last digits are moved instead.
func TestLastDigits(t *testing.T) {
	for _, seed := range []uint64{3, 7, 11, 15, 19, 171, 324} { // in the last two a leak of nothing fitted as well as none
		r := sim.Case(seed).Run()
		s, o := series(&r), options(&r)
		o.Hold = Span{clock(r.Truth.HoldStart), clock(r.Truth.HoldEnd)}
		was := Analyse(s, o).Holds[0]
		for i := range s.P {
			s.P[i] *= 1 + 2e-15*math.Cos(float64(i*i))
		}
		now := Analyse(s, o).Holds[0]
		same := func(what string, x, y float64) {
			if d := math.Abs(x - y); d > 1e-6*max(math.Abs(x), math.Abs(y)) {
				t.Errorf("case %d: %s is %v and %v", seed, what, x, y)
			}
		}
		if was.Cause != now.Cause {
			t.Errorf("case %d: %s and %s", seed, was.Cause, now.Cause)
		}
		for _, v := range []struct {
			what     string
			was, now Value
		}{{"the leak", was.LeakContr, now.LeakContr}, {"moisture", was.MoistureRise, now.MoistureRise}, {"its time", was.MoistureTime, now.MoistureTime}} {
			same(v.what, v.was.X, v.now.X)
			same(v.what+"'s lower end", v.was.Low, v.now.Low)
			same(v.what+"'s upper end", v.was.High, v.now.High)
		}
		for i, m := range was.Models {
			same(m.Name+", its weight", m.Weight, now.Models[i].Weight)
		}
	}
}

// TestExactReadings: readings without any scatter, as nobody's gauge writes them, leave residuals of rounding alone; what is told of them must not
// hang on it either.
func TestExactReadings(t *testing.T) {
	for _, c := range []struct {
		what string
		p    func(t float64) float64
	}{
		{"a straight line", func(t float64) float64 { return 30 + 12*t/1800 }},
		{"a rise that levels off", func(t float64) float64 { return 40 - 20*math.Expm1(-t/300) }},
		{"an equalisation", func(t float64) float64 { return 40 + t/300 + 9*math.Exp(-t/90) }},
	} {
		s := curve(361, 5, 0, 0, c.p)
		o := Options{Volume: 8e-3, Gauge: Gauge{Position: "far end"}}
		was := stated(s, o)
		for i := range s.P {
			s.P[i] *= 1 + 2e-16*float64(i%3-1)
		}
		now := stated(s, o)
		same := func(what string, x, y float64) {
			if math.Abs(x-y) > 1e-6*max(math.Abs(x), math.Abs(y)) {
				t.Errorf("%s: %s is %v and %v", c.what, what, x, y)
			}
		}
		for i, m := range was.Models {
			same(m.Name+", its residuals", m.RSS, now.Models[i].RSS)
			same(m.Name+", its criterion", m.AICc, now.Models[i].AICc)
		}
		for _, fact := range []string{"size", "time"} {
			same("the transient's "+fact, was.Transient.Facts[fact], now.Transient.Facts[fact])
		}
		same("the leak", was.LeakContr.High, now.LeakContr.High)
	}
}
