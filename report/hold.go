package report

import (
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/plot"
)

// hold is the deciding hold for an expert.
func (b *builder) hold() []section {
	h := b.rec.Hold
	if h == nil {
		return b.absent("hold")
	}
	var blocks []block
	if f := plot.Hold(b.rec, b.plots()); f != nil {
		blocks = append(blocks, picture{f: f}, b.caption(b.holdCaption(h, f.Legend)))
	}
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}}
	add := func(key, v string) { t.rows = append(t.rows, []string{b.w(key), v}) }
	add("hold.period", b.p.between(h.Start, h.End)+", "+b.p.duration(within(h.Start, h.End)))
	if h.StartPressure.Finite() && h.EndPressure.Finite() {
		u := b.p.sys.Vacuum
		add("hold.pressures", b.p.withUnit(join(" / ", b.p.bare(h.StartPressure, u), b.p.bare(h.EndPressure, u), b.p.bare(h.Rise, plainUnit(u))), u))
	}
	if h.SettleEnd != "" {
		how := b.wordOr("settle."+h.SettleHow, b.note(h.SettleNote, h.SettleHow))
		if d := within(h.Start, h.SettleEnd); d.Finite() && d.V > 0 {
			how = join(", ", b.p.duration(d), how)
		}
		add("hold.settle", how)
	}
	if h.Criterion != nil {
		text := join("; ", b.agreedText(h), b.asWritten(h))
		if c := h.Criterion; c.Certainty != "" && !strings.HasSuffix(c.Source, c.Certainty) {
			text += " (" + b.term(c.Certainty) + ")"
		}
		add("hold.criterion", text)
	} else {
		add("hold.criterion", b.w("criterion.none"))
	}
	add("hold.decision", b.judged(h))
	if len(b.rec.Holds) > 1 {
		for i, o := range b.rec.Holds {
			if o.Start == h.Start {
				continue
			}
			t.rows = append(t.rows, []string{b.w("hold.other", "number", b.p.count(i+1)),
				join("; ", b.p.between(o.Start, o.End), b.levelOr(o.StartPressure)+" – "+b.levelOr(o.EndPressure), b.w("answer.cause."+or(o.Cause, "not determined")))})
		}
	}
	blocks = append(blocks, t)
	sec := b.titled("hold", blocks...)
	found := b.w("hold.found." + or(h.Found, "detected"))
	sec.note = join("\n", found, b.ambient(h.Ambient), sec.note)
	return []section{sec}
}

// ambient is the ambient temperature during the hold, "" where it is not known.
func (b *builder) ambient(v *record.Value) string {
	switch {
	case !v.Finite():
		return ""
	case v.Confidence == 0 && v.Low == 0:
		return b.w("hold.ambient_one", "value", b.p.temperature(v))
	}
	return b.w("hold.ambient", "low", b.p.temperature(record.Plain(v.Low, "K")), "high", b.p.temperature(record.Plain(v.High, "K")))
}

// holdCaption explains what the figure shows, and nothing that it does not.
func (b *builder) holdCaption(h *record.Hold, legend []string) string {
	var parts []string
	if h.Readings > 0 {
		parts = append(parts, b.w("hold.readings", "count", b.p.count(h.Readings)))
	}
	for _, key := range legend {
		parts = append(parts, b.w(key))
	}
	return join(" ", parts...)
}

