package quantity

import (
	"math"
	"strings"
	"testing"
)

// TestFactors compares with the conversion factors of NIST SP 811 (2008),
// appendix B.9, which prints seven figures: half of the last is at most 5e-7.
func TestFactors(t *testing.T) {
	for name, want := range map[string]float64{
		"psia": 6.894757e3, "inHg abs": 3.386389e3, "mmHg": 1.333224e2, "Torr": 1.333224e2, "atm": 1.01325e5,
		"ft": 3.048e-1, "in": 2.54e-2, "lb": 4.535924e-1, "oz": 2.834952e-2, "ft3": 2.831685e-2, "gal": 3.785412e-3,
		"cfm": 4.719474e-4, "micron": 1.333224e-1, "mTorr": 1.333224e-1, "µbar": 1e-1, "ubar": 1e-1, "microbar": 1e-1,
	} {
		u, ok := LookUp(name)
		if got := u.SI(1); !ok || math.Abs(got/want-1) > 5e-7 {
			t.Errorf("%s: got %.9g, want %.7g", name, got, want)
		}
	}
	// Fixed points of the temperature scales by definition.
	for name, point := range map[string][2]float64{"°C": {0, 273.15}, "°F": {32, 273.15}, "K": {300, 300}} {
		u, _ := LookUp(name)
		if got := u.SI(point[0]); math.Abs(got-point[1]) > 1e-12*point[1] {
			t.Errorf("%s: %v is %v K, want %v", name, point[0], got, point[1])
		}
	}
	if f, _ := LookUp("degF"); math.Abs(f.SI(212)-373.15) > 1e-9 {
		t.Errorf("212 °F is %v K", f.SI(212))
	}
}

// TestReferences uses a local atmosphere of 100 kPa, by hand.
func TestReferences(t *testing.T) {
	for text, want := range map[string]float64{
		"10 barg": 1.1e6, "2 bara": 2e5, "0 psig": 1e5, "10 inHg vac": 1e5 - 33863.88640341, "1 inHg abs": 3386.388640341, "500 micron": 66.6611937075,
	} {
		v, err := Parse(text, DimPressure)
		if got := v.Pa(1e5); err != nil || math.Abs(got-want) > 1e-6*want {
			t.Errorf("%s: %v Pa, %v, want %v", text, got, err, want)
		}
	}
}

// TestVacuumTable is micron in other units, by hand from 133.322387415 Pa a millimetre of mercury (NIST SP 811) and the standard atmosphere:
// Pa, mbar, inches of mercury absolute, and inches below the atmosphere.
func TestVacuumTable(t *testing.T) {
	mbar, _ := LookUp("mbar")
	for m, want := range map[float64][4]float64{
		100: {13.3322, 0.133322, 0.003937, 29.91732}, 200: {26.6645, 0.266645, 0.007874, 29.91338}, 250: {33.3306, 0.333306, 0.009843, 29.91141},
		300: {39.9967, 0.399967, 0.011811, 29.90944}, 500: {66.6612, 0.666612, 0.019685, 29.90157}, 1000: {133.3224, 1.333224, 0.039370, 29.88189},
		1500: {199.9836, 1.999836, 0.059055, 29.86220}, 2000: {266.6448, 2.666448, 0.078740, 29.84252}, 5000: {666.6119, 6.666119, 0.196850, 29.72441},
		20000: {2666.4477, 26.664477, 0.787402, 29.13385},
	} {
		pa := Micron.SI(m)
		for i, got := range []float64{pa, mbar.From(pa), InHgAbs.From(pa), (101325 - pa) / InHgAbs.SI(1)} {
			if math.Abs(got-want[i]) > []float64{6e-5, 6e-7, 6e-7, 6e-6}[i] {
				t.Errorf("%g micron, column %d: %.9g, want %.9g", m, i, got, want[i])
			}
		}
		if back := InHgVac.Pa(want[3], 101325); math.Abs(back-pa) > 0.02 {
			t.Errorf("%g inHg below the atmosphere: %g Pa, want %g", want[3], back, pa)
		}
	}
	// Levels of rules, and the altitude: 500 micron at 1609.344 m (83427.6 Pa) is 24.616 inHg below the air there.
	for pa, want := range map[float64]float64{270: 2025.17, 675: 5062.92, 2: 15.00, 101325: 759999.89} {
		if got := Micron.From(pa); math.Abs(got-want) > 0.006 {
			t.Errorf("%g Pa: %.8g micron, want %.8g", pa, got, want)
		}
	}
	if got := (83427.6 - Micron.SI(500)) / InHgAbs.SI(1); math.Abs(got-24.616) > 6e-4 {
		t.Errorf("500 micron at 1609 m: %.6g inHg below the air", got)
	}
	if got := InHgAbs.From(101325); math.Abs(got-29.9212556) > 6e-8 {
		t.Errorf("the standard atmosphere: %.10g inHg", got)
	}
	// A loss of 6952 g and of 280.8 g in a year is 245.2 and 9.906 oz (28.349523125 g).
	for g, oz := range map[float64]float64{6952: 245.2, 280.8: 9.906} {
		if got := OuncePerYear.From(GramPerYear.SI(g)); math.Abs(got/oz-1) > 3e-4 {
			t.Errorf("%g g/year: %.6g oz/year, want %.4g", g, got, oz)
		}
	}
}

