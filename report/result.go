package report

import (
	"slices"
	"sort"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/templates"
)

// noteText fills a note's wording; in English a note without one keeps its text.
func noteText(b *builder, code string, n *record.Note, facts ...string) (string, bool) {
	for _, k := range sortedKeys(n.Facts) {
		facts = append(facts, k, b.fact(n.Code, k, n.Facts[k]))
	}
	for _, k := range sortedKeys(n.Names) {
		facts = append(facts, k, clean(n.Names[k]))
	}
	return templates.Note(b.opt.Language, code, facts...)
}

// causeText is why a cause was named or not, in the reader's units.
func (b *builder) causeText(h *record.Hold) string {
	if h.CauseNote == nil {
		return clean(h.CauseReason)
	}
	var facts []string
	u := plainUnit(b.p.sys.Vacuum)
	add := func(name string, v *record.Value) {
		switch {
		case !v.Finite():
		case v.Confidence > 0:
			facts = append(facts, name, b.p.delta(v), name+"_high", b.p.two(record.Plain(v.High, v.Unit), u))
		default:
			facts = append(facts, name, b.p.two(v, u))
		}
	}
	add("leak", h.LeakPart)
	add("moisture", h.MoistureRise)
	add("rise", h.Rise)
	add("threshold", h.Threshold)
	if d := within(h.Start, h.SettleEnd); d.Finite() {
		facts = append(facts, "settle", b.p.duration(d))
	}
	if d := within(h.Start, h.End); d.Finite() {
		facts = append(facts, "length", b.p.duration(d))
	}
	if b.t.Audience == "homeowner" {
		if text, ok := noteText(b, h.CauseNote.Code+".plain", h.CauseNote, facts...); ok {
			return text
		}
	}
	if text, ok := noteText(b, h.CauseNote.Code, h.CauseNote, facts...); ok {
		return text
	}
	return b.note(h.CauseNote, h.CauseReason)
}

// factUnit tells the unit of a fact that the record carries as a bare number.
var factUnit = map[string]string{"held": "s", "asked": "s", "reading": "Pa", "limit": "Pa", "guard": "Pa", "highest": "Pa", "design": "Pa", "top": "Pa"}

func (b *builder) fact(code, name string, v *record.Value) string {
	if u := factUnit[name]; v != nil && v.Unit == "1" && u != "" && code != "too-few-evacuations" {
		w := *v
		w.Unit = u
		v = &w
	}
	return b.p.any(v)
}

func sortedKeys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	sort.Strings(out)
	return out
}

func passes(d string) bool { return d == "pass" || d == "conditional pass" }
func fails(d string) bool  { return d == "fail" || d == "conditional fail" }

// decision of the deciding hold; "not determined" without one that is known here.
func (b *builder) decision() string {
	if b.rec.Hold == nil || !b.t.Has("answer.decision."+b.rec.Hold.Decision) {
		return "not determined"
	}
	return b.rec.Hold.Decision
}

func (b *builder) cause() string {
	if b.rec.Hold == nil || !b.t.Has("answer.cause."+b.rec.Hold.Cause) {
		return "not determined"
	}
	return b.rec.Hold.Cause
}

func (b *builder) inflow() bool { return b.rec.Hold != nil && b.rec.Hold.Inflow }

func (b *builder) decisionReason() string {
	h := b.rec.Hold
	if h == nil {
		return b.w("reason.no_hold")
	}
	return or(b.note(h.DecisionNote, h.DecisionReason), b.w("reason.none"))
}

// smallest is the inflow that the hold could have shown.
func (b *builder) smallest() string {
	h := b.rec.Hold
	if b.t.Audience != "homeowner" && h.SmallestLeak.Finite() {
		return b.p.flow(plainOf(h.SmallestLeak))
	}
	if h.SmallestRise.Finite() {
		if b.t.Audience == "homeowner" {
			return b.w("rate.spoken", "rate", b.perMinute(h.SmallestRise))
		}
		return b.p.point(h.SmallestRise, b.p.sys.Rate)
	}
	return b.w("size.unknown")
}

// perMinute is a rate of rise as a pressure that is added every minute.
func (b *builder) perMinute(v *record.Value) string {
	u := b.p.sys.Vacuum
	perMin := quantity.Unit{Name: u.Name, Scale: u.Scale / 60}
	return withUnit(b.p.number(v.V, perMin, max(digits(v.V, perMin)-1, 0)), u)
}

func plainOf(v *record.Value) *record.Value { return record.Plain(v.V, v.Unit) }

