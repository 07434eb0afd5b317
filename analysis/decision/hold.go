package decision

import (
	"fmt"
	"math"

	"dryhold/analysis/quantity"
)

// Criterion is what a hold has to meet, in SI; 0 means that it is not asked for.
type Criterion struct {
	Reach    float64 // Pa: the pressure before the pump was isolated
	Limit    float64 // Pa: the pressure from then to Duration
	MaxRise  float64 // Pa: the rise until Duration
	Duration float64 // s from isolation
	Rounds   int     // evacuations, the deciding one included

	// RiseUnstated: the source allows no rise but gives no number, so that part
	// is never determined.
	RiseUnstated bool
}

// empty reports whether there is nothing to compare with.
func (c Criterion) empty() bool {
	return c.Reach <= 0 && c.Limit <= 0 && c.MaxRise <= 0 && !c.RiseUnstated
}

// Estimate is a measured pressure in Pa with its standard uncertainty. The zero
// value means that there is none.
type Estimate struct {
	Value, U float64
	AtLeast  bool // the gauge was over its range: the true value is Value or more
}

// Evidence is what the readings give for a hold.
type Evidence struct {
	Lowest      Estimate // the pressure reached before isolation
	Reading     Estimate // the highest reading from the end of equalisation to Duration
	Rise        Estimate // the rise until Duration
	Held        float64  // s from isolation to the last reading of the hold
	Evacuations int      // up to and including the one before this hold
	Overdue     string   // id of an instrument whose calibration was overdue; "" for none
	Gap         bool     // readings are missing at Duration
}

// Reason says why: a stable code, a sentence in English, and its numbers in SI.
type Reason struct {
	Code  string
	Text  string
	Facts map[string]float64
}

// The codes of [Reason].
const (
	NoCriterion  = "no-criterion"
	TooShort     = "too-short"
	TooUncertain = "too-uncertain"
	Overdue      = "overdue"
	Gap          = "gap"
	OverRange    = "over-range"
	NoReading    = "no-reading"
	NoAccuracy   = "no-accuracy" // nothing says how well a reading is known
	RiseUnstated = "rise-unstated"
	TooFewRounds = "too-few-evacuations"
	Compared     = "compared"            // a reading was compared with a limit
	ComparedOver = "compared-over-range" // the same, of a gauge that was over its range
)

// Part is the comparison with one part of a criterion.
type Part struct {
	Name    string // "reach", "limit", "max_rise", "minutes", "evacuations", "rise"
	Outcome Outcome
	Reason  Reason
	Limit   float64 // Pa, 0 where it has none
	Reading float64 // Pa
	AtLeast bool    // the gauge was over its range: the true value is Reading or more
	U       float64 // Pa, standard uncertainty
	Guard   float64 // Pa, 1.645 U
}

// Judgement is the decision on a hold: the worst of its parts.
type Judgement struct {
	Outcome Outcome
	Reason  Reason // of the first part that has this outcome
	Parts   []Part
}

// Judge decides whether a hold met its criterion. Without a criterion nothing
// is determined. An overdue gauge, a hold shorter than Duration, a gap there and
// a gauge over its range leave a clear fail a fail and turn every other outcome
// of the part that they touch into NotDetermined.
func Judge(c Criterion, e Evidence) Judgement {
	if c.empty() {
		r := Reason{Code: NoCriterion, Text: "no criterion was agreed"}
		return Judgement{Outcome: NotDetermined, Reason: r}
	}
	var parts []Part
	if c.Reach > 0 {
		parts = append(parts, compare("reach", e.Lowest, c.Reach, overdue(e)))
	}
	if c.Limit > 0 {
		parts = append(parts, compare("limit", e.Reading, c.Limit, overdue(e), duration(c, e)))
	}
	if c.MaxRise > 0 {
		parts = append(parts, compare("max_rise", e.Rise, c.MaxRise, overdue(e), duration(c, e)))
	}
	parts = append(parts, unmeasured(c, e)...)
	return combine(parts)
}

// unmeasured lists the parts that are open without any comparison.
func unmeasured(c Criterion, e Evidence) (parts []Part) {
	open := func(name string, r *Reason) {
		parts = append(parts, Part{Name: name, Outcome: NotDetermined, Reason: *r})
	}
	if r := duration(c, e); r != nil && c.Limit <= 0 && c.MaxRise <= 0 {
		open("minutes", r)
	}
	if e.Evacuations < c.Rounds {
		open("evacuations", &Reason{TooFewRounds,
			fmt.Sprintf("the criterion asks for %d evacuations, the record has %d", c.Rounds, e.Evacuations),
			map[string]float64{"asked": float64(c.Rounds), "found": float64(e.Evacuations)}})
	}
	if c.RiseUnstated {
		open("rise", &Reason{Code: RiseUnstated, Text: "the criterion gives no number for the rise that it allows"})
	}
	return parts
}

