package report

import (
	"regexp"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// section builds the sections of a name; a test that was not made keeps its
// title, what can't apply to the job has none.
func (b *builder) section(name string) []section {
	build, ok := builders[name]
	if !ok {
		return nil
	}
	return build(b)
}

var builders map[string]func(b *builder) []section

func init() {
	builders = map[string]func(b *builder) []section{
		"summary": (*builder).summary, "open": (*builder).open, "cautions": (*builder).cautions, "how": (*builder).how,
		"pressure": (*builder).pressure, "evacuation": (*builder).evacuation, "hoses": (*builder).hoses, "boundary": (*builder).boundary,
		"instruments": (*builder).instruments, "inputs": (*builder).inputs, "hold": (*builder).hold, "cause": (*builder).causeSection,
		"models": (*builder).models, "uncertainty": (*builder).uncertainty, "loss": (*builder).loss, "attempts": (*builder).attempts,
		"leakchecks": (*builder).leakchecks, "recovery": (*builder).recovery, "charge": (*builder).charge, "startup": (*builder).startup,
		"events": (*builder).events, "warnings": (*builder).warnings, "equipment": (*builder).equipment, "proof": (*builder).proof,
		"done": (*builder).done, "work": (*builder).work, "signoff": (*builder).signoff, "signature": (*builder).signature, "photographs": (*builder).photographs,
	}
}

func (b *builder) titled(name string, blocks ...block) section {
	sec := section{title: b.w("section." + name), blocks: blocks}
	if key := "note." + name; b.t.Has(key) {
		sec.note = b.w(key)
	}
	return sec
}

// absent is a section that only says that nothing was recorded.
func (b *builder) absent(name string) []section {
	return []section{{title: b.w("section." + name), blocks: []block{b.text(b.w("absent"))}}}
}

func (b *builder) text(s string) block { return para{text: s, st: b.sc.body} }

// caption is text under a figure or table.
func (b *builder) caption(s string) block { return caption{para{text: s, st: b.sc.note}} }

func (b *builder) heads(keys ...string) []column {
	out := make([]column, len(keys))
	for i, k := range keys {
		align := byte('l')
		if k[0] == '>' {
			align, k = 'd', k[1:]
		}
		out[i] = column{head: b.w("head." + k), align: align}
	}
	return out
}

// summary is the table of all tests over the full width.
func (b *builder) summary() []section {
	t := table{cols: b.heads("test", "criterion", "source", ">reading", ">expanded", "decision", "remark")}
	missing := "–"
	add := func(r ...string) { t.rows = append(t.rows, r) }
	if p := b.rec.Pressure; p != nil {
		crit := missing
		if p.MaxChange.Finite() {
			crit = b.w("criterion.max_change", "change", b.agreedChange(p.MaxChange))
		}
		add(b.w("test.pressure"), crit, b.w("source.job"), b.changeText(p.Change), b.expandedPressure(p.U), bold(b.decisionWord(p.Decision)), b.pressureRemark(p))
	} else {
		add(b.w("test.pressure"), missing, missing, b.w("missing.recorded"), missing, missing, missing)
	}
	b.summaryHold(&t)
	if s := b.rec.Startup; s != nil {
		add(b.w("test.startup"), b.w("criterion.startup"), missing, missing, missing, missing, or(b.judgements(s), missing))
	} else {
		add(b.w("test.startup"), missing, missing, b.w("missing.recorded"), missing, missing, missing)
	}
	return []section{{wide: true, blocks: []block{t, para{text: b.unjudged(), st: b.sc.note}}}}
}

// judgements names the start-up's quantities by what was decided on them.
func (b *builder) judgements(s *record.Startup) string {
	var words []string
	names := map[string][]string{}
	for _, r := range s.Rows {
		d := b.decisionWord(r.Decision)
		if names[d] == nil {
			words = append(words, d)
		}
		names[d] = append(names[d], b.judgedName(r.Name))
	}
	for i, d := range words {
		words[i] = bold(d) + ": " + join(", ", names[d]...)
	}
	return join("; ", words...)
}

// unjudged names what has no criterion in one line.
func (b *builder) unjudged() string {
	missing := b.w("missing.recorded")
	pull, charge, leak := missing, missing, missing
	if pd := b.rec.PullDown; pd != nil {
		pull = b.w("remark.lowest", "level", b.p.point(pd.Lowest, b.p.sys.Vacuum))
	}
	if c := b.rec.Charge; c != nil {
		charge = b.p.mass(plainOrNil(firstValue(c.Total, c.Added)))
	}
	var checks []string
	for _, l := range b.rec.Leaks {
		checks = append(checks, join(", ", b.stage(l.Stage), clean(l.Result), labelled(b.w("sensitivity"), clean(l.Sensitivity))))
	}
	if len(checks) > 0 {
		leak = join("; ", checks...)
	}
	return b.w("summary.unjudged", "pulldown", pull, "leak", leak, "charge", charge)
}

func (b *builder) summaryHold(t *table) {
	missing := "–"
	h := b.rec.Hold
	if h == nil {
		t.rows = append(t.rows, []string{b.w("test.hold"), missing, missing, b.w("missing.recorded"), missing, bold(b.decisionWord("not determined")), missing})
		return
	}
	cause := b.w("remark.cause", "cause", b.w("answer.cause."+b.cause()))
	if b.inflow() && h.Cause != "leak" && h.Cause != "leak and moisture" {
		cause += "; " + b.w("remark.inflow")
	}
	list := h.Criteria
	if len(list) == 0 && h.Criterion != nil {
		list = []record.Criterion{*h.Criterion}
	}
	if len(list) == 0 {
		t.rows = append(t.rows, []string{b.w("test.hold"), b.w("criterion.none"), missing, b.levelOr(firstValue(h.ReadingAtLimit, h.EndPressure)), b.expanded(h.StandardUncertainty), bold(b.decisionWord(b.decision())), cause})
	}
	for i, c := range list {
		test, source := b.w("test.hold"), or(b.source(c.Source), b.w("source.job"))
		if i > 0 {
			t.joined = with(t.joined, len(t.rows))
			test, cause = "", ""
			if c.Source == list[i-1].Source {
				source = ""
			}
		}
		d := or(c.Decision, b.decision())
		reading, u := c.Reading, c.U
		if reading == nil && c.What != "reach" && c.What != "max_rise" {
			reading, u = h.ReadingAtLimit, h.StandardUncertainty
		}
		decision := bold(b.decisionWord(d))
		if c.Comparison {
			decision = b.w("criterion.comparison", "decision", b.decisionWord(d))
		}
		text := c
		text.Source = ""
		t.rows = append(t.rows, []string{test, b.criterionText(&text), source, b.readingWith(reading, u), b.expanded(u), decision, cause})
	}
}

// readingWith prints a reading to the place of its uncertainty.
func (b *builder) readingWith(v, u *record.Value) string {
	if !v.Finite() || !u.Finite() || u.V <= 0 {
		return b.levelOr(v)
	}
	vac := b.p.sys.Vacuum
	return withUnit(b.p.number(v.V, vac, min(quantity.Places(1.96*u.V, vac), b.p.gaugePlaces(vac))), vac)
}

func firstValue(vs ...*record.Value) *record.Value {
	for _, v := range vs {
		if v.Finite() {
			return v
		}
	}
	return nil
}

func plainOrNil(v *record.Value) *record.Value {
	if !v.Finite() {
		return nil
	}
	return plainOf(v)
}

// expanded is U at 95 % in vacuum units.
func (b *builder) expanded(u *record.Value) string {
	if !u.Finite() {
		return "–"
	}
	return b.asRead(record.Plain(1.96*u.V, u.Unit))
}

func (b *builder) open() []section {
	t := table{cols: b.heads("what", "settles")}
	for _, n := range b.openNotes() {
		what := b.note(n, "")
		if name := b.wordOr("open."+n.Code, ""); name != "" {
			if i := strings.Index(what, ": "); i > 0 && i < 80 && b.opt.Language == "en" {
				what = what[i+2:] // the English sentence starts with the name
			}
			what = join(": ", bold(upper(name)), what)
		}
		if n.Code == "operating-pressure" && n.Text == "" {
			what = bold(upper(b.w("open.operating-pressure"))) + ": " + b.w("fixed.hold_why")
		}
		t.rows = append(t.rows, []string{what, or(b.settle(n), b.w("open.unknown"))})
	}
	return []section{b.titled("open", t)}
}

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
		t.rows = append(t.rows, []string{bold(b.w("pressure.change")), b.p.duration(firstValue(p.Duration, within(p.Start, p.End))), bold(b.changeNumber(p.Change)), "–"})
	}
	if p.U.Finite() {
		t.rows = append(t.rows, []string{b.w("pressure.u"), "", "±" + nb + b.changeNumber(record.Plain(1.96*p.U.V, "Pa")), "–"})
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
	parts := []string{bold(b.w("pressure.decision", "decision", b.decisionWord(p.Decision)))}
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

func (b *builder) expandedPressure(u *record.Value) string {
	if !u.Finite() {
		return "–"
	}
	return b.changeText(record.Plain(1.96*u.V, "Pa"))
}

// changeText is a change of pressure to the places that a pressure has.
func (b *builder) changeText(v *record.Value) string {
	if !v.Finite() {
		return b.w("missing.recorded")
	}
	u, _ := b.p.gauge()
	return withUnit(b.changeNumber(v), differenceUnit(u))
}

func (b *builder) agreedChange(v *record.Value) string {
	u, _ := b.p.gauge()
	d := differenceUnit(u)
	return withUnit(b.p.agreed(v.V, d), d)
}

func (b *builder) pressureRemark(p *record.Pressure) string {
	if p.From != "readings" {
		return b.w("pressure.stated")
	}
	return or(b.note(p.Note, p.DecisionReason), "–")
}

func (b *builder) boundary() []section {
	y := b.rec.Job.Boundary
	missing := bold(b.w("missing.given"))
	list := func(v []string) string {
		if len(v) == 0 {
			return missing
		}
		out := make([]string, len(v))
		for i := range v {
			out[i] = b.term(v[i])
		}
		return join(", ", out...)
	}
	cores := missing
	if y.CoresRemoved != nil {
		cores = b.yesNo(*y.CoresRemoved)
	}
	place := missing
	if y.GaugeAt != "" {
		place = b.wordOr("gauge."+y.GaugeAt, clean(y.GaugeAt))
	}
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}, rows: [][]string{
		{b.w("boundary.included"), list(y.Included)}, {b.w("boundary.excluded"), list(y.Excluded)},
		{b.w("boundary.valves"), or(clean(y.Valves), missing)}, {b.w("boundary.isolated"), or(clean(y.IsolatedAt), missing)},
		{b.w("boundary.gauge"), place}, {b.w("boundary.cores"), cores}}}
	sys := b.rec.Job.System
	if sys.Volume.Finite() {
		t.rows = append(t.rows, []string{b.w("boundary.volume"), join(", ", b.p.volume(sys.Volume), b.wordOr("volume."+sys.VolumeFrom, clean(sys.VolumeFrom)))})
	} else {
		t.rows = append(t.rows, []string{b.w("boundary.volume"), missing})
	}
	for _, l := range sys.Lines {
		text := clean(l.Text)
		if l.Volume.Finite() {
			text = join(": ", text, b.p.volume(l.Volume))
		}
		t.rows = append(t.rows, []string{or(b.term(l.Role), b.w("boundary.line")), text})
	}
	return []section{b.titled("boundary", t)}
}

