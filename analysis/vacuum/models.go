package vacuum

import (
	"math"

	"dryhold/analysis/fit"
	"dryhold/analysis/quantity"
)

// models summarises the four models: each at its most likely shape, with its share of the average.
func (f *fitted) models() []Model {
	var out []Model
	for m, name := range modelNames {
		best, weight := -1, 0.0
		for i, k := range f.kinds {
			if k.model() != m {
				continue
			}
			weight += f.Weight[i]
			if best < 0 || f.Weight[i] > f.Weight[best] || f.Weight[i] == f.Weight[best] && f.Solved[i].LogLike > f.Solved[best].LogLike {
				best = i
			}
		}
		out = append(out, f.model(name, best, weight))
	}
	return out
}

func (f *fitted) model(name string, i int, weight float64) Model {
	k, x, p := f.kinds[i], f.Solved[i], map[string]float64{}
	p["start pressure"] = f.curve(i, f.s2)[0]
	if k.leak {
		p["leak rise"] = x.A / f.end()
	}
	if k.moist {
		p["moisture rise"], p["moisture time"] = x.B, k.store.tau
	}
	if k.trans.tau > 0 {
		p["transient"], p["transient time"] = x.Last, k.trans.tau
	}
	rows := float64(len(f.b.t))
	n, rss := fit.EffectiveSize(len(f.b.t), f.rho), max(-2*f.s2*x.LogLike, smooth*rows)
	return Model{Name: name, Parameters: p, RSS: rss, AICc: fit.AICc(n, rss*n/rows, f.parameters(i)+1), Weight: weight}
}

// band fills the averaged curve with its 95 % band: the spread of the hypotheses and the scatter of the constant.
func (f *fitted) band(h *Hold) {
	n := len(f.b.t)
	mean, square2 := make([]float64, n), make([]float64, n)
	sum, sw := 0.0, 0.0
	for i, w := range f.Weight {
		if w < 1e-3 {
			continue
		}
		sum += w
		for k, y := range f.curve(i, f.s2) {
			mean[k] += w * y
			square2[k] += w * y * y
		}
	}
	for _, w := range f.w {
		sw += w
	}
	for k := range mean {
		m := mean[k] / sum
		sd := math.Sqrt(math.Max(0, square2[k]/sum-m*m) + 4*f.s2/sw)
		h.CurveTime = append(h.CurveTime, f.b.t[k])
		h.Curve = append(h.Curve, m)
		h.BandLow = append(h.BandLow, m-quantity.K95*sd)
		h.BandHigh = append(h.BandHigh, m+quantity.K95*sd)
	}
}