func TestParse(t *testing.T) {
	for _, c := range []struct {
		text  string
		dim   Dimension
		si, u float64
	}{
		{"35 ft", DimLength, 10.668, 0},
		{"3/8 in", DimLength, 0.009525, 0},
		{"9.6 L ± 15 %", DimVolume, 9.6e-3, 9.6e-3 * 0.15 / 1.96},
		{"9.6 L +/- 0.5 L", DimVolume, 9.6e-3, 0.5e-3 / 1.96},
		{"3 lb 4 oz", DimMass, 3.25 * 0.45359237, 0},
		{"-5 °C", DimTemperature, 268.15, 0},
		{"−5 °C", DimTemperature, 268.15, 0}, // U+2212
		{"10 °F", DimDifference, 50.0 / 9, 0},
		{"1e-5 Pa m3/s", DimThroughput, 1e-5, 0},
		{"21 °C ± 1 K", DimTemperature, 294.15, 1 / 1.96},
	} {
		v, err := Parse(c.text, c.dim)
		if err != nil || math.Abs(v.SI-c.si) > 1e-9*math.Abs(c.si) || math.Abs(v.U-c.u) > 1e-9 {
			t.Errorf("%s: got %v ± %v, %v; want %v ± %v", c.text, v.SI, v.U, err, c.si, c.u)
		}
	}
}

// TestFaults wants the sentence to name what is wrong and how to write it.
func TestFaults(t *testing.T) {
	for _, c := range []struct {
		text, says string
		dim        Dimension
	}{
		{"", "empty", DimPressure},
		{"450 psi", "psia or psig", DimPressure},
		{"3 bar", "bara or barg", DimPressure},
		{"29 inHg", "inHg abs or inHg vac", DimPressure},
		{"1,5 kPa", "decimal mark as a point (1.5) and no thousands mark", DimPressure},
		{"12,500 Pa", "decimal mark as a point and no thousands mark", DimPressure},
		{"1.234,5 Pa", "decimal mark as a point and no thousands mark", DimPressure},
		{"500", "unit is missing", DimPressure},
		{"500 furlong", "unknown unit", DimPressure},
		{"500 ft", "unit of length", DimPressure},
		{"abc", "does not start with a number", DimPressure},
		{"1e999 Pa", "not a number", DimPressure},
		{"9 L ± much", "behind ±", DimVolume},
		{"70 °F ± 2 %", "± 0.5 K", DimTemperature},
		{"1 Pa 2 Pa", "not one quantity", DimPressure},
	} {
		_, err := Parse(c.text, c.dim)
		if err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%q: %v does not say %q", c.text, err, c.says)
		}
	}
}