func (b *builder) yesNo(v bool) string {
	if v {
		return b.w("yes")
	}
	return b.w("no")
}

func (b *builder) instruments() []section {
	if len(b.rec.Instruments) == 0 {
		return b.absent("instruments")
	}
	t := table{cols: b.heads("id", "measures", "serial", "accuracy", "calibrated", "due")}
	for _, i := range b.rec.Instruments {
		missing := bold(b.w("missing.given"))
		due := or(b.dateOr(i.Due), missing)
		if i.Overdue {
			due = bold(join(" ", due, b.w("overdue")))
		}
		measures := join(", ", b.wordOr("measures."+i.Measures, clean(i.Measures)), b.term(i.Principle))
		if b.t.Audience == "inspector" {
			measures = join(", ", measures, b.measure(i.Range))
		}
		acc := b.measure(i.Accuracy)
		if b.t.Audience == "inspector" {
			acc = join("; ", acc, labelled(b.w("resolution"), b.measure(i.Resolution)))
		}
		cal := or(b.dateOr(i.Calibrated), missing)
		if i.Certificate != "" && b.t.Audience == "inspector" {
			cal += ", " + clean(i.Certificate)
		}
		t.rows = append(t.rows, []string{clean(i.ID), or(measures, missing), or(clean(i.Serial), missing), or(acc, missing), cal, due})
	}
	return []section{b.titled("instruments", t)}
}

