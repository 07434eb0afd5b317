package report

import (
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

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
		switch {
		case h.AtLeast:
			key = "evidence.over_range"
		case !h.Limit.Finite():
			key = "evidence.reading"
		case !h.GuardBand.Finite():
			key = "evidence.limit"
		case h.GuardBand.V >= h.Limit.V:
			key = "evidence.too_wide"
		}
		end := or(h.LimitAt, h.End)
		if d := within(end, h.End); d.Finite() && d.V < 0 {
			end = h.End
		}
		from, to := b.p.clocks(or(h.SettleEnd, h.Start), end)
		facts := []string{"duration", b.p.duration(within(h.Start, end)), "reading", b.plusMinus(h),
			"limit", b.limitText(h.Limit), "guard", b.guard(h), "u", b.deltaOr(h.StandardUncertainty), "acceptance", b.acceptance(h),
			"start", from, "end", to}
		a.evidence = b.w(key, facts...)
	}
	if parts := b.parts(h); !h.Limit.Finite() && parts != "" {
		a.evidence = join(" ", sentence(parts), a.evidence)
	} else if c := b.deciding(); c != nil {
		a.evidence = join(" ", sentence(b.part(*c)), a.evidence)
	}
	if d == "not determined" {
		a.evidence = join(" ", sentence(b.decisionReason()), a.evidence)
	}
	return a
}

// atLeast says of a reading over the gauge's range that it was that or more.
func (b *builder) atLeast(reading string, over bool) string {
	if !over {
		return reading
	}
	return b.w("value.at_least", "value", reading)
}

func (b *builder) levelOr(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	return b.p.level(v)
}

// plusMinus prints the reading at the limit ± U at 95 %, U = 1.96 u.
func (b *builder) plusMinus(h *record.Hold) string {
	y, u, in := h.ReadingAtLimit, h.StandardUncertainty, b.p.sys.Vacuum
	if !u.Finite() || u.V <= 0 {
		return b.p.point(y, in)
	}
	k, _ := b.apart(y, u, h.Limit, h.GuardBand)
	half := record.Plain(quantity.K95*u.V, u.Unit)
	return b.p.withUnit(b.p.number(y.V, in, k)+nb+"±"+nb+b.p.number(half.V, plainUnit(in), b.readPlaces(half)), in)
}

// guard prints the guard band: with two figures for who checks the numbers,
// else as the gauge reads.
func (b *builder) guard(h *record.Hold) string {
	if !h.GuardBand.Finite() {
		return "–"
	}
	u, n := plainUnit(b.p.sys.Vacuum), b.bandPlaces(h)
	if b.t.Audience == "inspector" {
		n = max(n, quantity.Places(h.GuardBand.V, u))
	}
	return b.p.withUnit(b.p.number(h.GuardBand.V, u, n), u)
}

// bandPlaces are the decimals of the guard band, and of the limit less it.
func (b *builder) bandPlaces(h *record.Hold) int {
	if !h.ReadingAtLimit.Finite() || !h.StandardUncertainty.Finite() {
		return b.readPlaces(h.GuardBand)
	}
	_, n := b.apart(h.ReadingAtLimit, h.StandardUncertainty, h.Limit, h.GuardBand)
	return n
}

// asRead prints a difference of vacuum pressures with no more decimals than the gauge.
func (b *builder) asRead(v *record.Value) string {
	u := plainUnit(b.p.sys.Vacuum)
	return b.p.withUnit(b.p.number(v.V, u, b.readPlaces(v)), u)
}

func (b *builder) deltaOr(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	u := plainUnit(b.p.sys.Vacuum)
	n := quantity.Places(v.V, u)
	return b.p.withUnit(b.p.number(v.V, u, n), u)
}

// acceptance is the limit less its guard band.
func (b *builder) acceptance(h *record.Hold) string {
	if !h.Limit.Finite() || !h.GuardBand.Finite() {
		return "–"
	}
	u := b.p.sys.Vacuum
	return b.p.withUnit(b.p.number(h.Limit.V-h.GuardBand.V, u, b.bandPlaces(h)), u)
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
	if n := h.DecisionNote; n == nil || !strings.HasPrefix(n.Code, "compared") || len(h.Criteria) < 2 {
		return join(": ", d, b.note(n, h.DecisionReason))
	}
	return join(": ", d, b.parts(h))
}

// parts are all parts of a criterion with what was read and decided.
func (b *builder) parts(h *record.Hold) string {
	var parts []string
	for _, c := range h.Criteria {
		if !c.Comparison && c.Reading.Finite() {
			parts = append(parts, b.part(c))
		}
	}
	return join("; ", parts...)
}

// part is one part of a criterion with what was read and decided.
func (b *builder) part(c record.Criterion) string {
	c.Text, c.Source = c.What, ""
	return b.w("criterion.judged", "criterion", b.criterionText(&c), "reading", b.atLeast(b.readingOf(c), c.AtLeast), "decision", b.decisionWord(c.Decision))
}

// deciding is the part of the criterion for which the hold did not pass, where
// that is another than the limit; nil else.
func (b *builder) deciding() *record.Criterion {
	h := b.rec.Hold
	if h == nil || h.Decision == "pass" || h.Decision == "not determined" {
		return nil
	}
	var found *record.Criterion
	for i := range h.Criteria {
		c := &h.Criteria[i]
		switch {
		case c.Comparison || c.Decision != h.Decision || !c.Reading.Finite() || !c.Limit.Finite():
		case c.What == "limit":
			return nil
		case found == nil && b.t.Has("headline.fail_"+c.What):
			found = c
		}
	}
	return found
}

// asWritten tells the levels that were agreed in the other system's unit, where
// they are round in that one only: 66.7 Pa = 500 micron.
func (b *builder) asWritten(h *record.Hold) string {
	own, other := b.p.sys.Vacuum, b.system("us").Vacuum
	if b.p.sys.Name == "us" {
		other = b.system("si").Vacuum
	}
	var parts []string
	for _, c := range h.Criteria {
		if c.Limit.Finite() && !c.Comparison && !exact(own.From(c.Limit.V), 1) && exact(other.From(c.Limit.V), 0) {
			parts = append(parts, b.agreedLevel(c.Limit)+nb+"="+nb+b.p.withUnit(b.p.agreed(c.Limit.V, other), other))
		}
	}
	return join(", ", parts...)
}

func (b *builder) limitText(v *record.Value) string {
	if !v.Finite() {
		return "–"
	}
	return b.agreedLevel(v)
}

func (b *builder) agreedLevel(v *record.Value) string {
	return b.p.withUnit(b.p.agreed(v.V, b.p.sys.Vacuum), b.p.sys.Vacuum)
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
