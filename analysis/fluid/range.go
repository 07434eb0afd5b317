package fluid

import (
	"fmt"
	"math"
)

// R is the molar gas constant in J/(mol K), exact since the SI of 2019.
const R = 8.31446261815324

// RangeError says that an argument lies outside the range for which the source
// of a formula gives it.
type RangeError struct {
	What      string  // what was asked for: "saturation pressure of R-32"
	Argument  string  // "temperature", "pressure", "altitude"
	Value     float64 // the argument, in Unit
	Low, High float64 // the range, in Unit, both ends allowed
	Unit      string  // "K", "Pa", "m"
}

func (e *RangeError) Error() string {
	if math.IsNaN(e.Value) || math.IsInf(e.Value, 0) {
		return fmt.Sprintf("%s: the %s is not a finite number", e.What, e.Argument)
	}
	return fmt.Sprintf("%s: %s %.6g %s is outside %.6g to %.6g %s",
		e.What, e.Argument, e.Value, e.Unit, e.Low, e.High, e.Unit)
}

// rounding is how far an argument that was converted from another unit may miss an
// end of its range: -40 °C is 233.14999999999998 K.
const rounding = 1e-12

// within returns nil if low <= x <= high, but for an error of rounding, and a
// RangeError otherwise; NaN is outside every range.
func within(what, argument string, x, low, high float64, unit string) error {
	if x >= low-rounding*math.Abs(low) && x <= high+rounding*math.Abs(high) {
		return nil
	}
	return &RangeError{What: what, Argument: argument, Value: x, Low: low, High: high, Unit: unit}
}

// invert returns the temperature in [low, high] (K) at which the rising
// function ln p(T) equals lnp. The caller has checked that it lies between the
// ends. ln p is nearly linear in 1/T, so false position in 1/T (Illinois
// variant, which keeps the bracket) needs about six steps.
func invert(lnSat func(T float64) float64, lnp, low, high float64) float64 {
	a, b := 1/low, 1/high
	fa, fb := lnSat(low)-lnp, lnSat(high)-lnp
	for range 100 {
		if fa == fb {
			break
		}
		c := b - fb*(b-a)/(fb-fa)
		fc := lnSat(1/c) - lnp
		if math.Abs(fc) < 1e-13 || math.Abs(b-a) < 1e-16*math.Abs(a) {
			return 1 / c
		}
		if fc*fb < 0 {
			a, fa = b, fb
		} else {
			fa /= 2
		}
		b, fb = c, fc
	}
	return 1 / b
}
