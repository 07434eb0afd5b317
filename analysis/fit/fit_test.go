package fit

import (
	"math"
	"testing"
)

// rise is b1 (1 - exp(-b2 x)), the form of Misra1a and BoxBOD.
func rise(x, y []float64) Problem {
	return Problem{X: x, Y: y, Terms: 1,
		Basis: func(th, x []float64, c [][]float64) {
			for i := range x {
				c[0][i] = -math.Expm1(-th[0] * x[i])
			}
		},
		Grid: [][]float64{logspace(1e-5, 10, 40)}}
}

func logspace(lo, hi float64, n int) []float64 {
	out := make([]float64, n)
	for i := range out {
		out[i] = lo * math.Pow(hi/lo, float64(i)/float64(n-1))
	}
	return out
}

// digits is the log relative error that NIST uses: the number of correct significant digits.
func digits(got, want float64) float64 {
	if got == want {
		return 15
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

func need(t *testing.T, what string, got, want, least float64) {
	t.Helper()
	if d := digits(got, want); !(d >= least) {
		t.Errorf("%s = %.12g, certified %.12g: %.1f digits, need %g", what, got, want, d, least)
	}
}

var (
	misraX = []float64{77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0}
	misraY = []float64{10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.40, 75.47, 81.78}
	boxX   = []float64{1, 2, 3, 5, 7, 10}
	boxY   = []float64{109, 149, 149, 191, 213, 224}
)

// NIST Statistical Reference Datasets, nonlinear regression, Misra1a and BoxBOD: certified values. No starting values are
// given here, which NIST's two starts do.
func TestMisra1a(t *testing.T) {
	f, err := rise(misraX, misraY).Fit()
	if err != nil {
		t.Fatal(err)
	}
	need(t, "b1", f.Linear[0], 2.3894212918e+02, 8)
	need(t, "b2", f.Nonlinear[0], 5.5015643181e-04, 8)
	need(t, "sd b1", f.LinearSD[0], 2.7070075241, 8)
	need(t, "sd b2", f.NonlinearSD[0], 7.2668688436e-06, 8)
	need(t, "rss", f.RSS, 1.2455138894e-01, 8)
	// AICc with K = 3: worked value, -57.709319 (Burnham and Anderson's formula applied to the certified RSS).
	if a := AICc(14, f.RSS, 3); math.Abs(a+57.709319) > 1e-6 {
		t.Errorf("AICc = %.7f", a)
	}
}

func TestBoxBOD(t *testing.T) {
	f, err := rise(boxX, boxY).Fit()
	if err != nil {
		t.Fatal(err)
	}
	need(t, "b1", f.Linear[0], 2.1380940889e+02, 8)
	need(t, "b2", f.Nonlinear[0], 5.4723748542e-01, 8)
	need(t, "sd b1", f.LinearSD[0], 1.2354515176e+01, 8)
	need(t, "sd b2", f.NonlinearSD[0], 1.0455993237e-01, 8)
	need(t, "rss", f.RSS, 1.1680088766e+03, 8)
	if a := AICc(6, f.RSS, 3); math.Abs(a-49.627778) > 1e-6 {
		t.Errorf("AICc = %.7f", a)
	}
}

// NIST StRD Misra1b: the data of Misra1a with b1 (1 - (1 + b2 x/2)^-2), another rise that levels off.
func TestMisra1b(t *testing.T) {
	p := rise(misraX, misraY)
	p.Basis = func(th, x []float64, c [][]float64) {
		for i := range x {
			c[0][i] = 1 - math.Pow(1+th[0]*x[i]/2, -2)
		}
	}
	f, err := p.Fit()
	if err != nil {
		t.Fatal(err)
	}
	need(t, "b1", f.Linear[0], 3.3799746163e+02, 8)
	need(t, "b2", f.Nonlinear[0], 3.9039091287e-04, 8)
	need(t, "sd b1", f.LinearSD[0], 3.1643950207, 8)
	need(t, "sd b2", f.NonlinearSD[0], 4.2547321834e-06, 8)
	need(t, "rss", f.RSS, 7.5464681533e-02, 8)
}

// NIST StRD Lanczos3: three exponentials whose data carry five digits.
func TestLanczos3(t *testing.T) {
	y := []float64{2.5134, 2.0443, 1.6684, 1.3664, 1.1232, 0.9269, 0.7679, 0.6389, 0.5338, 0.4479, 0.3776, 0.3197,
		0.2720, 0.2325, 0.1997, 0.1723, 0.1493, 0.1301, 0.1138, 0.1000, 0.0883, 0.0783, 0.0698, 0.0624}
	x := make([]float64, len(y))
	for i := range x {
		x[i] = 0.05 * float64(i)
	}
	g := logspace(0.3, 20, 12)
	f, err := Problem{X: x, Y: y, Terms: 3, Ascending: true, Grid: [][]float64{g, g, g},
		Basis: func(th, x []float64, c [][]float64) {
			for j := range th {
				for i := range x {
					c[j][i] = math.Exp(-th[j] * x[i])
				}
			}
		}}.Fit()
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{8.6816414977e-02, 8.4400777463e-01, 1.5825685901}
	rates := []float64{9.5498101505e-01, 2.9515951832, 4.9863565084}
	for j := range want {
		need(t, "amplitude", f.Linear[j], want[j], 4)
		need(t, "rate", f.Nonlinear[j], rates[j], 4)
	}
	need(t, "rss", f.RSS, 1.6117193594e-08, 4)
	need(t, "sd b1", f.LinearSD[0], 1.7197908859e-02, 4)
}

func TestFitRefuses(t *testing.T) {
	if _, err := rise([]float64{1, 2}, []float64{1, 2}).Fit(); err != ErrFew {
		t.Errorf("two points: %v", err)
	}
	if _, err := rise([]float64{1, 2, 3}, []float64{1, math.NaN(), 3}).Fit(); err != ErrNotFinite {
		t.Errorf("NaN: %v", err)
	}
}

// A falling curve cannot be explained by a rise that must not be negative.
func TestNonNegative(t *testing.T) {
	p := rise([]float64{1, 2, 3, 4, 5}, []float64{-1, -2, -3, -4, -5})
	p.NonNegative = []bool{true}
	f, err := p.Fit()
	if err != nil || f.Linear[0] != 0 {
		t.Errorf("got %v, %v; want 0", f.Linear, err)
	}
}

// AR(1): n = 600, ρ = 0.9 is worth 32.086 readings, n = 60, ρ = 0.5 is worth 20.455: the sum done by hand with the exact
// formula; the large-n approximations are 31.579 and 20.
func TestEffectiveSize(t *testing.T) {
	if n := EffectiveSize(600, 0.9); math.Abs(n-32.086) > 5e-4 {
		t.Errorf("600, 0.9: %g", n)
	}
	if n := EffectiveSize(60, 0.5); math.Abs(n-20.455) > 5e-4 {
		t.Errorf("60, 0.5: %g", n)
	}
	if n := EffectiveSize(60, -0.3); n != 60 {
		t.Errorf("negative: %g", n)
	}
}

func TestAICcUndefined(t *testing.T) {
	if !math.IsInf(AICc(4, 1, 3), 1) {
		t.Error("AICc with n = K+1 is undefined")
	}
}
