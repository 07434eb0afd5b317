package issue

import (
	"testing"

	"dryhold/analysis/fault"
	"dryhold/analysis/record"
)

// TestToldOnce: a warning that was told as a doubt of the job file is not told again, and
// another one of the same code is.
func TestToldOnce(t *testing.T) {
	slip := fault.Fault{Kind: fault.Job, Code: "unit", File: "job.toml", Line: 4, Found: "a unit that is no pressure", Doubt: true}
	w := &Work{Doubts: fault.List{slip}, Record: &record.Record{Warnings: []record.Note{{Code: "unit", Text: slip.Error()}, {Code: "unit", Text: "a column of another unit was not used"}}}}
	var o Outcome
	o.tell(w)
	if len(o.Warnings) != 1 || o.Warnings[0] != "a column of another unit was not used" {
		t.Errorf("%q", o.Warnings)
	}
}
