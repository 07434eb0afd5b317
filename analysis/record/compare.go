package record

import (
	"fmt"
	"math"
	"strings"
	"time"

	"dryhold/analysis/quantity"
)

// Finding is what a comparison says of one thing in two records.
type Finding string

// The findings.
const (
	Same    Finding = "the same"
	Differs Finding = "differs" // words, or numbers without an interval
	Beyond  Finding = "differs beyond uncertainty"
	Within  Finding = "cannot be told apart"
	OneOnly Finding = "in one of them only"
)

// Pair is one thing in two records. Key tells which; a start-up quantity has its
// name behind the last point. What is no number is a text as written, or a code.
type Pair struct {
	Key              string
	Old, New         *Value
	OldText, NewText string
	Finding          Finding
}

// Compare sets two records side by side: setting, pressure test, pull-down, hold,
// leak checks, charge, start-up. What neither of them knows is left out.
func Compare(old, new *Record) []Pair {
	c := &comparer{}
	c.setting(old, new)
	c.pressure(orEmpty(old.Pressure), orEmpty(new.Pressure))
	c.pullDown(orEmpty(old.PullDown), orEmpty(new.PullDown))
	c.hold(orEmpty(old.Hold), orEmpty(new.Hold))
	c.text("leaks", leakChecks(old), leakChecks(new))
	a, b := orEmpty(old.Charge), orEmpty(new.Charge)
	c.value("charge.added", a.Added, b.Added)
	c.value("charge.total", a.Total, b.Total)
	c.startup(orEmpty(old.Startup).Rows, orEmpty(new.Startup).Rows)
	return c.list
}

// orEmpty stands for a test that was not made.
func orEmpty[T any](p *T) *T {
	if p == nil {
		p = new(T)
	}
	return p
}

type comparer struct{ list []Pair }

func (c *comparer) setting(old, new *Record) {
	a, b := &old.Job, &new.Job
	c.text("circuit", a.System.Circuit, b.System.Circuit)
	c.text("equipment", equipment(old), equipment(new))
	c.text("refrigerant", a.System.Refrigerant, b.System.Refrigerant)
	c.value("volume", a.System.Volume, b.System.Volume)
	c.text("boundary.included", strings.Join(a.Boundary.Included, ", "), strings.Join(b.Boundary.Included, ", "))
	c.text("boundary.excluded", strings.Join(a.Boundary.Excluded, ", "), strings.Join(b.Boundary.Excluded, ", "))
	c.text("boundary.valves", a.Boundary.Valves, b.Boundary.Valves)
	c.text("boundary.gauge_at", a.Boundary.GaugeAt, b.Boundary.GaugeAt)
	c.text("instruments", instruments(old), instruments(new))
}

func equipment(r *Record) string {
	var list []string
	for _, e := range r.Job.Equipment {
		list = append(list, spaced(e.Role, e.Serial))
	}
	return strings.Join(list, ", ")
}

// instruments are those that a result rests on.
func instruments(r *Record) string {
	var list []string
	for _, i := range r.Instruments {
		if len(i.UsedFor) > 0 {
			list = append(list, spaced(i.Measures, i.Serial, i.Accuracy))
		}
	}
	return strings.Join(list, "; ")
}

func leakChecks(r *Record) string {
	var list []string
	for _, l := range r.Leaks {
		list = append(list, spaced(l.Method, l.Sensitivity, l.Result))
	}
	return strings.Join(list, "; ")
}

func spaced(parts ...string) string {
	return strings.Join(strings.Fields(strings.Join(parts, " ")), " ")
}

func (c *comparer) pressure(a, b *Pressure) {
	c.text("pressure.decision", a.Decision, b.Decision)
	c.value("pressure.change", a.Change, b.Change)
}

func (c *comparer) pullDown(a, b *PullDown) {
	c.value("pulldown.length", length(a.Start, a.End), length(b.Start, b.End))
	c.value("pulldown.lowest", a.Lowest, b.Lowest)
	c.value("pulldown.asymptote", a.Asymptotic, b.Asymptotic)
	c.value("pulldown.rate", a.Rate, b.Rate)
}

