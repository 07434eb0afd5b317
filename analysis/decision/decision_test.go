package decision

import (
	"math"
	"strings"
	"testing"
)

// Worked by hand: limit 500, u = 12.5 gives w = 20.5625, hence acceptance up to
// 479.44 and proven failure above 520.56 (JCGM 106:2012 with r = 1.645/2,
// ISO 14253-1).
func TestUpperWorkedExample(t *testing.T) {
	for y, want := range map[float64]Outcome{
		470: Pass, 479.43: Pass, 479.45: ConditionalPass, 480: ConditionalPass, 500: ConditionalPass,
		500.01: ConditionalFail, 510: ConditionalFail, 520.56: ConditionalFail, 520.57: Fail, 600: Fail,
	} {
		if got := Upper(y, 12.5, 500); got != want {
			t.Errorf("Upper(%g, 12.5, 500) = %q, want %q", y, got, want)
		}
	}
}

// The guard band means: at its edge the limit is exceeded in one case of
// twenty. Conformance probability Φ((L-y)/u) of JCGM 106:2012 by hand: 0.99180
// at 470, 0.94520 at 480.
func TestGuardBandMeans95Percent(t *testing.T) {
	Φ := func(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }
	for y, want := range map[float64]float64{470: 0.99180, 480: 0.94520, 500 - GuardBand(12.5): 0.95} {
		if got := Φ((500 - y) / 12.5); math.Abs(got-want) > 2e-5 {
			t.Errorf("probability at %g = %.5f, want %.5f", y, got, want)
		}
	}
}

func TestUpperTooUncertain(t *testing.T) {
	// u = 304 gives w = 500.08 >= 500.
	for y, want := range map[float64]Outcome{0: NotDetermined, 499: NotDetermined, 1000: NotDetermined, 1000.09: Fail} {
		if got := Upper(y, 304, 500); got != want {
			t.Errorf("Upper(%g, 304, 500) = %q, want %q", y, got, want)
		}
	}
}

func TestOddNumbers(t *testing.T) {
	odd := []float64{math.NaN(), math.Inf(1), math.Inf(-1)}
	for _, x := range odd {
		for _, got := range []Outcome{Upper(x, 1, 5), Upper(1, x, 5), Upper(1, 1, x), Window(x, 1, 2, 3), Window(1, x, 2, 3), Window(1, 1, x, 3), Window(1, 1, 2, x)} {
			if got != NotDetermined {
				t.Errorf("with %g: %q, want %q", x, got, NotDetermined)
			}
		}
	}
	if Upper(1, -1, 5) != NotDetermined || Upper(1, 0, 0) != NotDetermined || Window(1, 0, 3, 2) != NotDetermined {
		t.Error("a negative uncertainty, a limit of zero and a window upside down determine nothing")
	}
}

func TestWindow(t *testing.T) {
	// Target 5.0 ± 2.8 K with u = 0.5 K, w = 0.8225 K.
	for y, want := range map[float64]Outcome{
		5: Pass, 6.97: Pass, 6.98: ConditionalPass, 7.8: ConditionalPass, 8: ConditionalFail, 8.63: Fail,
		3.03: Pass, 3.02: ConditionalPass, 2.2: ConditionalPass, 2: ConditionalFail, 1.37: Fail,
	} {
		if got := Window(y, 0.5, 2.2, 7.8); got != want {
			t.Errorf("Window(%g) = %q, want %q", y, got, want)
		}
	}
	if got := Window(5, 2, 2.2, 7.8); got != NotDetermined {
		t.Errorf("guard bands that meet: %q", got)
	}
	if got := Window(20, 2, 2.2, 7.8); got != Fail {
		t.Errorf("far outside whatever the uncertainty: %q", got)
	}
}

func TestWorstOrder(t *testing.T) {
	order := []Outcome{Fail, ConditionalFail, NotDetermined, ConditionalPass, Pass}
	for i, worse := range order {
		for _, better := range order[i:] {
			if Worst(better, worse) != worse || Worst(worse, better) != worse {
				t.Errorf("%q must outweigh %q", worse, better)
			}
		}
	}
	if Worst() != NotDetermined {
		t.Error("nothing judged is not determined")
	}
}

const micronPa = 0.133322387415