func TestAccuracy(t *testing.T) {
	var a Accuracy
	if err := a.UnmarshalText([]byte("10 % + 5 micron")); err != nil {
		t.Fatal(err)
	}
	// 10 % of 100 Pa and 5 x 0.133322387 Pa, by hand.
	if got := a.Limit(100, 0); math.Abs(got-10.666611937) > 1e-8 {
		t.Errorf("limit %v", got)
	}
	if err := a.UnmarshalText([]byte("0.5 % of range")); err != nil || a.Limit(3, 800) != 4 {
		t.Errorf("of range: %v, %v", a.Limit(3, 800), err)
	}
	for _, bad := range []string{"ten", "10 % + 1 °C + 5 micron", "-3 micron", "5 psi"} {
		if err := a.UnmarshalText([]byte(bad)); err == nil {
			t.Errorf("%q was accepted", bad)
		}
	}
	// What the data sheet of a pressure gauge says: one thing to do about it, not two.
	if err := a.UnmarshalText([]byte("1 psi")); err == nil || err.Error() != `"1 psi": "psi" does not say from where it is counted; write psig (for a difference, psia means the same)` {
		t.Error(err)
	}
	var r Range
	if err := r.UnmarshalText([]byte("0 to 20000 micron")); err != nil || math.Abs(r.High.SI-2666.4477483) > 1e-6 {
		t.Errorf("range %v, %v", r.High.SI, err)
	}
	if err := r.UnmarshalText([]byte("5 to 2 Pa")); err == nil {
		t.Error("a range upside down was accepted")
	}
}

func TestPrinting(t *testing.T) {
	for _, c := range []struct{ got, want string }{
		{Number(66.6611937075, Micron, 0, ","), "500"},
		{Number(101325, Micron, 0, ","), "760,000"},
		{Number(-6.894757293168, Psia, 3, ","), "−0.001"},
		{Number(-1e-9, Pa, 2, ","), "0.00"},
		{Number(273.15, Celsius, 1, ","), "0.0"},
	} {
		if c.got != c.want {
			t.Errorf("got %q, want %q", c.got, c.want)
		}
	}
	// Two figures of the uncertainty: 26 micron needs no decimals, 0.26 two, 0.026 three.
	for u, want := range map[float64]int{26: 0, 2.6: 1, 0.26: 2, 0.026: 3, 260: 0} {
		if got := Places(u, Pa); got != want {
			t.Errorf("Places(%v) = %d, want %d", u, got, want)
		}
	}
}

// FuzzParse looks for panics, and for an accepted text that is not finite.
func FuzzParse(f *testing.F) {
	for _, s := range []string{"35 ft", "9.6 L ± 15 %", "3 lb 4 oz", "−5 °C", "1/0 in", "± m", "1e5", "\x00"} {
		f.Add(s, uint8(4))
	}
	f.Fuzz(func(t *testing.T, s string, d uint8) {
		v, err := Parse(s, Dimension(int(d)%len(dimNames)))
		if err == nil && (math.IsNaN(v.SI) || math.IsInf(v.U, 0) && v.SI == 0) {
			t.Fatalf("%q gave %v ± %v", s, v.SI, v.U)
		}
		var a Accuracy
		_ = a.UnmarshalText([]byte(s))
		var r Range
		_ = r.UnmarshalText([]byte(s))
		var q Any
		_ = q.UnmarshalText([]byte(s))
	})
}

// TestSpellings are ways to write a unit that mean the same, and what must not be guessed: SI prefixes are told apart by
// case (BIPM SI Brochure, 9th edition, table 7: m is 1e-3, M is 1e6).
func TestSpellings(t *testing.T) {
	for want, names := range map[float64][]string{
		3386.388640341: {"inHg abs", "in Hg abs", "in. Hg abs", "in.Hg abs", "inHgA", "inHg(a)", "inHg(abs)", "inHg absolute", "inches Hg abs", "inches of mercury absolute", "in Hg (abs)"},
		0.133322387415: {"micron", "microns", "µmHg", "μmHg", "um", "MICRON", "micron abs", "microns (absolute)"},
		1e3:            {"kPa", "KPA", "kpa", "kPa(a)", "kPa abs", "kPa absolute", "kPa(abs)", "kPaa", "kPag", "kPa(g)"},
		1e6:            {"MPa", "MPA", "MPa abs", "MPag"},
		1e5:            {"bara", "bar(a)", "bar abs", "bar(abs)", "barg", "bar(g)", "BARG"},
	} {
		for _, n := range names {
			if u, ok := LookUp(n); !ok || u.Scale != want {
				t.Errorf("%q: scale %v, %t, want %v", n, u.Scale, ok, want)
			}
		}
	}
	for _, n := range []string{"mPa", "mpa", " mPa abs", "psi", "bar", "inHg", "in Hg", "in.Hg", "inches of mercury", "psi abs abs", "psig abs", "inHg vac abs", "°C abs", "abs", ""} {
		if u, ok := LookUp(n); ok {
			t.Errorf("%q was taken for %s", n, u.Name)
		}
	}
}

