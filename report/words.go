package report

import (
	"strings"

	"dryhold/analysis/record"
	"dryhold/templates"
)

func (b *builder) wordOr(key, fallback string) string {
	if b.t.Has(key) {
		return b.w(key)
	}
	return fallback
}

func or(s, fallback string) string {
	if s == "" {
		return fallback
	}
	return s
}

func labelled(label, s string) string {
	if s == "" {
		return ""
	}
	return label + nb + s
}

// join joins what is not empty.
func join(sep string, parts ...string) string {
	var out []string
	for _, p := range parts {
		if p != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, sep)
}

// term is a text of the analysis in the reader's language.
func (b *builder) term(s string) string { return templates.Term(b.opt.Language, clean(s)) }

// note is the text of a coded statement in the reader's language.
func (b *builder) note(n *record.Note, fallback string) string {
	if n == nil {
		return clean(fallback)
	}
	if text, ok := noteText(b, n.Code, n); ok {
		return text
	}
	return clean(or(n.Text, fallback))
}

// settle is what would settle an open point. For cause and decision it depends on
// why they are open.
func (b *builder) settle(n *record.Note) string {
	key := n.Code + ".settle"
	if h := b.rec.Hold; h != nil {
		why, facts := "", []string(nil)
		switch {
		case n.Code == "cause" && h.LongerHold.Finite():
			why, facts = "longer", []string{"duration", b.p.duration(h.LongerHold)}
		case n.Code == "cause" && h.CauseNote != nil && h.CauseNote.Code == "too-few-readings":
			why = h.CauseNote.Code
		case n.Code == "cause" && b.rec.Job.Boundary.GaugeAt == "far end":
			why = "far-end"
		case n.Code == "decision" && h.Criterion == nil:
			why = "no-criterion"
		case n.Code == "decision" && h.DecisionNote != nil:
			why = h.DecisionNote.Code
		}
		if text, ok := noteText(b, key+"."+why, n, facts...); ok {
			return text
		}
	}
	if text, ok := noteText(b, key, n); ok {
		return text
	}
	return clean(n.Settle)
}
