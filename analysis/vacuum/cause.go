package vacuum

import (
	"fmt"
	"math"
)

// name applies the fixed rule: a cause is named when its contribution is above the threshold by its estimate and by the
// lower end of its interval; none when both upper ends are below; else not determined.
func name(leak, moist Value, thr float64) Cause {
	l, m := leak.X > thr && leak.Low > thr, moist.X > thr && moist.Low > thr
	switch {
	case l && m:
		return LeakMoisture
	case l && moist.X <= thr:
		return Leak
	case m && leak.X <= thr:
		return Moisture
	case !l && !m && leak.High < thr && moist.High < thr:
		return None
	}
	return NotDetermined
}

// inMicron is for sentences.
func inMicron(pa float64) string {
	x := pa / micron
	if math.Abs(x) < 10 {
		return fmt.Sprintf("%.1f micron", x)
	}
	return fmt.Sprintf("%.0f micron", x)
}

func minutes(s float64) string {
	if s < 90 {
		return fmt.Sprintf("%.0f s", s)
	}
	return fmt.Sprintf("%.0f min", s/60)
}
