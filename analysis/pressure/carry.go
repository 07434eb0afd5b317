package pressure

import (
	"dryhold/analysis/fluid"
)

// Inflow is what a hold under vacuum gave, in Pa m³/s of air, 95 % interval.
type Inflow struct {
	Low, High float64
	Shown     bool // a steady inflow is named, or its interval excludes zero
}

// Verdict says how the hold and the pressure test go together.
type Verdict string

// The verdicts.
const (
	Agree        Verdict = "agree"
	Differ       Verdict = "differ"
	CannotDecide Verdict = "cannot decide"
)

// CarryOver is a hold's inflow carried over to the test pressure.
type CarryOver struct {
	Low, High float64 // Pa m³/s of nitrogen out through the same opening: low end molecular, high end viscous
	Verdict   Verdict
	Reason    Note
}

// Carry compares the inflow of a hold with the pressure test r, if the inflow
// is outside air through one opening that does not change.
func Carry(in Inflow, o fluid.Opening, r Result) (CarryOver, error) {
	ratio, err := o.Outflow(fluid.Nitrogen, r.Start.Pressure)
	if err != nil {
		return CarryOver{}, err
	}
	c := CarryOver{Low: max(0, in.Low) * ratio.Low(), High: max(0, in.High) * ratio.High()}
	c.Verdict, c.Reason = c.verdict(in, r)
	return c, nil
}

func (c CarryOver) verdict(in Inflow, r Result) (Verdict, Note) {
	facts := map[string]float64{"low": c.Low, "high": c.High, "smallest": r.SmallestLeak}
	note := func(v Verdict, code, text string) (Verdict, Note) {
		return v, Note{Code: code, Text: text, Facts: facts}
	}
	switch {
	case r.Finding == NotDetermined || r.SmallestLeak <= 0:
		return note(CannotDecide, "no-test", "the pressure test gives no leak rate to compare with")
	case r.Finding == LossShown && c.High < r.Loss.Low:
		return note(Differ, "more-under-pressure", "the pressure test shows more than the hold's inflow explains: an opening that pressure opens, or one the hold left out")
	case r.Finding == LossShown && in.Shown && c.Low > r.Loss.High:
		return note(Differ, "less-under-pressure", "the hold's inflow would lose more than the pressure test shows: it came past a valve or a hose, or the opening appeared later")
	case r.Finding == LossShown && in.Shown:
		return note(Agree, "both-show", "both show gas passing, by amounts that one opening explains")
	case r.Finding == LossShown:
		return note(CannotDecide, "hold-blind", "the pressure test shows a loss that the hold was not able to show")
	case in.Shown && c.Low > r.SmallestLeak:
		return note(Differ, "less-under-pressure", "the pressure test would have shown the hold's inflow and did not: it came past a valve or a hose, or the opening appeared later")
	case in.Shown:
		return note(CannotDecide, "test-blind", "the pressure test was not able to show the hold's inflow for certain")
	}
	return note(Agree, "neither-shows", "neither shows gas passing, each down to the smallest leak that it was able to show")
}