// measure is a quantity or range as it was written, in the reader's language:
// only words of units change.
func (b *builder) measure(s string) string {
	s = clean(s)
	if b.opt.Language != "en" {
		s = micron.ReplaceAllString(s, b.w("unit.micron"))
		s = strings.ReplaceAll(s, " to ", " "+b.w("measure.to")+" ")
		for _, of := range []string{"of range", "of reading"} {
			s = strings.ReplaceAll(s, of, b.term(of))
		}
	}
	return bound(s)
}

var micron = regexp.MustCompile(`\bmicrons?\b`)

var unitAfter = regexp.MustCompile(`(\d) (%|°|[µΩA-Za-z]+)`)

// bound keeps a number that was written with its unit on one line.
func bound(s string) string {
	return unitAfter.ReplaceAllStringFunc(s, func(q string) string {
		if n, u, _ := strings.Cut(q, " "); u != "to" && u != "a" && u != "x" && u != "of" {
			return n + nb + u
		}
		return q
	})
}

func (b *builder) dateOr(s string) string { return clean(s) }

func (b *builder) inputs() []section {
	if len(b.rec.Inputs) == 0 {
		return b.absent("inputs")
	}
	t := table{cols: b.heads("file", ">rows", ">used", ">left_out", ">order", ">step", "unit", "sha")}
	for _, in := range b.rec.Inputs {
		step := "–"
		if in.Interval.Finite() {
			step = b.p.duration(in.Interval)
		}
		var why []string
		for _, c := range []struct {
			n   int
			key string
		}{{in.OverRange, "over"}, {in.UnderRange, "under"}, {in.NotANumber, "nan"}, {in.Duplicates, "duplicates"}, {in.Unused, "unused"}} {
			if c.n > 0 {
				why = append(why, b.p.count(c.n)+nb+b.w("rows."+c.key))
			}
		}
		left := join(", ", why...)
		sha := in.SHA256
		if len(sha) > 16 {
			sha = fours(sha[:16])
		}
		name := clean(in.File)
		if in.Sheet != "" {
			name += ", " + b.w("sheet") + " " + clean(in.Sheet)
		}
		t.rows = append(t.rows, []string{name, b.p.count(in.Rows), b.p.count(in.Used), or(left, "0"),
			b.p.count(in.OutOfOrder) + nb + "/" + nb + b.p.count(in.Gaps), step, b.measure(or(in.PressureUnit, "–")), sha})
	}
	return []section{b.titled("inputs", t)}
}

