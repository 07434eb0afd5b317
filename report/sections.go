package report

import (
	"strings"
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
			add("attempt.decision", b.judged(h))
			add("attempt.cause", join(": ", b.w("answer.cause."+or(h.Cause, "not determined")), b.causeText(h)))
			if h.LeakRate.Finite() {
				add("attempt.inflow", b.p.flow(h.LeakRate))
			}
		}
		if p := a.Pressure; p != nil {
			when = b.p.between(p.Start, p.End)
			add("pressure.change", b.p.pressureChange(p.Change))
			add("attempt.decision", join(": ", b.pressureDecision(p), b.note(p.Note, p.DecisionReason)))
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
