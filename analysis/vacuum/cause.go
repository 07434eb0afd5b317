package vacuum

import (
	"fmt"
	"math"
)

// The chance, above the threshold, of the cause that is not named is limited: of a leak beside moisture, of moisture beside a leak,
// and of moisture within the equalisation where none is named.
const (
	leakBeside  = 0.05
	moistBeside = 0.20
	moistHidden = 0.25
)

// name applies the fixed rule: a cause is named when its contribution is above the threshold by its estimate and by the
// lower end of its interval; none when both upper ends are below; else not determined. Where one cause is named and the
// other is not, the other must be unlikely for the first to stand alone, and moisture within the equalisation where none is named: leakP
// and earlyP are the probabilities that the leak, and the moisture counted from the isolation on, are above the threshold.
func name(leak, moist Value, thr, leakP, earlyP float64) Cause {
	l, m := leak.X > thr && leak.Low > thr, moist.X > thr && moist.Low > thr
	switch {
	case l && m:
		return LeakMoisture
	case l && earlyP < moistBeside:
		return Leak
	case m && leakP < leakBeside:
		return Moisture
	case !l && !m && leak.High < thr && moist.High < thr && earlyP <= moistHidden:
		return None
	}
	return NotDetermined
}

// explain gives the reason for the cause in words.
func (h *Hold) explain(m measured, leakP, moistP, earlyP float64) {
	leak, moist := h.LeakContr, h.MoistureRise
	facts := map[string]float64{"threshold": h.Threshold, "rise": h.Rise, "leak": leak.X, "leak low": leak.Low, "leak high": leak.High,
		"moisture": moist.X, "moisture low": moist.Low, "moisture high": moist.High, "hold": m.length, "settle": m.settle,
		"leak probability": leakP, "moisture probability": moistP, "early moisture": m.early, "early probability": earlyP}
	say := func(code, format string, a ...any) { h.Reason = Reason{code, fmt.Sprintf(format, a...), facts} }
	both := func(v Value) string {
		return fmt.Sprintf("%s (%s to %s)", inMicron(v.X), bare(v.Low), inMicron(v.High))
	}
	switch h.Cause {
	case Leak:
		say("leak", "a steady inflow explains %s of a rise of %s; moisture explains at most %s", both(leak), inMicron(h.Rise), inMicron(moist.High))
	case Moisture:
		say("moisture", "a rise that levels off explains %s of a rise of %s; a steady inflow explains at most %s", both(moist), inMicron(h.Rise), inMicron(leak.High))
	case LeakMoisture:
		say("leak-and-moisture", "a steady inflow explains %s and a rise that levels off %s of a rise of %s", both(leak), both(moist), inMicron(h.Rise))
	case None:
		say("below-threshold", "neither a steady inflow (at most %s) nor moisture (at most %s) reaches %s, the least that is named", inMicron(leak.High), inMicron(moist.High), inMicron(h.Threshold))
	default:
		h.explainDoubt(m, say, both)
	}
}

// explainDoubt says why the cause is not determined.
func (h *Hold) explainDoubt(m measured, say func(code, format string, a ...any), both func(Value) string) {
	leak, moist, thr := h.LeakContr, h.MoistureRise, h.Threshold
	switch {
	case m.early > thr && moist.High < thr && leak.High < thr:
		say("equalisation-or-moisture", "the first %s of the hold may be equalisation or quick moisture of up to %s; the gauge cannot tell which", minutes(m.settle), inMicron(m.early))
	case leak.Low > thr:
		say("leak-moisture-open", "a steady inflow explains %s; whether moisture adds to it is open: %s", both(leak), both(moist))
	case moist.Low > thr:
		say("moisture-leak-open", "a rise that levels off explains %s; whether a leak adds to it is open: %s", both(moist), both(leak))
	case leak.High > thr && moist.High > thr && h.Rise > thr:
		say("leak-or-moisture", "in %s a steady inflow (%s) and a rise that levels off (%s) cannot be told apart", minutes(m.length), both(leak), both(moist))
	default:
		say("near-threshold", "the readings do not show on which side of %s, the least that is named, the leak (%s) and the moisture (%s) lie", inMicron(thr), both(leak), both(moist))
	}
}

// inMicron is for sentences.
func inMicron(pa float64) string { return bare(pa) + " micron" }

func bare(pa float64) string {
	x := pa / micron
	if math.Abs(x) < 9.95 {
		return fmt.Sprintf("%.1f", x)
	}
	return fmt.Sprintf("%.0f", x)
}

func minutes(s float64) string {
	if s < 90 {
		return fmt.Sprintf("%.0f s", s)
	}
	return fmt.Sprintf("%.0f min", s/60)
}