// headline tells the decision and, always beside it, the cause.
func (b *builder) headline() string {
	d := b.decision()
	if b.inflow() {
		switch {
		case passes(d):
			return b.w("headline.pass_inflow")
		case fails(d):
			return b.w("headline.fail_inflow")
		}
		return b.w("headline.open_inflow", "reason", b.decisionReason())
	}
	if d == "not determined" {
		return b.w("headline.open", "reason", b.decisionReason())
	}
	head := b.w("headline."+d, "reading", b.p.level(b.rec.Hold.ReadingAtLimit), "limit", b.limitText(b.rec.Hold.Limit))
	switch b.cause() {
	case "none":
		return head + " " + b.w("headline.cause_none", "smallest", b.smallest())
	case "moisture":
		return head + " " + b.w("headline.cause_moisture")
	}
	return head + " " + b.w("headline.cause_open")
}

// answers are the three cells: criterion, cause, not determined.
func (b *builder) answers() [3]answer {
	return [3]answer{b.criterionAnswer(), b.causeAnswer(), b.openAnswer()}
}

func (b *builder) criterionAnswer() answer {
	h := b.rec.Hold
	d := b.decision()
	a := answer{label: b.w("answer.criterion"), text: b.w("answer.decision." + d)}
	if h == nil {
		a.evidence = b.w("evidence.no_hold")
		return a
	}
	if c := h.Criterion; c != nil && b.t.Audience != "homeowner" {
		a.label = b.w("answer.criterion_of", "criterion", b.agreedText(h))
	}
	if h.ReadingAtLimit.Finite() {
		key := "evidence.criterion"
		if !h.Limit.Finite() {
			key = "evidence.reading"
		} else if !h.GuardBand.Finite() {
			key = "evidence.limit"
		}
		end := or(h.LimitAt, h.End)
		if d := within(end, h.End); d.Finite() && d.V < 0 {
			end = h.End
		}
		facts := []string{"duration", b.p.duration(within(h.Start, end)), "reading", b.p.plusMinus(h.ReadingAtLimit, h.StandardUncertainty, b.p.sys.Vacuum),
			"limit", b.limitText(h.Limit), "guard", b.guard(h), "u", b.deltaOr(h.StandardUncertainty), "acceptance", b.acceptance(h),
			"start", b.p.clock(or(h.SettleEnd, h.Start)), "end", b.p.clock(end)}
		a.evidence = b.w(key, facts...)
	}
	if d == "not determined" {
		a.evidence = join(" ", sentence(b.decisionReason()), a.evidence)
	}
	return a
}

func (b *builder) levelOr(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	return b.p.level(v)
}

// guard prints the guard band: with two figures for who checks the numbers,
// else as the gauge reads.
func (b *builder) guard(h *record.Hold) string {
	if b.t.Audience == "inspector" || !h.GuardBand.Finite() {
		return b.deltaOr(h.GuardBand)
	}
	return b.asRead(h.GuardBand)
}

// asRead prints a difference of vacuum pressures with no more decimals than the gauge.
func (b *builder) asRead(v *record.Value) string {
	u := plainUnit(b.p.sys.Vacuum)
	return withUnit(b.p.number(v.V, u, min(quantity.Places(v.V, u), b.p.gaugePlaces(u))), u)
}

func (b *builder) deltaOr(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	u := plainUnit(b.p.sys.Vacuum)
	n := quantity.Places(v.V, u)
	return withUnit(b.p.number(v.V, u, n), u)
}

// acceptance is the limit less its guard band.
func (b *builder) acceptance(h *record.Hold) string {
	if !h.Limit.Finite() || !h.GuardBand.Finite() {
		return "–"
	}
	u := b.p.sys.Vacuum
	return withUnit(b.p.number(h.Limit.V-h.GuardBand.V, u, min(quantity.Places(h.GuardBand.V, u), b.p.gaugePlaces(u))), u)
}

func sentence(s string) string {
	if s == "" {
		return ""
	}
	r := []rune(s)
	if last := r[len(r)-1]; last != '.' && last != '?' && last != '!' {
		s += "."
	}
	return upper(s)
}

func upper(s string) string {
	if s != "" && s[0] >= 'a' && s[0] <= 'z' {
		return string(s[0]-32) + s[1:]
	}
	for _, p := range [][2]string{{"á", "Á"}, {"é", "É"}, {"í", "Í"}, {"ó", "Ó"}, {"ú", "Ú"}, {"ñ", "Ñ"}} {
		if len(s) > 1 && s[:2] == p[0] {
			return p[1] + s[2:]
		}
	}
	return s
}

// criterionText is what was agreed and where it comes from.
func (b *builder) criterionText(c *record.Criterion) string {
	text := c.Text
	foreign := b.opt.Language != "en" || b.p.sys.Name != "us"
	if key := "criterion." + c.What; (text == c.What || text == "" || foreign) && c.Limit.Finite() && b.t.Has(key) {
		text = b.w(key, "limit", b.agreedLevel(c.Limit))
		if m := b.agreedMinutes(c); m != "" && c.What != "reach" {
			text += ", " + m
		}
	}
	return clean(join("; ", text, b.source(c.Source)))
}

