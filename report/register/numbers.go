package register

import (
	"math"
	"strconv"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// Figures of a value without an uncertainty of its own: as many as a gauge or a
// scale shows, and of a limit of detection.
const (
	asRead = 4
	rough  = 2
)

// rounded keeps the digits that make sense: down to the second figure of the
// uncertainty (JCGM 100:2008, 7.2.6: at most two digits of it), or the given
// number of figures where the uncertainty is not known.
func rounded(x, uncertainty float64, figures int) any {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	last := func(of float64, figures int) int { return figures - 1 - int(math.Floor(math.Log10(math.Abs(of))+1e-9)) }
	places := 0
	switch {
	case uncertainty > 0 && !math.IsInf(uncertainty, 0):
		places = last(uncertainty, 2)
	case x != 0:
		places = last(x, figures)
	}
	if places < 0 {
		step := math.Pow(10, float64(-places))
		return math.Round(x/step) * step
	}
	y, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', places, 64), 64)
	return y
}

// spread is half of a value's interval, 0 where it has none.
func spread(v *record.Value) float64 {
	if v == nil || v.Confidence == 0 {
		return 0
	}
	return (v.High - v.Low) / 2
}

// number is a value in its SI unit.
func number(v *record.Value, figures int) any {
	if !v.Finite() {
		return nil
	}
	return rounded(v.V, spread(v), figures)
}

// bounds are the ends of a value's interval.
func bounds(v *record.Value) (low, high any) {
	if v == nil || v.Confidence == 0 {
		return nil, nil
	}
	return rounded(v.Low, spread(v), asRead), rounded(v.High, spread(v), asRead)
}

// micron is a pressure in micron, to a tenth at most where no uncertainty says
// more; u is its standard uncertainty where the value itself has no interval, nil
// for none.
func micron(v, u *record.Value) any {
	if !v.Finite() {
		return nil
	}
	half := spread(v)
	if half == 0 && u.Finite() {
		half = u.V
	}
	x, spread := quantity.Micron.From(v.V), quantity.Micron.From(half)
	if spread == 0 && math.Abs(x) < 1000 {
		spread = 1
	}
	return rounded(x, spread, asRead)
}
