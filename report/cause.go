package report

import (
	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

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
	return b.p.withUnit(b.p.number(v.V, perMin, max(digits(v.V, perMin)-1, 0)), u)
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