// source names where a criterion comes from.
func (b *builder) source(s string) string {
	if doc, page, ok := strings.Cut(s, ", page "); ok { // a document that the job names
		return clean(doc) + ", " + b.w("source.page", "page", clean(page))
	}
	return b.term(s)
}

// agreedText is the whole criterion: as it was written where it is read in the
// same units and language, else put together from its parts.
func (b *builder) agreedText(h *record.Hold) string {
	c := *h.Criterion
	if b.opt.Language == "en" && b.p.sys.Name == "us" {
		return b.criterionText(&c)
	}
	var parts []string
	for _, q := range h.Criteria {
		if q.Comparison || !b.t.Has("criterion."+q.What) {
			continue
		}
		q.Text, q.Source = q.What, ""
		parts = append(parts, b.criterionText(&q))
	}
	if len(parts) == 0 {
		return b.criterionText(&c)
	}
	return join("; ", join(", ", parts...), b.source(c.Source))
}

// judged is the decision with its reason: for what was compared every part of
// the criterion, since the note tells the part that decides alone.
func (b *builder) judged(h *record.Hold) string {
	d := b.decisionWord(h.Decision)
	if n := h.DecisionNote; n == nil || n.Code != "compared" || len(h.Criteria) < 2 {
		return join(": ", d, b.note(n, h.DecisionReason))
	}
	var parts []string
	for _, c := range h.Criteria {
		if c.Comparison || !c.Reading.Finite() {
			continue
		}
		c.Text, c.Source = c.What, ""
		parts = append(parts, b.w("criterion.judged", "criterion", b.criterionText(&c), "reading", b.readingWith(c.Reading, c.U), "decision", b.decisionWord(c.Decision)))
	}
	return join(": ", d, join("; ", parts...))
}

func (b *builder) limitText(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	return b.agreedLevel(v)
}

func (b *builder) agreedLevel(v *record.Value) string {
	return withUnit(b.p.agreed(v.V, b.p.sys.Vacuum), b.p.sys.Vacuum)
}

func (b *builder) agreedMinutes(c *record.Criterion) string {
	m := c.Minutes
	if h := b.rec.Hold; !m.Finite() && h != nil && h.Criterion != nil {
		m = h.Criterion.Minutes
	}
	if !m.Finite() {
		return ""
	}
	return b.p.duration(m)
}

func (b *builder) causeAnswer() answer {
	h := b.rec.Hold
	a := answer{label: b.w("answer.cause"), text: b.w("answer.cause." + b.cause())}
	if h == nil {
		a.evidence = b.w("evidence.no_hold")
		return a
	}
	home := b.t.Audience == "homeowner"
	var parts []string
	switch c := b.cause(); {
	case home && c == "leak" && h.LeakRise.Finite():
		parts = append(parts, b.w("evidence.leak_plain", "rate", b.perMinute(h.LeakRise)), b.w("fixed.leak"))
	case home && c == "moisture":
		parts = append(parts, b.w("evidence.moisture_plain"), b.w("fixed.moisture"))
	case home && c == "leak and moisture":
		parts = append(parts, b.w("evidence.both_plain"), b.w("fixed.leak"))
	case home && c == "none":
		parts = append(parts, b.w("fixed.none", "smallest", b.smallest()))
	case home:
		parts = append(parts, sentence(b.causeText(h)))
	default:
		parts = b.causeEvidence(h)
	}
	a.evidence = join(" ", parts...)
	return a
}

// causeEvidence is the cause in numbers for an expert.
func (b *builder) causeEvidence(h *record.Hold) []string {
	if b.cause() == "not determined" { // the reason tells both parts
		parts := []string{sentence(b.causeText(h))}
		if b.t.Audience != "warranty" && h.Rise.Finite() {
			parts = append(parts, b.w("evidence.rise", "rise", b.p.delta(h.Rise)))
			if h.LeakRate.Finite() {
				parts = append(parts, b.w("evidence.rate", "rate", b.p.flow(h.LeakRate)))
			}
		}
		return parts
	}
	var parts []string
	if h.LeakPart.Finite() {
		parts = append(parts, b.w("evidence.leak", "part", b.p.delta(h.LeakPart), "rise", b.p.delta(h.Rise)))
		if h.LeakRise.Finite() && h.LeakRise.V > 0 {
			rate := b.p.rate(h.LeakRise)
			if h.LeakRate.Finite() {
				rate += ", " + b.p.flow(h.LeakRate)
			}
			parts = append(parts, b.w("evidence.rate", "rate", rate))
		}
	} else if h.Rise.Finite() {
		parts = append(parts, b.w("evidence.rise", "rise", b.p.delta(h.Rise)))
	}
	if b.t.Audience == "warranty" && b.cause() == "leak" {
		return parts
	}
	if b.t.Audience == "warranty" && b.cause() == "none" {
		return []string{b.w("evidence.rise", "rise", b.p.delta(h.Rise)), b.w("fixed.none", "smallest", b.smallest())}
	}
	if h.MoistureRise.Finite() {
		parts = append(parts, b.w("evidence.moisture", "part", b.p.delta(h.MoistureRise)))
	}
	if h.Threshold.Finite() {
		parts = append(parts, b.w("evidence.threshold", "threshold", b.deltaOr(h.Threshold)))
	}
	if b.cause() == "none" {
		parts = append(parts, b.w("fixed.none", "smallest", b.smallest()))
	}
	return parts
}

