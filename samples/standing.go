package samples

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"dryhold/samples/sim"
)

// A standing is a pressure test with nitrogen: filled to a pressure at a
// temperature, which then changes; a leak takes part of the gas.
type standing struct {
	seed            uint64
	pressure, start float64 // Pa absolute, K
	swing, hours    float64 // K over the whole test, length
	lost            float64 // share of the gas
	interval        float64 // s
	step            float64 // Pa, of the display
}

// pressureOf is nitrogen's pressure at density d (mol/m3) and temperature t, by the virial
// equation with the coefficients of a fit to Span et al., J. Phys. Chem. Ref. Data 29 (2000) 1361.
func pressureOf(d, t float64) float64 {
	x := 300 / t
	b, c := (42.574-36.871*x-10.257*x*x)*1e-6, (1423.6-695.3*x+681.9*x*x)*1e-12
	return d * 8.314462618 * t * (1 + b*d + c*d*d)
}

func densityOf(p, t float64) float64 {
	d := p / (8.314462618 * t)
	for range 30 {
		d *= p / pressureOf(d, t)
	}
	return d
}

func (s *standing) run(at func(float64) time.Time) ([]row, string) {
	random := rand.New(rand.NewPCG(s.seed, 0x57a9d))
	filled := densityOf(s.pressure, s.start)
	end := s.hours * 3600
	var rows []row
	last := 0.0
	for t := 0.0; t <= end; t += s.interval {
		pipe := s.start + s.swing*math.Sin(math.Pi/2*t/end)
		last = pressureOf(filled*(1-s.lost*t/end), pipe)
		shown := math.Round((last-barometer)*(1+0.0004*random.NormFloat64())/s.step)*s.step + barometer
		rows = append(rows, row{at(t), shown, math.Round((pipe+0.05*random.NormFloat64())*10) / 10, sim.Read})
	}
	fact := "| truth, without the instruments' errors | |\n|---|---|\n" +
		fmt.Sprintf("| seed | %d |\n| pressure, start and end | %.1f, %.1f kPa absolute |\n", s.seed, s.pressure/1e3, last/1e3) +
		fmt.Sprintf("| temperature of the pipe, start and end | %.1f, %.1f °C |\n| gas lost | %.3g %% |\n", s.start-273.15, s.start+s.swing-273.15, 100*s.lost)
	return rows, fact
}
