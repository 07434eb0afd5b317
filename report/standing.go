package report

import (
	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// pressure is the standing pressure test.
func (b *builder) pressure() []section {
	p := b.rec.Pressure
	if p == nil {
		return b.absent("pressure")
	}
	u, _ := b.p.gauge()
	temp := b.p.sys.Temperature
	t := table{cols: []column{{b.w("pressure.head", "gas", or(b.term(p.Gas), b.w("missing.given")), "kind", b.wordOr("pressure.kind."+p.Kind, clean(p.Kind))), 'l'},
		{b.w("head.time"), 'r'}, {b.w("head.pressure") + ", " + unitName(u), 'd'}, {b.w("head.temperature") + ", " + temp.Name, 'd'}}}
	row := func(name, at string, press, tk *record.Value) {
		if press.Finite() {
			tt := "–"
			if tk.Finite() {
				tt = b.p.number(tk.V, temp, 1)
			}
			t.rows = append(t.rows, []string{name, at, b.gaugeNumber(press), tt})
		}
	}
	row(b.w("pressure.start"), b.momentOr(p.Start), p.StartPressure, p.StartTemperature)
	row(b.w("pressure.end"), b.momentOr(p.End), p.EndPressure, p.EndTemperature)
	row(b.w("pressure.expected"), "", p.Expected, nil)
	if p.Change.Finite() {
		t.rows = append(t.rows, []string{bold(b.w("pressure.change")), b.p.duration(firstValue(p.Duration, within(p.Start, p.End))), bold(b.correctedNumber(p)), "–"})
	}
	if p.U.Finite() {
		t.rows = append(t.rows, []string{b.w("pressure.u"), "", "±" + nb + b.changeNumber(record.Plain(quantity.K95*p.U.V, "Pa")), "–"})
	}
	blocks := []block{}
	if len(t.rows) > 0 {
		blocks = append(blocks, t)
	}
	if f := b.fig("pressure"); f != nil {
		blocks = append(blocks, f)
	}
	blocks = append(blocks, b.text(b.pressureText(p)))
	sec := b.titled("pressure", blocks...)
	sec.note = join("\n", labelled(b.w("instrument"), clean(p.Instrument)), b.pressureFrom(p), labelled(b.w("pressure.at"), clean(p.TemperatureAt)), sec.note)
	return []section{sec}
}

func (b *builder) pressureFrom(p *record.Pressure) string {
	if p.From == "readings" {
		return b.w("pressure.logged")
	}
	return b.w("pressure.stated")
}

func (b *builder) pressureText(p *record.Pressure) string {
	parts := []string{bold(b.w("pressure.decision", "decision", b.pressureDecision(p)))}
	if r := b.note(p.Note, p.DecisionReason); r != "" {
		parts = append(parts, sentence(r))
	}
	if p.MaxChange.Finite() {
		parts = append(parts, b.w("pressure.criterion", "change", b.agreedChange(p.MaxChange)))
	}
	if p.SmallestLeak.Finite() {
		parts = append(parts, b.w("pressure.smallest", "flow", b.p.flow(plainOf(p.SmallestLeak))))
	}
	if budget := b.pressureBudget(p); budget != "" {
		parts = append(parts, b.w("pressure.budget", "parts", budget))
	}
	if held := b.pressureStages(p); held != "" {
		parts = append(parts, b.w("pressure.stages", "stages", held))
	}
	if p.DesignPressure.Finite() {
		parts = append(parts, b.w("pressure.design", "pressure", b.p.pressure(p.DesignPressure)))
	}
	if p.CarryLow.Finite() {
		parts = append(parts, b.w("pressure.carry", "flow", b.p.flow(p.CarryLow)))
	}
	if p.Agreement != "" {
		parts = append(parts, b.w("pressure.agree."+p.Agreement))
	}
	return join(" ", parts...)
}

// pressureDecision tells the decision and, always beside it, a loss that the readings show.
func (b *builder) pressureDecision(p *record.Pressure) string {
	word := b.decisionWord(p.Decision)
	if p.Lost() && !record.Fails(p.Decision) {
		return b.w("pressure.loss_shown", "decision", word)
	}
	return word
}

// pressureBudget names the parts of the standard uncertainty that show at its places.
func (b *builder) pressureBudget(p *record.Pressure) string {
	zero := b.changeNumber(record.Plain(0, "Pa"))
	var list []string
	for _, t := range p.Budget {
		if t.U.Finite() && b.changeNumber(t.U) != zero {
			list = append(list, b.wordOr("budget."+t.Name, clean(t.Name))+nb+b.changeText(t.U))
		}
	}
	return join(", ", list...)
}

// pressureStages tells the pressures at which the test was held, where there were several.
func (b *builder) pressureStages(p *record.Pressure) string {
	var list []string
	for _, s := range p.Stages {
		if s.Pressure.Finite() {
			list = append(list, b.p.pressure(s.Pressure)+" "+b.p.duration(within(s.Start, s.End)))
		}
	}
	if len(list) < 2 {
		return ""
	}
	return join(", ", list...)
}

func (b *builder) momentOr(s string) string {
	if s == "" {
		return b.w("missing.recorded")
	}
	return b.p.moment(s)
}

func (b *builder) gaugeNumber(v *record.Value) string {
	u, shift := b.p.gauge()
	return b.p.number(v.V-shift, u, b.p.pressurePlaces(u))
}

func (b *builder) changeNumber(v *record.Value) string {
	u, _ := b.p.gauge()
	return b.p.number(v.V, plainUnit(u), b.p.pressurePlaces(u))
}

// correctedNumber is the change that is judged, with the decimals that tell it from the one agreed.
func (b *builder) correctedNumber(p *record.Pressure) string {
	u, _ := b.p.gauge()
	places := b.p.pressurePlaces(u)
	if p.MaxChange.Finite() {
		places = beside(-p.Change.V/u.Scale, places, p.MaxChange.V/u.Scale)
	}
	return b.p.number(p.Change.V, plainUnit(u), places)
}

// corrected is correctedNumber with its unit.
func (b *builder) corrected(p *record.Pressure) string {
	if !p.Change.Finite() {
		return b.w("missing.recorded")
	}
	u, _ := b.p.gauge()
	return b.p.withUnit(b.correctedNumber(p), differenceUnit(u))
}

func (b *builder) expandedPressure(u *record.Value) string {
	if !u.Finite() {
		return "–"
	}
	return b.changeText(record.Plain(quantity.K95*u.V, "Pa"))
}

// changeText is a change of pressure to the places that a pressure has.
func (b *builder) changeText(v *record.Value) string {
	if !v.Finite() {
		return b.w("missing.recorded")
	}
	u, _ := b.p.gauge()
	return b.p.withUnit(b.changeNumber(v), differenceUnit(u))
}

func (b *builder) agreedChange(v *record.Value) string {
	u, _ := b.p.gauge()
	d := differenceUnit(u)
	return b.p.withUnit(b.p.agreed(v.V, d), d)
}

func (b *builder) pressureRemark(p *record.Pressure) string {
	if p.From != "readings" {
		return b.w("pressure.stated")
	}
	return or(b.note(p.Note, p.DecisionReason), "–")
}