// openAnswer is what was not determined; the most important first.
func (b *builder) openAnswer() answer {
	a := answer{label: b.w("answer.open")}
	if b.decision() == "not determined" {
		a.label = b.w("answer.open_else")
	}
	open := b.openNotes()
	var names, ways []string
	for _, n := range open {
		if len(names) < 2 {
			names = append(names, b.openName(n))
		}
		if s := b.settle(n); s != "" && len(ways) < 1 {
			ways = append(ways, strings.TrimSuffix(s, ".")+".")
		}
	}
	a.text = upper(join("; ", names...))
	if b.t.Audience != "homeowner" {
		a.text = join("; ", names...)
	}
	a.evidence = join(" ", b.openExtra(open), join("", b.settleLabel(ways), join(" ", ways...)))
	return a
}

func (b *builder) settleLabel(ways []string) string {
	if len(ways) == 0 {
		return ""
	}
	return b.w("open.settle") + " "
}

func (b *builder) openExtra(open []*record.Note) string {
	if b.t.Audience == "inspector" {
		if len(open) > 2 {
			return b.w("open.more", "count", b.p.count(len(open)-2))
		}
		return ""
	}
	return b.w("fixed.hold_short")
}

// openNotes always hold the tightness under operating pressure, which no hold shows.
func (b *builder) openNotes() []*record.Note {
	var out []*record.Note
	for i := range b.rec.Open {
		n := &b.rec.Open[i]
		if n.Code == "decision" && b.decision() == "not determined" {
			continue
		}
		out = append(out, n)
	}
	if !slices.ContainsFunc(out, func(n *record.Note) bool { return n.Code == "operating-pressure" }) {
		n := &record.Note{Code: "operating-pressure"}
		at := min(1, len(out))
		out = slices.Insert(out, at, n)
	}
	return out
}

// openName is an open point in a few words.
func (b *builder) openName(n *record.Note) string {
	return b.wordOr("open."+n.Code, b.note(n, ""))
}

// act is what the reader should do now, "" where nothing follows.
func (b *builder) act() string {
	var parts []string
	d := b.decision()
	switch {
	case b.inflow():
		parts = append(parts, bold(b.w("act.inflow")))
	case fails(d):
		parts = append(parts, bold(b.w("act.fail")))
	case d == "not determined":
		act := b.w("act.repeat")
		if h := b.rec.Hold; h != nil && h.LongerHold.Finite() {
			act = b.w("act.longer", "duration", b.p.duration(h.LongerHold))
		} else if h != nil && h.Criterion != nil && h.Criterion.Minutes.Finite() {
			act = b.w("act.again", "duration", b.p.duration(h.Criterion.Minutes))
		}
		parts = append(parts, bold(act))
	case b.cause() == "not determined" && b.rec.Hold.LongerHold.Finite():
		parts = append(parts, bold(b.w("act.longer", "duration", b.p.duration(b.rec.Hold.LongerHold))))
	default:
		return ""
	}
	return join(" ", append(parts, b.w("act.keep"))...)
}

func (b *builder) attemptLine() string {
	var parts []string
	for i, a := range b.rec.Attempts {
		parts = append(parts, b.w("attempt.line", "number", b.p.count(i+1), "test", lower(b.w("test."+a.Test)), "result", b.attemptResult(a)))
	}
	return bold(b.w("attempt.this", "number", b.p.count(len(b.rec.Attempts)+1))) + " " + join("; ", parts...) + "."
}

func (b *builder) attemptResult(a record.Attempt) string {
	switch {
	case a.Hold != nil:
		return join(", ", b.decisionWord(a.Hold.Decision), lower(b.wordOr("answer.cause."+a.Hold.Cause, "")))
	case a.Pressure != nil:
		return b.decisionWord(a.Pressure.Decision)
	}
	return b.w("missing.recorded")
}

// lower makes a phrase's first letter small.
func lower(s string) string {
	if s != "" && s[0] >= 'A' && s[0] <= 'Z' {
		return string(s[0]+32) + s[1:]
	}
	return s
}

func (b *builder) decisionWord(d string) string {
	return b.wordOr("decision."+d, b.w("decision.not judged"))
}
