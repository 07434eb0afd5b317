package report

import (
	"strings"
	"testing"

	"dryhold/analysis/record"
	"dryhold/templates"
)

// headline of a record as it is drawn, its lines joined.
func headlineOf(t *testing.T, r *record.Record, audience string) string {
	b, err := newBuilder(r, testOptions(audience))
	if err != nil {
		t.Fatal(err)
	}
	return b.headline()
}

func TestHeadlines(t *testing.T) {
	for _, c := range []struct {
		decision, cause string
		inflow          bool
		want            string
	}{
		{"pass", "leak", true, "Criterion met, but the readings show a continuing inflow: find it"},
		{"conditional pass", "none", true, "Criterion met, but the readings show a continuing inflow: find it"},
		{"fail", "leak", true, "Criterion not met, and the readings show a continuing inflow: find it"},
		{"pass", "none", false, "Criterion met. No cause named; an inflow up to"},
		{"pass", "moisture", false, "Criterion met. The rise levels off: water, or gas leaving the oil"},
		{"pass", "not determined", false, "Criterion met. What caused the rise is not determined"},
		{"conditional pass", "moisture", false, "Criterion met, but by less than the uncertainty: not\u00a0proven. The rise levels off"},
		{"conditional fail", "not determined", false, "Criterion not met, but by less than the uncertainty."},
		{"fail", "moisture", false, "Criterion not met: 407\u00a0micron against a limit of 500\u00a0micron."},
		{"not determined", "none", false, "Not determined: "},
		{"not determined", "leak", true, "The readings show a continuing inflow: find it"},
	} {
		r := testRecord()
		r.Hold.Decision, r.Hold.Cause, r.Hold.Inflow = c.decision, c.cause, c.inflow
		for _, a := range templates.Audiences {
			if got := headlineOf(t, r, a); !strings.Contains(got, c.want) {
				t.Errorf("%s: %s and %s: %q", a, c.decision, c.cause, got)
			}
		}
	}
}

// TestDecidingPart: what failed is told by its own numbers, also without a limit.
func TestDecidingPart(t *testing.T) {
	const micron = 0.133322387415
	for _, c := range []struct{ what, want string }{
		{"reach", "Criterion not met: 450\u00a0micron reached, 300\u00a0micron asked for."},
		{"max_rise", "Criterion not met: a rise of 450\u00a0micron, 300\u00a0micron allowed."},
	} {
		r := testRecord()
		h := r.Hold
		h.Decision, h.Cause, h.Inflow = "fail", "moisture", false
		h.Criteria = []record.Criterion{{What: "limit", Limit: record.Plain(500*micron, "Pa"), Reading: record.Plain(407*micron, "Pa"), Decision: "pass"},
			{What: c.what, Limit: record.Plain(300*micron, "Pa"), Reading: record.Plain(450*micron, "Pa"), Decision: "fail"}}
		if got := headlineOf(t, r, "homeowner"); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s: %q", c.what, got)
		}
		h.Criteria, h.Limit = h.Criteria[1:], nil
		if got := headlineOf(t, r, "inspector"); !strings.HasPrefix(got, c.want) {
			t.Errorf("%s without a limit: %q", c.what, got)
		}
	}
}