// TestNumbers are ways to write a number, by hand, and what is none.
func TestNumbers(t *testing.T) {
	for text, want := range map[string]float64{"1 1/8 in": 1.125 * 0.0254, "1-1/8 in": 1.125 * 0.0254, "7/8 in": 0.875 * 0.0254, "2 ft": 0.6096,
		"0." + strings.Repeat("3", 500) + " m": 1.0 / 3, "1e-400 m": 0} {
		if v, err := Parse(text, DimLength); err != nil || math.Abs(v.SI-want) > 1e-15 {
			t.Errorf("%.20q: %v, %v, want %v", text, v.SI, err, want)
		}
	}
	if v, err := Parse("-0.0 psig", DimPressure); err != nil || math.Signbit(v.SI) {
		t.Errorf("-0.0 psig: %v, %v", v.SI, err)
	}
	for _, text := range []string{"1e400 Pa", "1e308 MPa", "NaN Pa", "Inf Pa", "-Inf Pa", "0x10 Pa", "1_000 Pa", "1 000 Pa", "-10 inHg vac", "9 Pa ± -1", "9 Pa ± -1 Pa", "9 Pa ± 1 Pa ± 2 Pa",
		"9 Pa +1/-2 Pa", "9e300 Pa ± 1e30 %", "9 Pa ± 1e308 MPa", "1 1/0 Pa", "1 1/8/2 Pa", strings.Repeat("1", 400) + " Pa"} {
		if v, err := Parse(text, DimPressure); err == nil {
			t.Errorf("%.30q was taken for %v", text, v.SI)
		}
	}
}

// TestSpread is the same error limit and the same range in the ways in which data sheets write them: 10 % of 100 Pa and 5
// micron are 10.66661 Pa; from 30 inches of mercury below the air to 500 psi above it are 101.592 + 3447.379 kPa.
func TestSpread(t *testing.T) {
	for _, text := range []string{"10 % + 5 micron", "±10 % ±5 micron", "+/- 10 % +/- 5 micron", "± (10 % + 5 micron)", "5 micron + 10 % of reading"} {
		var a Accuracy
		if err := a.UnmarshalText([]byte(text)); err != nil || math.Abs(a.Limit(100, 0)-10.666611937) > 1e-8 {
			t.Errorf("%q: %v, %v", text, a.Limit(100, 0), err)
		}
	}
	for _, text := range []string{"0.5 % of range", "0.5 % of span", "0.5 % of full scale", "± 0.5 % FS"} {
		var a Accuracy
		if err := a.UnmarshalText([]byte(text)); err != nil || a.Limit(3, 800) != 4 {
			t.Errorf("%q: %v, %v", text, a.Limit(3, 800), err)
		}
	}
	for text, want := range map[string]float64{"0 to 800 psig": 5515805.83, "30 inHg vac to 500 psig": 3548970.31, "0 to 30 inHg vac": 101591.66, "30 to 0 inHg vac": 101591.66} {
		var r Range
		if err := r.UnmarshalText([]byte(text)); err != nil || math.Abs(r.Span()-want) > 0.01 || r.Low.Pa(1e5) >= r.High.Pa(1e5) {
			t.Errorf("%q: %v wide, %v, want %v", text, r.Span(), err, want)
		}
	}
	var r Range
	if err := r.UnmarshalText([]byte("-30 inHg vac to 500 psig")); err == nil {
		t.Error("inches of vacuum with a minus sign were accepted")
	}
}
