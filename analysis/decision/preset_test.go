package decision

import (
	"math"
	"testing"
)

// The texts' numbers in Pa and s: 270 Pa and 2 Pa as printed, 300 micron =
// 39.9967 Pa, 500 micron = 66.6612 Pa.
func TestPresetNumbers(t *testing.T) {
	const m300, m500 = 39.9967, 66.6612
	for name, want := range map[string]Criterion{
		"es-552-over-20kg":    {Reach: 270, MaxRise: 2, Duration: 6 * 3600, Rounds: 2},
		"es-552-under-20kg":   {Reach: 270, MaxRise: 2, Duration: 3 * 3600},
		"us-guide-15182":      {Reach: m300, Limit: m500, Duration: 3600},
		"maker":               {},
		"project":             {},
		"common-practice":     {Limit: m500, Duration: 600},
		"nl-1997-under-10kg":  {Reach: 270, Duration: 1800, RiseUnstated: true},
		"nl-1997-10-to-200kg": {Reach: 270, Duration: 3600, Rounds: 2, RiseUnstated: true},
		"us-guide-15741n":     {Reach: m300, Duration: 7200, Rounds: 3, RiseUnstated: true},
	} {
		p, err := Find(name)
		if err != nil {
			t.Error(err)
			continue
		}
		got := p.Criterion()
		same := math.Abs(got.Reach-want.Reach) < 1e-4 && math.Abs(got.Limit-want.Limit) < 1e-4 && got.MaxRise == want.MaxRise
		if !same || got.Duration != want.Duration || got.Rounds != want.Rounds || got.RiseUnstated != want.RiseUnstated {
			t.Errorf("%s = %+v, want %+v", name, got, want)
		}
	}
	if len(Presets()) != 9 {
		t.Errorf("%d presets, want the nine above and no other", len(Presets()))
	}
}

func TestPresetsSayWhereTheyComeFrom(t *testing.T) {
	seen := map[string]bool{}
	for _, p := range Presets() {
		if p.Text == "" || p.Source == "" || p.Certainty == "" || seen[p.Name] {
			t.Errorf("%q: text, source, certainty and a name of its own are needed", p.Name)
		}
		seen[p.Name] = true
		if (len(p.Asks) > 0) != p.Criterion().empty() {
			t.Errorf("%q: either numbers or a list of what the job must give", p.Name)
		}
	}
	if _, err := Find("nonsense"); err == nil {
		t.Error("an unknown name must be refused")
	}
}

// A criterion without a number for the rise can fail, but never pass.
func TestTargetAndDurationOnly(t *testing.T) {
	e := Evidence{Lowest: Estimate{Value: 20, U: 1}, Reading: Estimate{Value: 25, U: 1}, Rise: Estimate{Value: 5, U: 0.3}, Held: 4 * 3600, Evacuations: 3}
	for _, p := range Presets() {
		if p.Deciding() {
			continue
		}
		if j := Judge(p.Criterion(), e); j.Outcome != NotDetermined || j.Reason.Code != RiseUnstated {
			t.Errorf("%s: %q because %q", p.Name, j.Outcome, j.Reason.Text)
		}
		high := e
		high.Lowest.Value = 400
		if j := Judge(p.Criterion(), high); j.Outcome != Fail {
			t.Errorf("%s with the target missed: %q", p.Name, j.Outcome)
		}
	}
}

func TestCovers(t *testing.T) {
	p, _ := Find("nl-1997-10-to-200kg")
	for charge, want := range map[float64]bool{0: true, 5: false, 10: true, 200: true, 250: false} {
		if p.Covers(charge) != want {
			t.Errorf("Covers(%g kg) = %v", charge, !want)
		}
	}
}
