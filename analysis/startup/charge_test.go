package startup

import (
	"math"
	"strings"
	"testing"

	"dryhold/analysis/fluid"
)

func TestChargeAddsUp(t *testing.T) {
	in := ChargeInput{Factory: 3.2, LineAllowance: 0.5, Added: Estimate{0.55, 0.02}, AddedStated: true, Plate: 3.7}
	c := EvaluateCharge(in, refrigerant(t, "R-454B"))
	near(t, "total", c.Total.Value, 3.75, 1e-12)
	near(t, "difference", c.Difference.Value, 0.05, 1e-12)
	if !c.OverPlate {
		t.Error("3.75 kg ± 0.033 exceeds a plate of 3.70 kg")
	}
	near(t, "t CO2e", c.CO2e[0].Mass.Value/1000, 3.75*0.4652, 1e-9)
	for _, e := range c.CO2e {
		if e.GWP.Edition == "" || e.GWP.Source == "" {
			t.Error("a GWP without its edition or source")
		}
	}
	in.Added.U = 0.2
	if EvaluateCharge(in, nil).OverPlate {
		t.Error("0.05 kg over the plate with u = 0.2 kg is not shown")
	}
	if c := EvaluateCharge(ChargeInput{Factory: 3}, nil); c.Difference != nil || c.CO2e != nil || c.Duties != nil {
		t.Errorf("nothing weighed, unknown refrigerant: %+v", c)
	}
}

// kg at 5, 50 and 500 t CO2e with the GWP of Regulation (EU) 2024/573, by hand
// to four digits; the interval changes there (Article 5(6)).
func TestEuropeanIntervals(t *testing.T) {
	for name, kg := range map[string][3]float64{"R-32": {7.407, 74.07, 740.7}, "R-410A": {2.395, 23.95, 239.5},
		"R-454B": {10.747, 107.5, 1074.7}, "R-134a": {3.497, 34.97, 349.7}, "R-407C": {2.819, 28.19, 281.9},
		"R-404A": {1.275, 12.75, 127.5}, "R-1234yf": {1, 10, 100}} {
		months := []float64{0, 12, 6, 3}
		for i, edge := range kg {
			for side, want := range map[float64]float64{0.999: months[i], 1.001: months[i+1]} {
				n := european(refrigerant(t, name), edge*side)
				if n.Facts["months"] != want || n.Facts["months_with_detection"] != 2*want {
					t.Errorf("%s, %g kg: %g months, want %g", name, edge*side, n.Facts["months"], want)
				}
			}
		}
	}
	if n := european(refrigerant(t, "R-290"), 50); n.Code != "eu-other-rule" {
		t.Errorf("R-290: %q", n.Code)
	}
}

// 15 lb is 6.804 kg; a GWP above 53 (40 CFR 84.106).
func TestAmericanDuties(t *testing.T) {
	for _, c := range []struct {
		name string
		kg   float64
		want string
	}{{"R-410A", 6.80, "us-none"}, {"R-410A", 6.81, "us-leak-rate"}, {"R-1234yf", 50, "us-none"}, {"R-22", 50, "us-other-rule"}} {
		n := american(refrigerant(t, c.name), c.kg)
		if n.Code != c.want || !strings.Contains(n.Text, "40 CFR") {
			t.Errorf("%s, %g kg: %q, want %q", c.name, c.kg, n.Code, c.want)
		}
	}
}

// 40 CFR 82.156(a), Table 1, cell by cell in inHg; 25 mmHg is 3333.06 Pa.
func TestRecoveryTable(t *testing.T) {
	const inHg = 3386.388640341
	for _, c := range []struct {
		class        string
		kg           float64
		before, from float64
	}{
		{"very high pressure", 10, 0, 0}, {"very high pressure", 100, 0, 0},
		{"high pressure", 90.7, 0, 0}, {"high pressure", 90.8, 4, 10}, // 200 lb is 90.72 kg
		{"medium pressure", 90.7, 4, 10}, {"medium pressure", 90.8, 4, 15},
	} {
		for old, want := range map[bool]float64{true: c.before, false: c.from} {
			l, err := RecoveryCell(c.class, c.kg, old)
			if err != nil {
				t.Fatal(err)
			}
			near(t, c.class, l.Vacuum/inHg, want, 1e-6)
			near(t, c.class+" absolute", l.Absolute, fluid.StandardAtmosphere-want*inHg, 1e-3)
		}
	}
	low, err := RecoveryCell("low pressure", 1, false)
	if err != nil || math.Abs(low.Absolute-3333.06) > 0.01 {
		t.Errorf("low pressure: %g Pa, %v", low.Absolute, err)
	}
	if l, _ := RecoveryCell("medium pressure", 100, false); l.Doubt == "" {
		t.Error("two copies disagree on the 15 inHg: the doubt must be said")
	}
	if _, err := RecoveryCell("odd", 1, false); err == nil {
		t.Error("an unknown class must be an error")
	}
}

// Saturation at 40 °C (104 °F) against 45, 170 and 355 psia.
func TestRecoveryClass(t *testing.T) {
	for name, want := range map[string]string{"R-32": "very high pressure", "R-410A": "high pressure", "R-22": "high pressure",
		"R-404A": "high pressure", "R-134a": "medium pressure", "R-1234yf": "medium pressure"} {
		l, err := RecoveryLevel(refrigerant(t, name), 5, false)
		if err != nil || l.Class != want || l.Doubt == "" {
			t.Errorf("%s: %q, %v; want %q with its doubt", name, l.Class, err, want)
		}
	}
}

// Pounds and ounces that add up to the plate exactly are not above it, whatever the last digits of their kilograms; an ounce more is.
// 1 lb is 0.45359237 kg (international pound).
func TestChargeOfThePlateIsNotAboveIt(t *testing.T) {
	kg := func(lb, oz int) float64 { return float64(lb)*0.45359237 + float64(oz)*(0.45359237/16) }
	for lb := 1; lb < 15; lb++ {
		for oz := range 16 {
			for added := 1; added < 40; added++ {
				in := ChargeInput{Factory: kg(lb, oz), Added: Estimate{Value: kg(0, added)}, AddedStated: true, Plate: kg(lb+(oz+added)/16, (oz+added)%16)}
				if EvaluateCharge(in, nil).OverPlate {
					t.Fatalf("%d lb %d oz and %d oz: above a plate of their sum", lb, oz, added)
				}
				if in.Added.Value += kg(0, 1); !EvaluateCharge(in, nil).OverPlate {
					t.Fatalf("%d lb %d oz and %d oz: an ounce above the plate is not told", lb, oz, added)
				}
			}
		}
	}
}
