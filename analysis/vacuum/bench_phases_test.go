package vacuum

import (
	"math"
	"testing"

	"dryhold/samples/sim"
)

// long is a simulated recording with its interval shrunk or stretched to the rows wanted.
func long(rows int, interval float64) *sim.Recording {
	sc := sim.Case(1)
	sc.Sampling.Interval, sc.Sampling.Jitter, sc.Sampling.Clock = interval, 0, interval
	total := float64(rows) * interval
	for i := range sc.Steps {
		if sc.Steps[i].What == sim.Hold {
			sc.Steps[i].Seconds = math.Max(600, total-900)
		}
	}
	r := sc.Run()
	return &r
}

func benchCut(b *testing.B, rows int) {
	r := long(rows, 1)
	s := series(r)
	o := options(r)
	b.ReportMetric(float64(len(s.T)), "rows")
	for b.Loop() {
		cut(s, o).pullDown(s, o, nil)
	}
}

func BenchmarkPhasesHour(b *testing.B) { benchCut(b, 3600) }
func BenchmarkPhasesDay(b *testing.B)  { benchCut(b, 86400) }