func (c *comparer) hold(a, b *Hold) {
	c.text("hold.result", a.result(), b.result())
	c.value("hold.limit", a.Limit, b.Limit)
	c.value("hold.reading", a.reading(), b.reading())
	c.value("hold.length", length(a.Start, a.End), length(b.Start, b.End))
	c.value("hold.start", a.StartPressure, b.StartPressure)
	c.value("hold.end", a.EndPressure, b.EndPressure)
	c.value("hold.rise", a.Rise, b.Rise)
	c.value("hold.inflow", a.LeakRate, b.LeakRate)
	c.value("hold.steady", a.LeakRise, b.LeakRise)
	c.value("hold.levels_off", a.MoistureRise, b.MoistureRise)
	c.value("hold.smallest", a.SmallestLeak, b.SmallestLeak)
}

// result is the decision, never without the cause beside it.
func (h *Hold) result() string {
	if h.Decision == "" && h.Cause == "" {
		return ""
	}
	return h.Decision + "; cause: " + h.Cause
}

// reading is the reading that decides, with its interval.
func (h *Hold) reading() *Value { return expanded(h.ReadingAtLimit, h.StandardUncertainty) }

// expanded gives a value the 95 % interval of a standard uncertainty.
func expanded(v, u *Value) *Value {
	if !v.Finite() || !u.Finite() || v.Confidence > 0 {
		return v
	}
	return Between(v.V, v.V-quantity.K95*u.V, v.V+quantity.K95*u.V, v.Unit)
}

// startup pairs quantities of one name in their order.
func (c *comparer) startup(a, b []Judged) {
	first, was := byName(a)
	second, now := byName(b)
	for _, name := range append(first, second...) {
		x, y := was[name], now[name]
		delete(was, name)
		delete(now, name)
		c.text("startup."+name, x.Stated, y.Stated)
		c.value("startup."+name, expanded(x.Value, x.U), expanded(y.Value, y.U))
	}
}

// byName numbers quantities of the same name from the second on.
func byName(list []Judged) (names []string, by map[string]Judged) {
	by = map[string]Judged{}
	seen := map[string]int{}
	for _, j := range list {
		name := j.Name
		if seen[name]++; seen[name] > 1 {
			name = fmt.Sprintf("%s %d", name, seen[name])
		}
		if j.Stated != "" {
			j.Value = nil // a trend, told as it was written
		}
		names, by[name] = append(names, name), j
	}
	return names, by
}

// length is the time between two RFC 3339 times, nil where there is none.
func length(start, end string) *Value {
	a, err1 := time.Parse(time.RFC3339Nano, start)
	b, err2 := time.Parse(time.RFC3339Nano, end)
	if err1 != nil || err2 != nil {
		return nil
	}
	return Plain(b.Sub(a).Seconds(), "s")
}

func (c *comparer) text(key, a, b string) {
	p := Pair{Key: key, OldText: a, NewText: b, Finding: Differs}
	switch {
	case a == "" && b == "":
		return
	case a == b:
		p.Finding = Same
	case a == "" || b == "":
		p.Finding = OneOnly
	}
	c.list = append(c.list, p)
}

func (c *comparer) value(key string, a, b *Value) {
	if !a.Finite() && !b.Finite() {
		return
	}
	c.list = append(c.list, Pair{Key: key, Old: a, New: b, Finding: compareValues(a, b)})
}

const digits = 1e-9 // that results.json keeps

// alike reports two values of the same interval, or without one.
func alike(a, b *Value) bool {
	return a.Confidence == b.Confidence && (a.Confidence == 0 || close(a.Low, b.Low, digits) && close(a.High, b.High, digits))
}

// compareValues judges by the normalised error E_n of ISO/IEC 17043 and ISO 13528
// (from memory): two values differ beyond their uncertainty where their difference
// is larger than the root of the sum of the squares of their expanded
// uncertainties. Of an interval that is not even, the side towards the other value
// counts. What both have in common, such as one gauge's error, is not taken off:
// then the two are told apart later than they might be.
func compareValues(a, b *Value) Finding {
	switch {
	case !a.Finite() || !b.Finite():
		return OneOnly
	case close(a.V, b.V, digits) && alike(a, b):
		return Same
	case close(a.V, b.V, digits): // how well they are known differs
		return Within
	case a.Confidence == 0 || b.Confidence == 0:
		return Differs
	case a.V > b.V:
		a, b = b, a
	}
	if b.V-a.V > math.Hypot(math.Max(a.High-a.V, 0), math.Max(b.V-b.Low, 0)) {
		return Beyond
	}
	return Within
}
