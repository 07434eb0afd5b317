// Package decision compares what was measured with a limit, with the
// uncertainty of the measurement, and holds the acceptance criteria that a job
// can name.
//
// With the standard uncertainty u the guard band is w = 1.645 u, so that a
// statement at its edge is wrong in one case of twenty (one-sided 95 %, normal
// distribution; JCGM 106:2012, ISO 14253-1). Against an upper limit L
// (ILAC-G8:09/2019, outcomes of a guarded rule with four statements):
//
//	y <= L - w   pass
//	y <= L       conditional pass
//	y <= L + w   conditional fail
//	y >  L + w   fail
//
// Where w >= L no reading could pass, so only a fail is determined. The outcome
// answers the criterion and nothing else: it says nothing of the cause of a rise.
package decision

import (
	"math"
	"slices"

	"dryhold/analysis/quantity"
)

// Outcome is what the comparison came to.
type Outcome string

// The outcomes of the record.
const (
	Pass            Outcome = "pass"
	ConditionalPass Outcome = "conditional pass"
	ConditionalFail Outcome = "conditional fail"
	Fail            Outcome = "fail"
	NotDetermined   Outcome = "not determined"
)

// severity lists the outcomes, the one that outweighs all others first.
var severity = []Outcome{Fail, ConditionalFail, NotDetermined, ConditionalPass, Pass}

// Worst returns the outcome that counts where several criteria apply together:
// fail, conditional fail, not determined, conditional pass, pass, in this
// order. Without outcomes nothing is determined.
func Worst(outcomes ...Outcome) Outcome {
	for _, o := range severity {
		if slices.Contains(outcomes, o) {
			return o
		}
	}
	return NotDetermined
}

// GuardBand is w = 1.645 u.
func GuardBand(u float64) float64 { return quantity.OneSided95 * u }

// Upper compares y, with standard uncertainty u, with the upper limit L; all in
// the same unit. NaN, infinity, a negative u and a limit that is not positive
// give NotDetermined.
func Upper(y, u, L float64) Outcome {
	w := GuardBand(u)
	if !finite(y, u, L) || u < 0 || L <= 0 {
		return NotDetermined
	}
	over := y - quantity.Alike*L
	switch {
	case over > L+w:
		return Fail
	case w >= L:
		return NotDetermined
	case over > L:
		return ConditionalFail
	case over > L-w:
		return ConditionalPass
	}
	return Pass
}

// Window compares y, with standard uncertainty u, with a target between low and
// high: the worse of its two sides counts. Where the guard bands of both sides
// meet, no reading could pass and only a fail is determined.
func Window(y, u, low, high float64) Outcome {
	w := GuardBand(u)
	if !finite(y, u, low, high) || u < 0 || low > high {
		return NotDetermined
	}
	outside := math.Max(low-y, y-high) // negative inside
	switch {
	case outside > w:
		return Fail
	case 2*w >= high-low:
		return NotDetermined
	case outside > 0:
		return ConditionalFail
	case outside > -w:
		return ConditionalPass
	}
	return Pass
}

func finite(list ...float64) bool {
	for _, x := range list {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
