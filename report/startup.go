package report

import (
	"regexp"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

func (b *builder) charge() []section {
	c := b.rec.Charge
	if c == nil {
		return b.absent("charge")
	}
	t := table{cols: []column{{"", 'l'}, {b.w("charge.factory"), 'r'}, {b.w("charge.allowance"), 'r'}, {b.w("charge.added"), 'r'}, {b.w("charge.total"), 'r'}}}
	list := []*record.Value{c.Factory, c.Allowance, c.Added, c.Total}
	kg, lb := []string{"kg"}, []string{"lb oz"}
	for _, v := range list {
		if !v.Finite() {
			kg, lb = append(kg, b.w("missing.given")), append(lb, "–")
			continue
		}
		kg, lb = append(kg, b.p.kilograms(v)), append(lb, b.p.mass(v))
	}
	t.rows = append(t.rows, kg)
	if b.p.sys.Name == "us" {
		t.rows = append(t.rows, lb)
	}
	blocks := []block{t}
	var parts []string
	if c.Difference.Finite() {
		parts = append(parts, b.w("charge.difference", "mass", b.p.mass(c.Difference)))
	}
	if c.Plate.Finite() {
		parts = append(parts, b.w("charge.plate", "mass", b.p.mass(c.Plate)))
	}
	if c.CO2e.Finite() && b.t.Audience == "inspector" {
		parts = append(parts, b.w("charge.co2", "mass", b.p.withUnit(b.p.number(c.CO2e.V, quantity.Kilogram, 0), quantity.Kilogram), "gwp", b.gwp(c), "edition", b.edition(c.GWPEdition)))
	}
	for i := range c.Checks {
		if b.t.Audience != "inspector" {
			break
		}
		parts = append(parts, sentence(b.note(&c.Checks[i], "")))
	}
	if len(parts) > 0 {
		blocks = append(blocks, b.caption(strings.ReplaceAll(join(" ", parts...), "CO2", "CO"+sub("2"))))
	}
	sec := b.titled("charge", blocks...)
	sec.note = join("\n", clean(b.rec.Job.System.Refrigerant), labelled(b.w("instrument"), clean(c.Instrument)), sec.note)
	return []section{sec}
}

// edition is where a global warming potential comes from; a document that is
// named twice in a row is told once.
func (b *builder) edition(s string) string {
	var parts []string
	for _, p := range strings.Split(s, ", ") {
		if n := len(parts); n == 0 || !strings.HasSuffix(parts[n-1], p) {
			parts = append(parts, p)
		}
	}
	return b.term(strings.Join(parts, ", "))
}

func (b *builder) gwp(c *record.Charge) string {
	if !c.GWP.Finite() {
		return b.w("missing.given")
	}
	return b.p.number(c.GWP.V, quantity.One, 0)
}

func (b *builder) startup() []section {
	s := b.rec.Startup
	if s == nil || len(s.Rows) == 0 {
		return b.absent("startup")
	}
	t := table{cols: b.heads("quantity", "target", ">value", ">expanded", "decision", "remark")}
	for _, r := range s.Rows {
		remark := or(b.note(r.Note, ""), "–")
		if r.Saturation.Finite() {
			remark = join("; ", b.w("startup.saturation", "temperature", b.p.temperature(r.Saturation)), b.note(r.Note, ""))
		}
		t.rows = append(t.rows, []string{b.judgedName(r.Name), b.target(r), b.judgedValue(r, r.Value), b.judgedU(r), bold(b.decisionWord(r.Decision)), remark})
	}
	return []section{b.titled("startup", t)}
}

// ohm is the unit as people without the letter write it.
var ohm = regexp.MustCompile(`\b([kMG]?)[oO]hms?\b`)

func (b *builder) judgedName(n string) string { return b.wordOr("startup."+n, clean(n)) }

// judgedUnit is the unit of a start-up quantity; kelvins are differences here.
func (b *builder) judgedUnit(v *record.Value) quantity.Unit {
	switch v.Unit {
	case "K":
		return b.p.sys.Difference
	case "1":
		return quantity.Percent
	}
	return quantity.Unit{Name: v.Unit, Scale: 1}
}

func (b *builder) judgedValue(r record.Judged, v *record.Value) string {
	if r.Stated != "" {
		return bound(ohm.ReplaceAllString(clean(r.Stated), "${1}Ω"))
	}
	if !v.Finite() {
		return "–"
	}
	u := b.judgedUnit(v)
	places := 1
	if r.U.Finite() {
		places = min(quantity.Places(quantity.K95*r.U.V, u), 1)
	}
	for _, limit := range []*record.Value{r.Low, r.High} {
		if limit.Finite() {
			places = beside(u.From(v.V), places, u.From(limit.V))
		}
	}
	return b.p.withUnit(b.p.number(v.V, u, places), u)
}

func (b *builder) judgedU(r record.Judged) string {
	if !r.U.Finite() || !r.Value.Finite() {
		return "–"
	}
	u := b.judgedUnit(r.Value)
	return b.p.withUnit(b.p.number(quantity.K95*r.U.V, u, min(quantity.Places(quantity.K95*r.U.V, u), 1)), u)
}

// target is what was aimed at; it does not wrap.
func (b *builder) target(r record.Judged) string {
	return strings.ReplaceAll(b.targetText(r), " ", nb)
}

func (b *builder) targetText(r record.Judged) string {
	low, high := r.Low.Finite(), r.High.Finite()
	switch {
	case low && high:
		u := b.judgedUnit(r.Low)
		return b.w("target.between", "low", b.p.number(r.Low.V, u, digitsOf(r.Low.V, u)), "high", b.p.withUnit(b.p.number(r.High.V, u, digitsOf(r.High.V, u)), u))
	case high:
		u := b.judgedUnit(r.High)
		return b.w("target.most", "high", b.p.withUnit(b.p.number(r.High.V, u, digitsOf(r.High.V, u)), u))
	case low:
		u := b.judgedUnit(r.Low)
		return b.w("target.least", "low", b.p.withUnit(b.p.number(r.Low.V, u, digitsOf(r.Low.V, u)), u))
	}
	return b.w("missing.given")
}

// digitsOf keeps a target as it was agreed: one decimal, none where it is whole.
func digitsOf(si float64, u quantity.Unit) int {
	x := u.From(si)
	if d := x - float64(int(x+0.5)); d < 0.02 && d > -0.02 {
		return 0
	}
	return 1
}