// compare judges one reading; the first obstacle that is not nil overrules all but a fail.
func compare(name string, y Estimate, limit float64, obstacles ...*Reason) Part {
	p := Part{Name: name, Limit: limit, Reading: y.Value, AtLeast: y.AtLeast, U: y.U, Guard: GuardBand(y.U)}
	if !finite(y.Value, y.U) || y.U <= 0 {
		p.Reading, p.U, p.Guard = 0, 0, 0
		p.Outcome = NotDetermined
		p.Reason = Reason{Code: NoReading, Text: "there is no usable reading to compare with the " + words[name]}
		if finite(y.Value) && y.Value != 0 {
			p.Reason = Reason{Code: NoAccuracy, Text: "the gauge's accuracy is not stated, so that its readings decide nothing"}
		}
		return p
	}
	p.Outcome = Upper(y.Value, y.U, limit)
	p.Reason = p.compared()
	if p.Outcome == Fail {
		return p
	}
	if y.AtLeast {
		obstacles = append(obstacles, &Reason{Code: OverRange, Text: "the gauge was over its range"})
	}
	if p.Outcome == NotDetermined {
		obstacles = append(obstacles, p.tooUncertain())
	}
	for _, r := range obstacles {
		if r != nil {
			p.Outcome, p.Reason = NotDetermined, *r
			break
		}
	}
	return p
}

// words names each part in a sentence.
var words = map[string]string{"reach": "pressure to be reached", "limit": "limit", "max_rise": "largest rise allowed"}

func (p Part) compared() Reason {
	text, facts := fmt.Sprintf("%s against the %s of %s", beside(p.Reading, p.Limit), words[p.Name], micron(p.Limit)),
		map[string]float64{"reading": p.Reading, "limit": p.Limit}
	if p.AtLeast {
		return Reason{ComparedOver, "at least " + text, facts}
	}
	facts["guard"] = p.Guard
	return Reason{Compared, text, facts}
}

func (p Part) tooUncertain() *Reason {
	return &Reason{TooUncertain, fmt.Sprintf("the gauge's uncertainty (guard band %s) is as large as the %s of %s",
		micron(p.Guard), words[p.Name], micron(p.Limit)), map[string]float64{"guard": p.Guard, "limit": p.Limit}}
}

func overdue(e Evidence) *Reason {
	if e.Overdue == "" {
		return nil
	}
	return &Reason{Code: Overdue, Text: "the calibration of " + e.Overdue + " was overdue"}
}

// duration says why the hold gives no answer at the criterion's time.
func duration(c Criterion, e Evidence) *Reason {
	switch {
	case c.Duration <= 0:
		return nil
	case !(e.Held >= c.Duration):
		held := e.Held
		if !finite(held) {
			held = 0
		}
		return &Reason{TooShort, fmt.Sprintf("the hold ended after %s of the %s minutes agreed", minutes(math.Floor(held/6)*6), minutes(c.Duration)),
			map[string]float64{"held": held, "asked": c.Duration}}
	case e.Gap:
		return &Reason{Code: Gap, Text: "readings are missing at the limit time"}
	}
	return nil
}

func combine(parts []Part) Judgement {
	outcomes := make([]Outcome, len(parts))
	for i, p := range parts {
		outcomes[i] = p.Outcome
	}
	j := Judgement{Outcome: Worst(outcomes...), Parts: parts}
	for _, p := range parts {
		if p.Outcome == j.Outcome {
			j.Reason = p.Reason
			break
		}
	}
	return j
}

// minutes and micron print for a sentence, at most three or four digits.
func minutes(s float64) string { return fmt.Sprintf("%.4g", quantity.Minute.From(s)) }

// beside prints a reading with the digits that tell it from the limit: 500.04 is not 500.
func beside(reading, limit float64) string {
	text := micron(reading)
	for n := 5; text == micron(limit) && math.Abs(reading-limit) > quantity.Alike*limit && n <= 10; n++ {
		text = fmt.Sprintf("%.*g micron", n, quantity.Micron.From(reading))
	}
	return text
}

func micron(pa float64) string {
	x := quantity.Micron.From(pa)
	if size := math.Abs(x); size >= 1e4 || size < 1e-3 { // where %g would write an exponent
		return fmt.Sprintf("%.0f micron", math.Round(x)+0) // no negative zero
	}
	return fmt.Sprintf("%.4g micron", x)
}
