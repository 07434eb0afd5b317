package vacuum

import "math"

const (
	lineLevel = 500 // micron: the pressure in the system at which the line is judged
	wider     = 1.5 // the larger line that is compared
)

// shareLevels are the mean pressures, in micron, at which the share of the pump is told.
var shareLevels = [...]float64{100, 200, 500, 1000, 2000, 5000, 10000}

// line tells what the hoses leave of the pump. All is worked out at a mean pressure of 500 micron in the hoses; the real mean is
// lower where little of the pump arrives, so the true share is not above the one given. It is nil where nothing is stated.
func line(o Options) *LineResult {
	if len(o.Hoses) == 0 {
		return nil
	}
	p := lineLevel * micron
	c, wide := inSeries(o.Hoses, p, 1), inSeries(o.Hoses, p, wider)
	if !(c > 0) || math.IsInf(c, 0) {
		return nil
	}
	out := &LineResult{Conductance: c, Pressure: p}
	if o.PumpFlow > 0 {
		out.Effective = 1 / (1/o.PumpFlow + 1/c)
		out.Share = out.Effective / o.PumpFlow
		out.Limited = out.Share < 0.5
		out.Larger = 1 / (1/o.PumpFlow + 1/wide)
		for _, at := range shareLevels {
			c := inSeries(o.Hoses, at*micron, 1)
			out.Shares = append(out.Shares, ShareAt{at * micron, c / (c + o.PumpFlow)})
		}
	}
	return out
}

// inSeries is the conductance of the hoses one behind the other, each with its bore times k.
func inSeries(hoses []Hose, p, k float64) float64 {
	sum := 0.0
	for _, h := range hoses {
		if !(h.Diameter > 0) || !(h.Length > 0) {
			return math.NaN()
		}
		sum += 1 / Conductance(k*h.Diameter, h.Length, p)
	}
	return 1 / sum
}
