package report

import (
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// summary is the table of all tests over the full width.
func (b *builder) summary() []section {
	t := table{cols: b.heads("test", "criterion", "source", ">reading", ">expanded", "decision", "remark")}
	missing := "–"
	add := func(r ...string) { t.rows = append(t.rows, r) }
	if p := b.rec.Pressure; p != nil {
		crit, source := missing, missing
		if p.MaxChange.Finite() {
			crit, source = b.w("criterion.max_change", "change", b.agreedChange(p.MaxChange)), b.w("source.job")
		}
		add(b.w("test.pressure"), crit, source, b.corrected(p), b.expandedPressure(p.U), bold(b.pressureDecision(p)), b.pressureRemark(p))
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
		t.rows = append(t.rows, []string{b.w("test.hold"), b.w("criterion.none"), missing, b.atLeast(b.levelOr(firstValue(h.ReadingAtLimit, h.EndPressure)), h.AtLeast), b.expanded(h.StandardUncertainty), bold(b.decisionWord(b.decision())), cause})
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
		if c.Reading == nil && c.What != "reach" && c.What != "max_rise" {
			c.Reading, c.U, c.AtLeast = h.ReadingAtLimit, h.StandardUncertainty, h.AtLeast
		}
		decision := bold(b.decisionWord(d))
		if c.Comparison {
			decision = b.w("criterion.comparison", "decision", b.decisionWord(d))
		}
		text := c
		text.Source = ""
		t.rows = append(t.rows, []string{test, b.criterionText(&text), source, b.atLeast(b.readingOf(c), c.AtLeast), b.expanded(c.U), decision, cause})
	}
}

// readingOf prints what was read of a criterion, to the place of its uncertainty.
func (b *builder) readingOf(c record.Criterion) string {
	if !c.Reading.Finite() || !c.U.Finite() || c.U.V <= 0 {
		return b.levelOr(c.Reading)
	}
	guard := (*record.Value)(nil)
	if h := b.rec.Hold; h != nil && !c.Comparison && c.What != "reach" && c.What != "max_rise" {
		guard = h.GuardBand
	}
	vac := b.p.sys.Vacuum
	k, _ := b.apart(c.Reading, c.U, c.Limit, guard)
	return b.p.withUnit(b.p.number(c.Reading.V, vac, k), vac)
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
	return b.asRead(record.Plain(quantity.K95*u.V, u.Unit))
}

func (b *builder) open() []section {
	t := table{cols: b.heads("what", "settles")}
	for _, n := range b.openNotes() {
		name, what := b.wordOr("open."+n.Code, ""), b.note(n, "")
		switch h := b.rec.Hold; {
		case h != nil && n.Code == "cause" && h.CauseNote != nil:
			what = b.causeText(h)
		case h != nil && n.Code == "decision":
			what = b.decisionReason()
		case name != "" && b.opt.Language == "en":
			if _, rest, ok := strings.Cut(what, ": "); ok && len(what)-len(rest) < 80 {
				what = rest // the English sentence starts with the name
			}
		}
		if name != "" {
			what = join(": ", bold(upper(name)), what)
		}
		if n.Code == "operating-pressure" && n.Text == "" {
			what = bold(upper(b.w("open.operating-pressure"))) + ": " + b.w("fixed.hold_why")
		}
		t.rows = append(t.rows, []string{what, or(b.settle(n), b.w("open.unknown"))})
	}
	return []section{b.titled("open", t)}
}
