package vacuum

import (
	"math"

	"dryhold/analysis/quantity"
)

// budget is the gauge's part of the uncertainty (JCGM 100:2008): error limits are rectangular, u = a/√3; terms of one
// statement add up; a resolution step q gives q/√12.
type budget struct {
	gain, offset, zero, step float64 // error limits; zero is that of the offset's change during a hold
}

func newBudget(g Gauge, step float64) budget {
	b := budget{gain: g.Gain, offset: g.Offset, zero: g.ZeroStability, step: math.Max(g.Resolution, step)}
	return b
}

// reading is the standard uncertainty of one reading p with scatter sigma.
func (b budget) reading(p, sigma float64) float64 {
	return math.Sqrt(square((b.gain*math.Abs(p)+b.offset)/math.Sqrt(3)) + b.step*b.step/12 + sigma*sigma)
}

// rise is the standard uncertainty of the difference of two readings: the gain is common to both ends, so that it counts
// on the difference; the offset counts at both ends unless the zero's stability is stated, which then counts instead.
func (b budget) rise(dp, sigma float64) float64 {
	u2 := square(b.gain*dp/math.Sqrt(3)) + 2*(b.step*b.step/12+sigma*sigma)
	if b.zero > 0 {
		return math.Sqrt(u2 + b.zero*b.zero/3)
	}
	return math.Sqrt(u2 + 2*b.offset*b.offset/3)
}

// widen adds a relative standard uncertainty u, common to all of the interval, in quadrature at each end in proportion to
// that end, and keeps it at zero or above.
func (v Value) widen(u float64) Value {
	k := quantity.K95 * u
	v.Low = math.Max(0, v.X-math.Hypot(v.X-v.Low, k*v.Low))
	v.High = v.X + math.Hypot(v.High-v.X, k*v.High)
	return v
}

// scaled is v times a positive number.
func (v Value) scaled(f float64) Value { return Value{v.X * f, v.Low * f, v.High * f, v.Known} }
