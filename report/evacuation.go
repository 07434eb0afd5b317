package report

import (
	"sort"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/plot"

	"gonum.org/v1/plot/vg"
)

// fig is a figure of the record by name, nil where there is no data for it.
func (b *builder) fig(name string) block {
	o := b.plots()
	if b.t.Audience == "warranty" && name == "pulldown" {
		o.Height = plot.Short + vg.Length(b.spare)
	}
	var f *plot.Figure
	switch name {
	case "pulldown":
		f = plot.PullDown(b.rec, o)
	case "pressure":
		f = plot.Pressure(b.rec, o)
	case "hoses":
		f = plot.Hoses(b.rec, o)
	case "cause":
		f = plot.Cause(b.rec, o)
	}
	if f == nil {
		return nil
	}
	return picture{f: f}
}

func (b *builder) evacuation() []section {
	pd := b.rec.PullDown
	if pd == nil && b.rec.Traces.Vacuum == nil {
		return b.absent("evacuation")
	}
	var blocks []block
	if f := b.fig("pulldown"); f != nil {
		blocks = append(blocks, f)
	}
	if pd != nil {
		blocks = append(blocks, b.levelTable(pd), b.caption(b.evacuationText(pd)))
	}
	sec := b.titled("evacuation", blocks...)
	sec.note = join("\n", b.pumpNote(), sec.note)
	return []section{sec}
}

// levelTable is the time to each level, the lowest reading and the asymptote.
func (b *builder) levelTable(pd *record.PullDown) block {
	type at struct {
		level float64
		t     *record.Value
	}
	var levels []at
	for name, v := range pd.TimeTo {
		if q, err := quantity.Parse(name, quantity.DimPressure); err == nil {
			levels = append(levels, at{q.SI, v})
		}
	}
	sort.Slice(levels, func(i, j int) bool { return levels[i].level > levels[j].level })
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}}
	add := func(k, v string) { t.rows = append(t.rows, []string{k, v}) }
	add(b.w("evac.period"), b.p.between(pd.Start, pd.End))
	if len(levels) > 0 {
		var parts []string
		for _, l := range levels {
			took := b.w("not_reached")
			if l.t.Finite() {
				took = b.p.duration(l.t)
			}
			parts = append(parts, b.w("evac.level", "level", b.p.level(record.Plain(l.level, "Pa")), "time", took))
		}
		add(b.w("evac.levels"), join("; ", parts...))
	}
	add(b.w("evac.lowest"), b.p.vacuum(pd.Lowest))
	if pd.Asymptotic.Finite() {
		add(b.w("evac.asymptote"), b.p.vacuum(pd.Asymptotic))
	}
	if pd.Rate.Finite() {
		add(b.w("evac.rate"), b.perMinuteRate(pd.Rate))
	}
	if rates := b.ratesAt(pd.RateAt); rates != "" {
		add(b.w("evac.rates"), rates)
	}
	for _, q := range pd.Plateaus {
		add(b.w("evac.plateau"), b.p.vacuum(q.Pressure)+", "+b.p.between(q.Start, q.End))
	}
	for _, q := range b.rec.Breaks {
		v := b.p.between(q.Start, q.End)
		if q.Pressure.Finite() {
			v = join(", ", v, b.w("evac.break_to", "pressure", b.p.any(q.Pressure)))
		}
		if q.Remaining.Finite() {
			v = join(", ", v, b.w("evac.break_left", "share", b.p.share(q.Remaining)))
		}
		add(b.w("evac.break"), v)
	}
	return t
}

// ratesAt names the rate at a few pressures with two figures each; results.json has them all.
func (b *builder) ratesAt(list []record.RateAt) string {
	const most = 5
	every := max(1, (len(list)+most-1)/most)
	perMinute := quantity.Unit{Scale: 1.0 / 60}
	var parts []string
	for i := 0; i < len(list); i += every {
		if r := list[i]; r.Pressure.Finite() && r.Rate.Finite() {
			parts = append(parts, b.w("evac.at", "value", b.p.two(r.Rate, perMinute)+nb+"min"+sup("−1"), "level", b.p.rounded(r.Pressure, b.p.sys.Vacuum)))
		}
	}
	return join("; ", parts...)
}

// perMinuteRate prints a rate in 1/s as a rate a minute.
func (b *builder) perMinuteRate(v *record.Value) string {
	u := quantity.Unit{Scale: 1.0 / 60}
	return b.p.bareInterval(v, u) + nb + "min" + sup("−1")
}

