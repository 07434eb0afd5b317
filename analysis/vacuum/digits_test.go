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
