package record

import "testing"

func TestStartupConcern(t *testing.T) {
	s := &Startup{Rows: []Judged{{Name: "superheat", Decision: "fail"}, {Name: "subcooling", Decision: "pass"}, {Name: "current", Decision: "conditional fail"}}}
	if got, want := s.Concern(), "start-up: superheat fail, current conditional fail"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	if got := (&Startup{Rows: s.Rows[1:2]}).Concern(); got != "" {
		t.Errorf("%q of a start-up that passed", got)
	}
}

// A decision answers the agreed change alone: what a table says of a pressure test
// is a loss beside it, and everything that is not a pass.
func TestConcern(t *testing.T) {
	lost, within := Between(-5e4, -9e4, -1e4, "Pa"), Between(-2e4, -6e4, 2e4, "Pa")
	for _, c := range []struct {
		p    *Pressure
		want string
	}{
		{nil, ""},
		{&Pressure{Decision: "pass", Change: within}, ""},
		{&Pressure{Decision: "pass", Change: lost}, "pressure test pass, but the readings show a loss: find it"},
		{&Pressure{Decision: "conditional pass", Change: lost}, "pressure test conditional pass, but the readings show a loss: find it"},
		{&Pressure{Decision: "fail", Change: lost, DecisionReason: "it fell"}, "pressure test fail: it fell"},
		{&Pressure{Decision: "not determined", Change: within, DecisionReason: "too short"}, "pressure test not determined: too short"},
		{&Pressure{Decision: "not determined", Note: &Note{Code: "no-criterion"}, DecisionReason: "nothing agreed"}, ""},
	} {
		if got := c.p.Concern(); got != c.want {
			t.Errorf("%+v: %q, want %q", c.p, got, c.want)
		}
	}
}
