package report

import (
	"math"
	"time"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// duration prints seconds as a reader says them.
func (p *printer) duration(v *record.Value) string {
	if !v.Finite() {
		return p.word("missing.recorded")
	}
	return p.span(v.V)
}

func (p *printer) span(s float64) string {
	switch {
	case s < 90 && s != math.Trunc(s/60)*60:
		return p.number(s, quantity.Second, 0) + nb + "s"
	case s < 2*3600:
		n := 0
		if m := s / 60; math.Abs(m-math.Round(m)) > 0.05 {
			n = 1
		}
		return p.number(s, quantity.Minute, n) + nb + "min"
	}
	m := math.Round(s / 60)
	h := math.Floor(m / 60)
	out := p.number(h, quantity.One, 0) + nb + "h"
	if r := m - 60*h; r > 0 {
		out += nb + p.number(r, quantity.One, 0) + nb + "min"
	}
	return out
}

func parseTime(s string) (time.Time, bool) {
	t, err := time.Parse(time.RFC3339Nano, s)
	return t, err == nil
}

// day prints the date of an RFC 3339 time or of 2031-04-09.
func (p *printer) day(s string) string {
	t, ok := parseTime(s)
	if !ok {
		var err error
		if t, err = time.Parse(time.DateOnly, s); err != nil {
			return clean(s)
		}
	}
	month := p.word("month." + itoa(int(t.Month())))
	d, y := itoa(t.Day()), itoa(t.Year())
	return p.word("date", "day", d, "month", month, "year", y)
}

func (p *printer) clock(s string) string {
	t, ok := parseTime(s)
	if !ok {
		return clean(s)
	}
	if t.Second() != 0 {
		return t.Format(time.TimeOnly)
	}
	return t.Format("15:04")
}

// clocks prints two times of day alike: with seconds where one of them has some.
func (p *printer) clocks(a, b string) (string, string) {
	start, end := p.clock(a), p.clock(b)
	ta, ok1 := parseTime(a)
	tb, ok2 := parseTime(b)
	if ok1 && ok2 && len(start) != len(end) {
		return ta.Format(time.TimeOnly), tb.Format(time.TimeOnly)
	}
	return start, end
}

func (p *printer) moment(s string) string {
	if _, ok := parseTime(s); !ok {
		return clean(s)
	}
	return p.day(s) + ", " + p.clock(s)
}

// between prints a period, naming the day once where it is one day.
func (p *printer) between(a, b string) string {
	ta, ok1 := parseTime(a)
	tb, ok2 := parseTime(b)
	if ok1 && ok2 && ta.Format(time.DateOnly) == tb.Format(time.DateOnly) {
		start, end := p.clocks(a, b)
		return p.word("period.day", "day", p.day(a), "start", start, "end", end)
	}
	return p.word("period", "start", p.moment(a), "end", p.moment(b))
}

// within is the number of seconds between two times, as a value.
func within(a, b string) *record.Value {
	ta, ok1 := parseTime(a)
	tb, ok2 := parseTime(b)
	if !ok1 || !ok2 {
		return nil
	}
	return record.Plain(tb.Sub(ta).Seconds(), "s")
}