func (b *builder) attempts() []section {
	if len(b.rec.Attempts) == 0 {
		return nil
	}
	var blocks []block
	for i, a := range b.rec.Attempts {
		t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}}
		add := func(key, v string) {
			if v != "" {
				t.rows = append(t.rows, []string{b.w(key), v})
			}
		}
		when := ""
		if a.Hold != nil {
			h := a.Hold
			when = b.p.between(h.Start, h.End)
			add("attempt.pressures", join(" – ", b.levelOr(h.StartPressure), b.levelOr(h.EndPressure)))
			add("attempt.decision", join(": ", b.decisionWord(h.Decision), b.note(h.DecisionNote, h.DecisionReason)))
			add("attempt.cause", join(": ", b.w("answer.cause."+or(h.Cause, "not determined")), b.causeText(h)))
			if h.LeakRate.Finite() {
				add("attempt.inflow", b.p.flow(h.LeakRate))
			}
		}
		if p := a.Pressure; p != nil {
			when = b.p.between(p.Start, p.End)
			add("pressure.change", b.p.pressureChange(p.Change))
			add("attempt.decision", join(": ", b.decisionWord(p.Decision), b.note(p.Note, p.DecisionReason)))
		}
		add("attempt.finding", clean(or(a.Finding, b.w("missing.given"))))
		add("attempt.repair", clean(or(a.Repair, b.w("missing.given"))))
		blocks = append(blocks, keep{para{text: bold(b.w("attempt.title", "number", b.p.count(i+1), "test", b.w("test."+a.Test))) + "  " + when, st: b.sc.body}}, t, gap(4))
	}
	return []section{b.titled("attempts", blocks...)}
}