func (b *builder) models() []section {
	h := b.rec.Hold
	if h == nil || len(h.Models) == 0 {
		return nil
	}
	lowest := h.Models[0].AICc
	for _, m := range h.Models {
		lowest = min(lowest, m.AICc)
	}
	u := b.p.sys.Vacuum
	t := table{cols: []column{{b.w("head.fitted_model"), 'l'}, {b.w("head.parameters", "unit", u.Name), 'l'}, {b.w("head.rss", "unit", u.Name) + sup("2"), 'd'}, {b.w("head.aicc"), 'd'}, {b.w("head.weight"), 'd'}}}
	for _, m := range h.Models {
		var ps []string
		for _, k := range sortedKeys(m.Parameters) {
			ps = append(ps, parameterName(k)+nb+b.parameter(m.Parameters[k]))
		}
		t.rows = append(t.rows, []string{b.wordOr("model."+m.Name, clean(m.Name)), join(", ", ps...), b.p.number(m.RSS/(u.Scale*u.Scale), quantity.One, 1), b.p.number(m.AICc-lowest, quantity.One, 1), b.p.number(m.Weight, quantity.One, 2)})
	}
	parts := []string{}
	if h.Residual.Finite() {
		parts = append(parts, b.w("models.residual", "level", b.deltaOr(h.Residual)))
	}
	if h.Correlation.Finite() {
		parts = append(parts, b.w("models.correlation", "value", b.p.number(h.Correlation.V, quantity.One, 2)))
	}
	parts = append(parts, b.w("models.average"))
	sec := b.titled("models", t, b.caption(join(" ", parts...)))
	sec.together = true // four rows to be compared with one another
	return []section{sec}
}

// parameterName sets indices and Greek letters.
func parameterName(k string) string {
	switch k {
	case "p0", "start pressure":
		return "p" + sub("0")
	case "a", "leak rise":
		return "a"
	case "M", "moisture rise":
		return "M"
	case "tau", "moisture time":
		return "τ"
	case "transient":
		return "B"
	case "transient time":
		return "τ" + sub("B")
	}
	return clean(k)
}

// parameter prints a model's parameter as a number; units are in the head.
func (b *builder) parameter(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	unit, ok := map[string]quantity.Unit{"Pa": b.p.sys.Vacuum, "Pa/s": b.p.sys.Rate, "s": quantity.Minute}[v.Unit]
	if !ok {
		return b.p.any(v)
	}
	return b.p.number(v.V, unit, digits(v.V, unit))
}

func (b *builder) uncertainty() []section {
	h := b.rec.Hold
	if h == nil || len(h.Budget) == 0 {
		return nil
	}
	u := plainUnit(b.p.sys.Vacuum)
	t := table{cols: []column{{b.w("head.component"), 'l'}, {b.w("head.distribution"), 'l'}, {b.w("head.u", "unit", u.Name), 'd'}}}
	places := 1
	if h.StandardUncertainty.Finite() {
		places = min(quantity.Places(quantity.K95*h.StandardUncertainty.V, u)+1, 4)
	}
	number := func(v *record.Value) string {
		if !v.Finite() {
			return "–"
		}
		return b.p.number(v.V, u, places)
	}
	for _, term := range h.Budget {
		t.rows = append(t.rows, []string{b.wordOr("budget."+term.Name, clean(term.Name)), b.wordOr("distribution."+term.Kind, clean(term.Kind)), number(term.U)})
	}
	if h.StandardUncertainty.Finite() {
		t.rows = append(t.rows, []string{bold(b.w("budget.combined")), "", bold(number(h.StandardUncertainty))},
			[]string{bold(b.w("budget.expanded")), "1.96", bold(number(record.Plain(quantity.K95*h.StandardUncertainty.V, "Pa")))})
	}
	return []section{b.titled("uncertainty", t)}
}

func (b *builder) loss() []section {
	l := b.rec.Loss
	if l == nil || !l.PerYear.Finite() || l.PerYear.Confidence == 0 && l.PerYear.High == 0 {
		return nil
	}
	return []section{b.titled("loss", b.text(b.lossText(l)))}
}

// lossText tells the bracket with two figures: it spans far more than their last.
func (b *builder) lossText(l *record.Loss) string {
	mass := func(kg float64) string {
		return b.p.withUnit(b.p.number(kg, b.p.sys.Mass, max(digits(kg, b.p.sys.Mass)-1, 0)), b.p.sys.Mass)
	}
	return b.w("fixed.loss", "low", mass(l.PerYear.Low), "high", mass(l.PerYear.High), "refrigerant", clean(l.Refrigerant), "pressure", b.p.pressure(l.Pressure))
}
