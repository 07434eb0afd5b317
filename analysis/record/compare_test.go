package record

import (
	"slices"
	"testing"
)

// Hand sums of E_n: the difference against the root of the sum of squares.
func TestCompareValues(t *testing.T) {
	for _, c := range []struct {
		name string
		a, b *Value
		want Finding
	}{
		{"3-4-5, just beyond", Between(10, 7, 13, "Pa"), Between(15.01, 11.01, 19, "Pa"), Beyond},
		{"3-4-5, just within", Between(10, 7, 13, "Pa"), Between(14.99, 10.99, 19, "Pa"), Within},
		{"the other way round", Between(15.01, 11.01, 19, "Pa"), Between(10, 7, 13, "Pa"), Beyond},
		{"the far sides do not count", Between(10, -90, 13, "Pa"), Between(15.01, 11.01, 900, "Pa"), Beyond},
		{"the same", Between(10, 7, 13, "Pa"), Between(10, 7, 13, "Pa"), Same},
		{"the same without an interval", Plain(10, "Pa"), Plain(10, "Pa"), Same},
		{"9.6 L with 15 % and with 10 %", Between(9.6e-3, 8.16e-3, 11.04e-3, "m3"), Between(9.6e-3, 8.64e-3, 10.56e-3, "m3"), Within},
		{"with an interval and without", Between(10, 7, 13, "Pa"), Plain(10, "Pa"), Within},
		{"no interval", Plain(10, "Pa"), Between(20, 19, 21, "Pa"), Differs},
		{"one", nil, Plain(1, "Pa"), OneOnly},
	} {
		if got := compareValues(c.a, c.b); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func TestCompare(t *testing.T) {
	u := Plain(1, "K")
	old := &Record{Job: Job{System: System{Circuit: "A", Refrigerant: "R-32"}}, Hold: &Hold{Decision: "pass", Cause: "none", Rise: Plain(1, "Pa"), Start: "2031-04-09T10:00:00Z", End: "2031-04-09T10:10:00Z"},
		Startup: &Startup{Rows: []Judged{{Name: "current", Value: Plain(5, "1")}, {Name: "current", Value: Plain(6, "1")}, {Name: "superheat", Value: Plain(5, "K"), U: u}}}}
	new := &Record{Job: Job{System: System{Circuit: "A", Refrigerant: "R-410A"}}, Hold: &Hold{Decision: "pass", Cause: "leak", Start: "2031-05-09T10:00:00Z", End: "2031-05-09T10:20:00Z"},
		Startup: &Startup{Rows: []Judged{{Name: "superheat", Value: Plain(8, "K"), U: u}, {Name: "current", Value: Plain(5, "1")}, {Name: "subcooling", Value: Plain(4, "K")}, {Name: "insulation resistance", Value: Plain(1, "1"), Stated: "2 megohm"}}}}
	var got []string
	for _, p := range Compare(old, new) {
		got = append(got, p.Key+": "+string(p.Finding))
	}
	want := []string{"circuit: the same", "refrigerant: differs", "hold.result: differs", "hold.length: differs", "hold.rise: in one of them only",
		"startup.current: the same", "startup.current 2: in one of them only", "startup.superheat: differs beyond uncertainty", "startup.subcooling: in one of them only", "startup.insulation resistance: in one of them only"}
	if !slices.Equal(got, want) {
		t.Errorf("got  %q\nwant %q", got, want)
	}
	if list := Compare(&Record{}, &Record{}); len(list) != 0 {
		t.Errorf("two records that know nothing: %v", list)
	}
}