func microns(y, u float64) Estimate { return Estimate{Value: y * micronPa, U: u * micronPa} }

func TestJudge(t *testing.T) {
	common, err := Find("common-practice")
	if err != nil {
		t.Fatal(err)
	}
	limit := common.Criterion()
	good := Evidence{Reading: microns(300, 20), Rise: microns(80, 5), Lowest: microns(220, 20), Held: 900, Evacuations: 1}
	with := func(change func(*Evidence)) Evidence { e := good; change(&e); return e }
	all := Criterion{Reach: 250 * micronPa, Limit: 500 * micronPa, MaxRise: 100 * micronPa, Duration: 600}
	for _, c := range []struct {
		name string
		c    Criterion
		e    Evidence
		want Outcome
		code string
	}{
		{"good", limit, good, Pass, Compared},
		{"no criterion", Criterion{}, good, NotDetermined, NoCriterion},
		{"minutes alone are no criterion", Criterion{Duration: 600}, good, NotDetermined, NoCriterion},
		{"no evidence", limit, Evidence{}, NotDetermined, NoReading},
		{"too short", limit, with(func(e *Evidence) { e.Held = 599 }), NotDetermined, TooShort},
		{"held is not a number", limit, with(func(e *Evidence) { e.Held = math.NaN() }), NotDetermined, TooShort},
		{"exactly long enough", limit, with(func(e *Evidence) { e.Held = 600 }), Pass, Compared},
		{"gap", limit, with(func(e *Evidence) { e.Gap = true }), NotDetermined, Gap},
		{"overdue", limit, with(func(e *Evidence) { e.Overdue = "G1" }), NotDetermined, Overdue},
		{"over range below the limit", limit, with(func(e *Evidence) { e.Reading.AtLeast = true }), NotDetermined, OverRange},
		{"clear fail though short", limit, with(func(e *Evidence) { e.Held, e.Reading = 60, microns(900, 20) }), Fail, Compared},
		{"clear fail though overdue", limit, with(func(e *Evidence) { e.Overdue, e.Reading = "G1", microns(900, 20) }), Fail, Compared},
		{"clear fail though over range", limit, with(func(e *Evidence) { e.Reading = microns(900, 20); e.Reading.AtLeast = true }), Fail, ComparedOver},
		{"unclear fail and short", limit, with(func(e *Evidence) { e.Held, e.Reading = 60, microns(510, 20) }), NotDetermined, TooShort},
		{"uncertainty unknown", limit, with(func(e *Evidence) { e.Reading.U = 0 }), NotDetermined, NoAccuracy},
		{"all parts met", all, good, ConditionalPass, Compared}, // reach: 220 > 250 - 1.645·20
		{"rise decides", all, with(func(e *Evidence) { e.Rise = microns(140, 5) }), Fail, Compared},
		{"reach decides", all, with(func(e *Evidence) { e.Lowest = microns(260, 15) }), ConditionalFail, Compared},
		{"rise too uncertain", all, with(func(e *Evidence) { e.Rise = microns(10, 70) }), NotDetermined, TooUncertain},
		{"reach and minutes alone, short", Criterion{Reach: 300 * micronPa, Duration: 1200}, good, NotDetermined, TooShort},
		{"one evacuation of two", Criterion{Limit: 500 * micronPa, Duration: 600, Rounds: 2}, good, NotDetermined, TooFewRounds},
	} {
		got := Judge(c.c, c.e)
		if got.Outcome != c.want || got.Reason.Code != c.code {
			t.Errorf("%s: %q because %q (%s), want %q because %q", c.name, got.Outcome, got.Reason.Code, got.Reason.Text, c.want, c.code)
		}
		if got.Reason.Text == "" || strings.Contains(got.Reason.Text, "NaN") {
			t.Errorf("%s: the reason %q does not read", c.name, got.Reason.Text)
		}
	}
}

func TestReasonText(t *testing.T) {
	j := Judge(Criterion{Limit: 500 * micronPa, Duration: 600}, Evidence{Reading: microns(300, 20), Held: 425})
	if want := "the hold ended after 7 of the 10 minutes agreed"; j.Reason.Text != want {
		t.Errorf("reason %q, want %q", j.Reason.Text, want)
	}
	j = Judge(Criterion{Limit: 500 * micronPa, Duration: 600}, Evidence{Reading: microns(612, 20), Held: 700})
	if want := "612 micron against the limit of 500 micron"; j.Reason.Text != want {
		t.Errorf("reason %q, want %q", j.Reason.Text, want)
	}
}