func (b *builder) stage(s string) string {
	return b.wordOr("stage."+s, clean(s))
}

func (b *builder) leakchecks() []section {
	if len(b.rec.Leaks) == 0 {
		return b.absent("leakchecks")
	}
	t := table{cols: b.heads("stage", "method", "place", "sensitivity", "result")}
	missing := b.w("missing.given")
	for _, l := range b.rec.Leaks {
		t.rows = append(t.rows, []string{or(b.stage(l.Stage), missing), clean(or(join(", ", l.Method, l.Detector), missing)), clean(or(l.Place, missing)), clean(or(l.Sensitivity, missing)), clean(or(l.Result, missing))})
	}
	return []section{b.titled("leakchecks", t)}
}

func (b *builder) recovery() []section {
	r := b.rec.Recovery
	if r == nil {
		return nil
	}
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}}
	add := func(key, v string) { t.rows = append(t.rows, []string{b.w(key), v}) }
	add("recovery.refrigerant", clean(or(r.Refrigerant, b.w("missing.given"))))
	add("recovery.mass", b.p.mass(r.Mass))
	add("recovery.level", b.p.pressure(r.Level))
	if r.Required.Finite() {
		add("recovery.required", b.p.pressure(r.Required))
	}
	add("recovery.cylinder", clean(or(r.Cylinder, b.w("missing.given"))))
	if r.Decision != "" {
		add("attempt.decision", join(": ", b.decisionWord(r.Decision), b.note(r.Note, ""), b.term(r.Source)))
	}
	return []section{b.titled("recovery", t)}
}

func (b *builder) events() []section {
	if len(b.rec.Events) == 0 {
		return nil
	}
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}}
	for _, e := range b.rec.Events {
		t.rows = append(t.rows, []string{b.p.moment(e.Time), clean(e.What)})
	}
	return []section{b.titled("events", t)}
}

// where tells what a note is about: a part of the record, perhaps with its
// number, or a place in a file.
func (b *builder) where(s string) string {
	if i := strings.LastIndexByte(s, ' '); i > 0 && strings.Trim(s[i+1:], "0123456789") == "" {
		return b.term(s[:i]) + nb + s[i+1:]
	}
	return b.term(s)
}

func (b *builder) warnings() []section {
	if len(b.rec.Warnings) == 0 {
		return nil
	}
	var blocks []block
	for i := range b.rec.Warnings {
		n := &b.rec.Warnings[i]
		text, ok := noteText(b, n.Code, n)
		switch {
		case ok:
		case b.opt.Language == "en":
			text = strings.TrimPrefix(clean(n.Text), clean(n.Where)+": ")
		default:
			text = b.w("warning.unknown", "code", clean(n.Code))
		}
		text = sentence(text)
		if n.Where != "" {
			text += " (" + b.where(n.Where) + ")"
		}
		blocks = append(blocks, para{text: text, st: b.sc.body})
	}
	return []section{b.titled("warnings", blocks...)}
}
