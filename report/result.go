package report

import (
	"slices"
	"sort"
	"strings"

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

func plainOf(v *record.Value) *record.Value { return record.Plain(v.V, v.Unit) }

// headline tells the decision and, always beside it, the cause.
func (b *builder) headline() string {
	d := b.decision()
	if b.inflow() {
		switch {
		case record.Passes(d):
			return b.w("headline.pass_inflow")
		case record.Fails(d):
			return b.w("headline.fail_inflow")
		}
		return b.w("headline.open_inflow", "reason", b.decisionReason())
	}
	if d == "not determined" {
		return b.w("headline.open", "reason", b.decisionReason())
	}
	head := b.w("headline."+d, "reading", b.readingAtLimit(), "limit", b.limitText(b.rec.Hold.Limit))
	if c := b.deciding(); c != nil && d == "fail" {
		head = b.w("headline.fail_"+c.What, "reading", b.atLeast(b.readingOf(*c), c.AtLeast), "limit", b.agreedLevel(c.Limit))
	}
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
	case record.Fails(d):
		parts = append(parts, bold(b.w("act.fail")))
	case d == "not determined":
		act := b.w("act.repeat")
		if h := b.rec.Hold; h != nil && h.DecisionNote != nil && b.t.Has("act."+h.DecisionNote.Code) {
			act = b.w("act." + h.DecisionNote.Code)
		} else if h != nil && h.LongerHold.Finite() {
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
		return b.pressureDecision(a.Pressure)
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
