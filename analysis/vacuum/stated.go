package vacuum

import (
	"fmt"
	"math"
	"time"
)

// isolated is the part of a hold as the job states it in which the circuit was isolated. Where the readings plainly show that the pump was shut off
// later than stated, or started again earlier, what they show counts: readings under the pump would pass for the circuit's own, and
// a hold that begins too early hides a leak. A change that is not plain is told, and what is stated counts.
func (c *cuts) isolated(x Span) (Span, []Warning) {
	var doubts []Warning
	start, end, tol := c.seconds(x.Start), c.seconds(x.End), c.tr.tolerance()
	say := func(code string, at, off float64, format string) {
		text := fmt.Sprintf(format, c.at(at).Format(time.TimeOnly), minutes(math.Abs(off)))
		doubts = append(doubts, Warning{Code: code, Text: text, Facts: map[string]float64{"seconds": off}})
	}
	for _, stretch := range c.isolations {
		for _, iso := range stretch {
			at := iso.start.tau
			if iso.until <= start+shortest || at >= end-shortest {
				continue
			}
			by := iso.start.low - iso.start.delay - start
			late := by > tol
			switch {
			case late && iso.why == "":
				say("start-later", at, at-start, "the readings show that the pump was shut off at %s, %s after the start that is stated: the later time counts")
				x.Start = c.at(at)
			case by > 2*tol:
				say("start-doubtful", at, at-start, "the readings may show that the pump was shut off at %s, %s after the start that is stated: check the time")
			}
			if iso.why == "" && iso.restarted && iso.until < end-tol {
				say("end-earlier", iso.until, iso.until-end, "the readings show that the pump ran again from %s, %s before the end that is stated: the earlier time counts")
				x.End = c.at(iso.until)
			}
		}
	}
	return x, doubts
}
