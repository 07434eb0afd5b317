package plot

import (
	"math"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// fitted is the averaged fit, nil where there is none to draw.
func (d *holdFigure) fitted() *record.Band {
	f := d.r.Traces.Fit
	if d.o.Plain || f == nil || len(f.T) < 2 || len(f.Low) != len(f.T) || len(f.High) != len(f.T) || len(f.Y) != len(f.T) {
		return nil
	}
	return f
}

func (d *holdFigure) fit() {
	f := d.fitted()
	if f == nil {
		return
	}
	var mid []point
	for i := range f.T {
		if d.a.shown(d.minute(f.T[i]), f.Y[i]) {
			mid = append(mid, point{d.a.px(d.minute(f.T[i])), d.a.clamp(d.a.py(d.unit().From(f.Y[i])))})
		}
	}
	d.p.stroke(1.0, Umber)
	d.p.line(mid...)
}

func (d *holdFigure) band() {
	f := d.fitted()
	if f == nil {
		return
	}
	u, a := d.unit(), d.a
	var band []point
	for i := range f.T {
		if a.shown(d.minute(f.T[i]), f.High[i]) {
			band = append(band, point{a.px(d.minute(f.T[i])), a.clamp(a.py(u.From(f.High[i])))})
		}
	}
	for i := len(f.T) - 1; i >= 0; i-- {
		if a.shown(d.minute(f.T[i]), f.Low[i]) {
			band = append(band, point{a.px(d.minute(f.T[i])), a.clamp(a.py(u.From(f.Low[i])))})
		}
	}
	d.p.polygon(band, Stone)
}

func (d *holdFigure) findResiduals() {
	fit, u := d.r.Traces.Fit, d.unit()
	if fit == nil || len(fit.T) < 2 || len(fit.T) != len(fit.Y) {
		return
	}
	t := d.r.Traces.Hold
	d.residuals = make([]point, 0, len(t.T))
	j := 0
	var sum float64
	for i, x := range t.T {
		if x < fit.T[0] || x > fit.T[len(fit.T)-1] {
			continue
		}
		for j+2 < len(fit.T) && fit.T[j+1] < x {
			j++
		}
		f := fit.Y[j]
		if dt := fit.T[j+1] - fit.T[j]; dt > 0 {
			f += (fit.Y[j+1] - fit.Y[j]) * (x - fit.T[j]) / dt
		}
		e := (t.Y[i] - f) / u.Scale
		if finite(e) {
			d.residuals = append(d.residuals, point{d.minute(x), e})
			sum += e * e
		}
	}
	if len(d.residuals) == 0 {
		return
	}
	s := math.Sqrt(sum / float64(len(d.residuals)))
	if r := d.r.Hold.Residual; r.Finite() && r.V > 0 {
		s = r.V / u.Scale
	}
	biggest := 0.0
	for _, q := range d.residuals {
		biggest = math.Max(biggest, math.Abs(q.y))
	}
	for _, k := range []float64{2, 4, 10} {
		d.residualExtent = niceStep(k*math.Max(s, 1e-6), 1)
		if biggest <= d.residualExtent {
			break
		}
	}
}

func (d *holdFigure) strip() {
	const height = 11 * 72 / 25.4
	a := axes{x: d.a.x, y: 22, w: d.a.w, h: height, x1: d.x1, y0: -d.residualExtent, y1: d.residualExtent}
	p := d.p
	pts := make([]point, 0, len(d.residuals))
	for _, q := range d.residuals {
		if a.shown(q.x, q.y) {
			pts = append(pts, point{a.px(q.x), a.clamp(a.py(q.y))})
		}
	}
	p.stroke(0.5, Ink)
	p.line(point{a.x, a.py(0)}, point{a.x + a.w, a.py(0)})
	p.dots(pts, 0.4, Ink)
	p.stroke(0.7, Ink)
	p.line(point{a.x, a.y}, point{a.x, a.y + a.h})
	n := places(d.residualExtent)
	for _, v := range []float64{-d.residualExtent, 0, d.residualExtent} {
		p.line(point{a.x - 3.5, a.py(v)}, point{a.x, a.py(v)})
		s := d.o.number(v, quantity.One, n)
		if v > 0 {
			s = "+" + s
		}
		p.text(a.x-6, a.py(v)-2.5, s, small, false, right)
	}
	p.boxed(a.x+a.w, a.y+a.h-1, d.o.Word("plot.residuals", "unit", d.unit().Name), small, false, right)
}
