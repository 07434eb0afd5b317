package job

import (
	"encoding/json"
	"strings"
	"testing"
	"time"
)

func TestSkeleton(t *testing.T) {
	facts := Facts{Number: "2031-0147", Kind: "new", Date: time.Date(2031, 4, 9, 0, 0, 0, 0, time.UTC), Timezone: "America/Denver", Schema: "job.schema.json",
		Recordings: []Recording{{ID: "evacuation", Files: []string{"gauge-1.csv", "gauge-2.csv"}, Measures: "vacuum", Columns: "time A, pressure B (micron)"}, {ID: "nitrogen", Files: []string{"n2.csv"}, Measures: "pressure"}}}
	text := string(Skeleton(facts))
	j, faults := decode(text)
	if len(faults) > 0 {
		t.Fatalf("%v\n%s", faults, text)
	}
	if j.Hold.Acceptance != "common-practice" || j.Hold.Limit.Given() || j.Hold.Readings != "evacuation" {
		t.Errorf("%+v", j.Hold)
	}
	if got := strings.Join(j.Readings[0].File, "|"); got != "gauge-1.csv|gauge-2.csv" {
		t.Errorf("the files are %s", got)
	}
	two := facts
	two.Recordings = append(two.Recordings, Recording{ID: "second", Files: []string{"later.csv"}, Measures: "vacuum"})
	if again, _ := decode(string(Skeleton(two))); again.Hold.Readings != "second" || again.PressureTest.Readings != "nitrogen" {
		t.Errorf("hold from %q, pressure test from %q", again.Hold.Readings, again.PressureTest.Readings)
	}
	if !strings.HasPrefix(text, "#:schema job.schema.json\n") || !strings.Contains(text, "no published source was found") {
		t.Error(text)
	}
	facts.Maker = Maker{Limit: "350 micron", Minutes: "15", Document: "installation manual"}
	j, faults = decode(string(Skeleton(facts)))
	if len(faults) > 0 || j.Hold.Acceptance != "maker" || j.Hold.Limit.Text != "350 micron" || *j.Hold.Minutes != 15 {
		t.Errorf("%v %+v", faults, j.Hold)
	}
	if _, faults = decode(string(Skeleton(Facts{}))); !strings.Contains(faults.Error(), "job.number: missing") {
		t.Error(faults)
	}
}

// TestSkeletonComments takes away every # that stands before a key: each
// commented line is an example that must be right too.
func TestSkeletonComments(t *testing.T) {
	text := string(Skeleton(Facts{Number: "1", Date: time.Date(2031, 4, 9, 0, 0, 0, 0, time.UTC)}))
	var lines []string
	for _, l := range strings.Split(text, "\n") {
		bare := strings.TrimPrefix(l, "# ")
		if m := assignment.FindStringSubmatch(bare); m != nil || header.MatchString(bare) {
			l = bare
		}
		lines = append(lines, l)
	}
	whole := strings.Join(lines, "\n")
	for _, example := range [][2]string{{`"... micron"`, `"500 micron"`}, {"minutes = ...", "minutes = 10"}, {"acceptance = \"common", "# acceptance = \"common"}} {
		if !strings.Contains(whole, example[0]) {
			t.Fatalf("%s is gone", example[0])
		}
		whole = strings.Replace(whole, example[0], example[1], 1)
	}
	if _, faults := decode(whole); faults.Stops() {
		t.Errorf("%v\n%s", faults, whole)
	}
}

// TestCompanySkeleton: it serves as it is, and each commented line is right too.
func TestCompanySkeleton(t *testing.T) {
	text := string(CompanySkeleton(time.Date(2031, 4, 9, 0, 0, 0, 0, time.UTC)))
	var whole strings.Builder
	for _, l := range strings.Split(text, "\n") {
		if bare := strings.TrimPrefix(l, "# "); assignment.MatchString(bare) {
			l = bare
		}
		whole.WriteString(l + "\n")
	}
	for _, firm := range []string{text, whole.String()} {
		j, faults := Decode(File{"job.toml", []byte("format = 1\n[job]\nnumber = \"1\"\ndate = 2031-04-09\ntimezone = \"America/Denver\"\n")}, &File{"company.toml", []byte(firm)}, nil)
		if len(faults) > 0 || len(j.Instruments) != 1 {
			t.Errorf("%v\n%s", faults, firm)
		}
	}
}

func TestSchema(t *testing.T) {
	var s struct {
		Properties map[string]struct {
			Required   []string
			Properties map[string]struct{ Enum []string }
		}
	}
	if err := json.Unmarshal(Schema(), &s); err != nil {
		t.Fatal(err)
	}
	job := s.Properties["job"]
	if strings.Join(job.Required, " ") != "number date" || len(job.Properties["kind"].Enum) != 5 {
		t.Errorf("%+v", job)
	}
	if first, second := string(Schema()), string(Schema()); first != second {
		t.Error("two schemas differ")
	}
}

// TestKeys: every table of single values and every list of the format is there.
func TestKeys(t *testing.T) {
	for table, n := range map[string]int{"hold": 10, "system.line": 4, "instrument": 14, "job": 6} {
		if got := len(Keys(table)); got != n {
			t.Errorf("%s has %d keys, want %d", table, got, n)
		}
	}
	if Keys("nothing") != nil {
		t.Error("a table that is not there has keys")
	}
}