func (b *builder) evacuationText(pd *record.PullDown) string {
	parts := []string{b.w("evac.caption")}
	if h := pd.Hoses; h != nil && h.Share.Finite() {
		parts = append(parts, b.w("evac.hoses", "share", b.p.share(h.Share), "flow", b.p.in(h.Effective, b.p.sys.Flow), "pressure", b.p.any(h.Pressure)))
		if h.Larger.Finite() {
			parts = append(parts, b.w("evac.larger", "share", b.p.share(h.Larger)))
		}
	}
	if pd.HoseLimited != nil && *pd.HoseLimited {
		parts = append(parts, b.w("evac.limited"))
	}
	return join(" ", parts...)
}

func (b *builder) pumpNote() string {
	c := b.rec.PumpCheck
	if c == nil {
		return b.w("pump.none")
	}
	out := []string{b.w("pump." + c.Result)}
	if c.Reading.Finite() {
		out = append(out, b.w("pump.reading", "level", b.p.level(c.Reading)))
	}
	if c.OilChanged != nil {
		out = append(out, b.w("pump.oil", "answer", b.yesNo(*c.OilChanged)))
	}
	if c.GasBallast != nil {
		out = append(out, b.w("pump.ballast", "answer", b.yesNo(*c.GasBallast)))
	}
	return join("\n", out...)
}

func (b *builder) hoses() []section {
	f := b.fig("hoses")
	if f == nil {
		return nil
	}
	return []section{b.titled("hoses", f)}
}

// hold is the deciding hold for an expert.
func (b *builder) hold() []section {
	h := b.rec.Hold
	if h == nil {
		return b.absent("hold")
	}
	var blocks []block
	if f := plot.Hold(b.rec, b.plots()); f != nil {
		blocks = append(blocks, picture{f: f}, b.caption(b.holdCaption(h, f.Cut)))
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
	ambient := ""
	if h.Ambient.Finite() {
		ambient = b.w("hold.ambient", "low", b.p.temperature(record.Plain(h.Ambient.Low, "K")), "high", b.p.temperature(record.Plain(h.Ambient.High, "K")))
		if h.Ambient.Confidence == 0 && h.Ambient.Low == 0 {
			ambient = b.w("hold.ambient_one", "value", b.p.temperature(h.Ambient))
		}
	}
	sec.note = join("\n", found, ambient, sec.note)
	return []section{sec}
}

func (b *builder) holdCaption(h *record.Hold, cut bool) string {
	text := b.w("hold.caption")
	if h.Readings > 0 {
		text = b.w("hold.readings", "count", b.p.count(h.Readings)) + " " + text
	}
	if cut {
		text += " " + b.w("hold.cut")
	}
	return text
}

func (b *builder) causeSection() []section {
	h := b.rec.Hold
	if h == nil {
		return nil
	}
	var blocks []block
	if f := b.fig("cause"); f != nil {
		blocks = append(blocks, f)
	}
	text := bold(upper(b.w("answer.cause."+b.cause()))) + ". " + sentence(b.causeText(h))
	switch b.cause() {
	case "leak":
		text = join(" ", text, b.w("fixed.leak"))
	case "moisture":
		text = join(" ", text, b.w("fixed.moisture"))
	case "leak and moisture":
		text = join(" ", text, b.w("fixed.leak"), b.w("fixed.moisture"))
	case "none":
		text = join(" ", text, b.w("fixed.none", "smallest", b.smallest()))
	}
	blocks = append(blocks, b.text(text))
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}}
	add := func(key, v string) { t.rows = append(t.rows, []string{b.w(key), v}) }
	if h.LeakRise.Finite() {
		add("cause.rate", b.p.rate(h.LeakRise))
	}
	if h.LeakRate.Finite() {
		add("cause.inflow", b.p.flow(h.LeakRate))
	} else {
		add("cause.inflow", b.w("cause.no_volume"))
	}
	if h.MoistureTime.Finite() {
		add("cause.time", b.p.duration(plainOf(h.MoistureTime)))
	}
	if h.MoistureMass.Finite() {
		add("cause.mass", b.p.scientific(h.MoistureMass, quantity.Milligram))
	}
	if h.SmallestLeak.Finite() {
		add("cause.smallest", b.p.flow(plainOf(h.SmallestLeak)))
	}
	if h.LongerHold.Finite() {
		add("cause.longer", b.p.duration(h.LongerHold))
	}
	blocks = append(blocks, t, b.caption(b.w("cause.rule")))
	return []section{b.titled("cause", blocks...)}
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
		places = min(quantity.Places(1.96*h.StandardUncertainty.V, u)+1, 4)
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
			[]string{bold(b.w("budget.expanded")), "1.96", bold(number(record.Plain(1.96*h.StandardUncertainty.V, "Pa")))})
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
