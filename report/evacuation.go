package report

import (
	"sort"

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
		blocks = append(blocks, b.levelTable(pd))
		if text := b.evacuationText(pd); text != "" {
			blocks = append(blocks, b.caption(text))
		}
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
	var parts []string
	if pd.Asymptotic.Finite() || len(pd.Plateaus) > 0 {
		parts = append(parts, b.w("evac.caption"))
	}
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