// A sentence has no exponent and no negative zero.
func TestMicron(t *testing.T) {
	for x, want := range map[float64]string{20000: "20000 micron", 760000: "760000 micron", 612.34: "612.3 micron", 1.269: "1.269 micron",
		-5e-13: "0 micron", -7.5: "-7.5 micron"} {
		if got := micron(x * micronPa); got != want {
			t.Errorf("%g micron reads %q, want %q", x, got, want)
		}
	}
}

// 2 Pa in 6 h with a field gauge: an offset limit of 10 micron at both ends and
// steps of 10 micron give u = √(2·(1.333²/3 + 1.333²/12)) = 1.22 Pa and
// w = 2.0003 Pa, more than the 2 Pa allowed (GUM 4.3.7, F.2.2.1).
func TestTwoPascalInSixHours(t *testing.T) {
	p, err := Find("es-552-over-20kg")
	if err != nil {
		t.Fatal(err)
	}
	a := 10 * micronPa
	u := math.Sqrt(2 * (a*a/3 + a*a/12))
	e := Evidence{Lowest: Estimate{Value: 120, U: 8}, Rise: Estimate{Value: 0.3, U: u}, Held: 6.2 * 3600, Evacuations: 2}
	j := Judge(p.Criterion(), e)
	if j.Outcome != NotDetermined || j.Reason.Code != TooUncertain {
		t.Errorf("%q because %q, want not determined: too uncertain", j.Outcome, j.Reason.Text)
	}
	e.Rise.Value = 40
	if j := Judge(p.Criterion(), e); j.Outcome != Fail {
		t.Errorf("a rise of 40 Pa is %q, want a clear fail", j.Outcome)
	}
}

// A reading just above its limit is not printed as the limit: 500.04 micron fails to be at most 500, and 499.96 passes
// by less than the guard band; the limit itself is met (JCGM 106: conforming is y <= T_U). Micron to Pa by 0.133322387415 (NIST SP 811).
func TestReasonTellsReadingFromLimit(t *testing.T) {
	const micron = 0.133322387415
	for y, want := range map[float64]string{500.04: "500.04 micron against the limit of 500 micron", 500.0004: "500.0004 micron against the limit of 500 micron",
		499.96: "499.96 micron against the limit of 500 micron", 500: "500 micron against the limit of 500 micron", 612: "612 micron against the limit of 500 micron"} {
		j := Judge(Criterion{Limit: 500 * micron}, Evidence{Reading: Estimate{Value: y * micron, U: 30 * micron}})
		if j.Reason.Text != want || (j.Outcome == ConditionalPass) != (y <= 500) {
			t.Errorf("%g micron: %s: %q, want %q", y, j.Outcome, j.Reason.Text, want)
		}
	}
}

// The same level in two units is the same level: 0.3 Torr against 300 mTorr, 500 micron against 500 mTorr (1.4e-7 apart: 101325/760000 Pa and
// 0.133322387415 Pa, NIST SP 811), at the limit and at both ends of its guard band; a thousandth of a micron beyond is not.
func TestSameLevelInTwoUnits(t *testing.T) {
	const micron, millitorr, u = 0.133322387415, 101325.0 / 760000, 0.5
	for _, pair := range [][2]float64{{0.3 * (101325.0 / 760), 300 * millitorr}, {500 * micron, 500 * millitorr}, {500 * millitorr, 500 * micron}} {
		y, L := pair[0], pair[1]
		for shift, want := range map[float64][2]Outcome{0: {ConditionalPass, ConditionalFail}, -GuardBand(u): {Pass, ConditionalPass}, GuardBand(u): {ConditionalFail, Fail}} {
			if got := Upper(y+shift, u, L); got != want[0] {
				t.Errorf("%.9g %+.3g against %.9g Pa: %s, want %s", y, shift, L, got, want[0])
			}
			if got := Upper(L+shift+0.001*micron, u, L); got != want[1] {
				t.Errorf("a thousandth above %.9g %+.3g Pa: %s, want %s", L, shift, got, want[1])
			}
		}
	}
}
