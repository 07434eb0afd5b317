package fault

import "testing"

// TestSort: what stops a record comes first, and how many more there are stands
// behind those of its file.
func TestSort(t *testing.T) {
	l := List{{Code: "more", File: "a.csv", Doubt: true}, {Code: "x", File: "a.csv", Line: 7, Doubt: true}, {Code: "x", File: "b.csv", Line: 2, Doubt: true},
		{Code: "x", File: "a.csv", Line: 3, Doubt: true}, {Code: "y", File: "b.csv", Line: 9}}
	l.Sort()
	got := ""
	for _, f := range l {
		got += f.Code + " " + f.Where() + "; "
	}
	if want := "y b.csv:9; x a.csv:3; x a.csv:7; more a.csv; x b.csv:2; "; got != want {
		t.Errorf("%s, not %s", got, want)
	}
}
