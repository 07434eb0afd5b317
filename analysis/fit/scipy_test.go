package fit

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"strings"
	"testing"
)

// script fits the same curves with SciPy's trust-region least squares, from the true values.
const script = `
import json, sys
import numpy as np
from scipy.optimize import curve_fit
out = []
for c in json.load(sys.stdin):
    x, y = np.array(c["x"]), np.array(c["y"])
    f = lambda t, p0, a, m, tau: p0 + a*t - m*np.expm1(-t/tau)
    p, cov = curve_fit(f, x, y, p0=c["start"], sigma=np.array(c["sigma"]), bounds=([-np.inf, 0, 0, 1], np.inf), xtol=1e-14, ftol=1e-14, gtol=1e-14, x_scale=np.array(c["start"]), max_nfev=20000)
    out.append({"p": list(p), "sd": list(np.sqrt(np.diag(cov)))})
json.dump(out, sys.stdout)
`

// TestSciPy compares fits of noisy holds (leak and moisture together, both inside their bounds) with SciPy, an independent
// program (Debian's python3-scipy). Agreement to 1e-4 of a standard deviation in the values shows that both found the same least squares;
// standard deviations agree to 1e-3, as SciPy's Jacobian is a finite difference.
func TestSciPy(t *testing.T) {
	const python = "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import scipy").Run(); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("SciPy is needed in CI: install python3-scipy")
		}
		t.Skip("no SciPy here: install python3-scipy to run this comparison")
	}
	type job struct {
		X     []float64 `json:"x"`
		Y     []float64 `json:"y"`
		Sigma []float64 `json:"sigma"`
		Start []float64 `json:"start"`
	}
	r := rand.New(rand.NewPCG(3, 4))
	var jobs []job
	for range 12 {
		c := job{Start: []float64{40, 0.01 + 0.02*r.Float64(), 20 + 40*r.Float64(), 150 + 250*r.Float64()}}
		for i := range 240 {
			x := float64(i) * 10
			v := c.Start[0] + c.Start[1]*x - c.Start[2]*math.Expm1(-x/c.Start[3])
			c.X, c.Y, c.Sigma = append(c.X, x), append(c.Y, v*(1+0.005*r.NormFloat64())), append(c.Sigma, 0.005*v)
		}
		jobs = append(jobs, c)
	}
	in, err := json.Marshal(jobs)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "-c", script)
	cmd.Stdin = strings.NewReader(string(in))
	raw, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var theirs []struct{ P, SD []float64 }
	if err := json.Unmarshal(raw, &theirs); err != nil {
		t.Fatal(err)
	}
	for k, c := range jobs {
		compare(t, k, c.X, c.Y, c.Sigma, theirs[k].P, theirs[k].SD)
	}
}

func compare(t *testing.T, k int, x, y, sigma, p, sd []float64) {
	w := make([]float64, len(sigma))
	for i := range w {
		w[i] = 1 / sigma[i]
	}
	f, err := Problem{X: x, Y: y, W: w, Terms: 3, NonNegative: []bool{false, true, true}, Grid: [][]float64{logspace(20, 3000, 30)},
		Basis: func(th, x []float64, c [][]float64) {
			for i := range x {
				c[0][i], c[1][i], c[2][i] = 1, x[i], -math.Expm1(-x[i]/th[0])
			}
		}}.Fit()
	if err != nil {
		t.Fatal(err)
	}
	ours := append(append([]float64{}, f.Linear...), f.Nonlinear...)
	dev := append(append([]float64{}, f.LinearSD...), f.NonlinearSD...)
	for j := range ours {
		if math.Abs(ours[j]-p[j]) > 1e-4*dev[j] {
			t.Errorf("hold %d parameter %d: ours %.9g, SciPy %.9g, standard deviation %.3g", k, j, ours[j], p[j], dev[j])
		}
		if math.Abs(dev[j]/sd[j]-1) > 1e-3 {
			t.Errorf("hold %d deviation %d: ours %.6g, SciPy %.6g", k, j, dev[j], sd[j])
		}
	}
}
