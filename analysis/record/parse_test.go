package record

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestParseFacts: all but the traces, and a file that was cut off is refused.
func TestParseFacts(t *testing.T) {
	r := &Record{Format: 1, Job: Job{Number: "1", Site: Party{Address: "a,\n \"traces\": {}"}}, Warnings: []Note{},
		Hold: &Hold{Rise: Between(1, 0.5, 2, "Pa")}, Traces: Traces{Start: "2031-04-09T12:00:00Z", Vacuum: &Trace{T: Floats{0, 1}, Y: Floats{2, 3}}}}
	data, err := r.JSON()
	if err != nil {
		t.Fatal(err)
	}
	whole, err := Parse(data)
	if err != nil {
		t.Fatal(err)
	}
	before := bytes.Clone(data)
	facts, err := ParseFacts(data)
	if err != nil || facts.Traces.Vacuum != nil || !bytes.Equal(before, data) {
		t.Fatal(err, facts)
	}
	whole.Traces = Traces{}
	if diff := cmp.Diff(whole, facts); diff != "" {
		t.Error(diff)
	}
	compact := []byte(strings.ReplaceAll(string(data), "\n", ""))
	if facts, err = ParseFacts(compact); err != nil || facts.Job.Number != "1" {
		t.Error(err)
	}
	for n := range len(data) - 4 {
		if _, err := ParseFacts(data[:n]); err == nil {
			t.Errorf("the first %d bytes of %d were taken for a record", n, len(data))
		}
	}
}

// TestFloats: a column is a list of numbers, however it is spaced, and nothing else.
func TestFloats(t *testing.T) {
	for text, want := range map[string]Floats{"[]": {}, " [ 1 ,\n 2.5e3,-4 ] ": {1, 2500, -4}, "null": nil,
		`["1"]`: nil, "[1,null]": nil, "[[1]]": nil, `{"0":1}`: nil, "[1e999]": nil, "7": nil, `"[1]"`: nil} {
		var got Floats
		err := json.Unmarshal([]byte(text), &got)
		if want == nil && text != "null" {
			if err == nil {
				t.Errorf("%s was taken for %v", text, got)
			}
		} else if diff := cmp.Diff(want, got); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", text, err, diff)
		}
	}
}
