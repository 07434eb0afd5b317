package report

import (
	"strconv"
	"strings"
	"testing"

	"dryhold/analysis/record"
	"dryhold/report/plot"
)

// TestPrintAgreesWithDecision judges readings by what the pages print of reading, limit and guard band, as a reader would (ILAC-G8:09/2019:
// pass up to L - w, conditional pass up to L, conditional fail up to L + w): it is what the numbers give. w = 1.645 u, with the gauge's
// limit of 10 % and 5 micron, u = (0.1 y + 5)/√3, or of 20 micron.
func TestPrintAgreesWithDecision(t *testing.T) {
	const micron, limit = 0.133322387415, 500.0
	outcome := func(y, limit, w float64) string {
		switch {
		case y <= limit-w:
			return "pass"
		case y <= limit:
			return "conditional pass"
		case y <= limit+w:
			return "conditional fail"
		}
		return "fail"
	}
	number := func(s string) float64 {
		s, _, _ = strings.Cut(strings.ReplaceAll(s, nb, " "), " ")
		x, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	readings := []float64{499.96, 500, 500.04, 500.0004, 481.005, 481.0054, 481.01, 518.99, 518.995, 519, 451.7, 451.75, 451.8, 452.3, 453}
	for y := 430.0; y < 570; y++ {
		readings = append(readings, y, y+0.37, y+0.4999)
	}
	for _, audience := range []string{"inspector", "homeowner"} {
		r := testRecord()
		b, err := newBuilder(r, testOptions(audience))
		if err != nil {
			t.Fatal(err)
		}
		b.p.step = micron
		for _, y := range readings {
			for _, u := range []float64{(0.1*y + 5) / 1.7320508, 20 / 1.7320508} {
				h := r.Hold
				h.ReadingAtLimit, h.StandardUncertainty, h.GuardBand = record.Plain(y*micron, "Pa"), record.Plain(u*micron, "Pa"), record.Plain(1.645*u*micron, "Pa")
				c := record.Criterion{What: "limit", Reading: h.ReadingAtLimit, U: h.StandardUncertainty, Limit: h.Limit}
				want := outcome(y, limit, 1.645*u)
				printed := number(b.readingOf(c))
				if got := outcome(printed, number(b.limitText(h.Limit)), number(b.guard(h))); got != want || number(b.plusMinus(h)) != printed {
					t.Errorf("%s: %g ± u = %g is a %s, but %s beside a limit of %s and a guard band of %s is a %s", audience, y, u, want, b.plusMinus(h), b.limitText(h.Limit), b.guard(h), got)
				}
				if alt := plot.Ruler(r, b.plots()).Alt; !strings.Contains(alt, strings.TrimSuffix(b.plusMinus(h), nb+"micron")+" (95") {
					t.Errorf("%s: the pages say %s, and the figure: %s", audience, b.plusMinus(h), alt)
				}
				if (printed <= number(b.acceptance(h))) != (want == "pass") {
					t.Errorf("%s: %s is a %s, but the page says pass up to %s", audience, b.plusMinus(h), want, b.acceptance(h))
				}
			}
		}
	}
}

// TestShownLossStandsBesideThePass has a pressure test that meets what was agreed while its change, with its whole interval,
// is a loss: no audience reads "pass" alone.
func TestShownLossStandsBesideThePass(t *testing.T) {
	for lang, want := range map[string]string{"en": "pass, but the readings show a loss", "es": "pero las lecturas muestran una pérdida"} {
		for _, audience := range []string{"homeowner", "inspector", "warranty"} {
			for high, shown := range map[float64]bool{-2e3: true, 2e3: false} {
				r := testRecord()
				r.Pressure.Decision, r.Pressure.Change = "pass", record.Between(-20e3, -40e3, high, "Pa")
				o := testOptions(audience)
				o.Language = lang
				_, all := drawn(t, r, o)
				if got := strings.Contains(joined(all), want); got != shown {
					t.Errorf("%s, %s, up to %g Pa: loss told %t, want %t", audience, lang, high, got, shown)
				}
			}
		}
	}
}

// TestPrintTellsSidesOfALimit has values that lie beside what was agreed by less than a page's usual decimals: 1.04 % of unbalance is not
// 1.0 % where the limit is 1 %, a fall of 10.02 psi not one of 10.0 where 10 was agreed. 1 psi is 6894.757 Pa (NIST SP 811).
func TestPrintTellsSidesOfALimit(t *testing.T) {
	r := testRecord()
	b, err := newBuilder(r, testOptions("inspector"))
	if err != nil {
		t.Fatal(err)
	}
	for x, want := range map[float64]string{0.0104: "1.04", 0.01: "1.0", 0.0096: "0.96", 0.0123: "1.2"} {
		j := record.Judged{Name: "voltage unbalance", Value: record.Plain(x, "1"), High: record.Plain(0.01, "1")}
		if got := b.judgedValue(j, j.Value); !strings.HasPrefix(got, want+nb) {
			t.Errorf("unbalance %g: %q, want %s", x, got, want)
		}
	}
	for psi, want := range map[float64]string{-10.02: "−10.02", -9.98: "−9.98", -10: "−10.0", -4.06: "−4.1"} {
		p := record.Pressure{Change: record.Plain(psi*6894.757293168, "Pa"), MaxChange: record.Plain(68947.57293168, "Pa")}
		if got := b.corrected(&p); !strings.HasPrefix(got, want+nb) {
			t.Errorf("change of %g psi: %q, want %s", psi, got, want)
		}
	}
}
