package analysis

import (
	"math"
	"testing"

	"dryhold/analysis/fluid"
	"dryhold/analysis/job"
	"dryhold/analysis/quantity"
)

// TestVolumeFrom: a record never calls an uncertainty stated that was not. 15 %
// of 9.6 L at 95 % is u = 1.44 L/1.96.
func TestVolumeFrom(t *testing.T) {
	text := func(s string) (v quantity.Volume) {
		if err := v.UnmarshalText([]byte(s)); err != nil {
			t.Fatal(err)
		}
		return v
	}
	part := func(s string) job.System { return job.System{Components: []job.Component{{Volume: text(s)}}} }
	for _, c := range []struct {
		system job.System
		from   string
		u      float64
	}{
		{job.System{Volume: text("9.6 L ± 10 %")}, "stated", 0.96e-3 / 1.96},
		{job.System{Volume: text("9.6 L")}, "stated without uncertainty", 1.44e-3 / 1.96},
		{part("9.6 L ± 10 %"), "worked out from the pieces", 0.96e-3 / 1.96},
		{part("9.6 L"), "worked out from the pieces, some without uncertainty", 1.44e-3 / 1.96},
		{job.System{}, "", 0},
	} {
		if v := volumeOf(c.system); v.from != c.from || math.Abs(v.u-c.u) > 1e-9 {
			t.Errorf("%q, u %v m3; want %q, %v", v.from, v.u, c.from, c.u)
		}
	}
}

// TestRefrigerantByDesignation: ASHRAE 34 writes R-410A; what is not in the table stays as written.
func TestRefrigerantByDesignation(t *testing.T) {
	for written, want := range map[string]string{"R410a": "R-410A", "r-454b": "R-454B", "R-41A": "R-41A", "": ""} {
		r := &runner{job: &job.Job{System: job.System{Refrigerant: written}}}
		r.coolant, _ = fluid.LookUp(written)
		if got := r.system().Refrigerant; got != want {
			t.Errorf("%q: %q, want %q", written, got, want)
		}
	}
}
