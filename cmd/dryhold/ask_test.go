package main

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/job"
)

// TestAsk answers the questions as a person does, wrongly at first.
func TestAsk(t *testing.T) {
	var errs bytes.Buffer
	a := &app{err: &errs, out: &errs}
	f := &facts{}
	f.Refrigerant = "R-410A" // given by an option, so it is not asked for
	f.Recordings = []job.Recording{{First: time.Date(2031, 5, 20, 13, 0, 0, 0, time.UTC)}}
	answers := []string{"", "12/7", "12-7", "5/20/2031", "", "repiar", "repair", "America/Denver", "", "", "",
		"500", "500 micron", "", "ten", "10", "Installation manual", ""}
	if err := a.ask(strings.NewReader(strings.Join(answers, "\n")+"\n"), f); err != nil {
		t.Fatal(err)
	}
	if f.Number != "12-7" || f.Kind != "repair" || f.Date.Format(time.DateOnly) != "2031-05-20" || f.Altitude != "" ||
		f.Maker != (job.Maker{Limit: "500 micron", Minutes: "10", Document: "Installation manual"}) {
		t.Errorf("%+v", f)
	}
	if err := f.missing(); err != nil {
		t.Error(err)
	}
	said := errs.String()
	for _, want := range []string{`"12/7" cannot be part of a file's name`, "day of the job (empty: 2031-05-20, when the readings begin)", `"5/20/2031" is not a day`,
		`did you mean "repair"?`, "the unit is missing"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q was not said:\n%s", want, said)
		}
	}
	if strings.Contains(said, "refrigerant") {
		t.Error("what an option gave was asked for")
	}
}
