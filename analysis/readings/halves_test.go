package readings

import (
	"fmt"
	"strings"
	"testing"
)

// A decimal comma in a file of commas cuts its numbers in two; where the header
// has room for the second half, no cell is left over that would show it.
func TestHalved(t *testing.T) {
	file := func(head, row string, values ...any) string {
		b := head + "\n"
		for i, v := range values {
			b += fmt.Sprintf("2031-04-09 10:00:%02d,"+row+"\n", i, v)
		}
		return b
	}
	mbar := []any{"2,035", "1,250", "0,991", "0,904", "0,388", "0,380"}
	deep := []any{"0,388", "0,391", "0,394", "0,398", "0,401"}
	tenth := []any{"52,1", "51,4", "50,9", "50,3", "49,8", "49,7", "49,6"}
	for name, c := range map[string]struct {
		text  string
		stops bool
	}{
		"room behind":         {file("Time,Pressure (mbar),Temp (°C),Note,State", "%s,21,5,,", mbar...), true},
		"room beside":         {file("Time,Pressure (mbar),Note", "%s", mbar...), true},
		"only below 1":        {file("Time,Pressure (mbar),Note", "%s", deep...), true},
		"tenths":              {file("Time,Pressure (Pa),Temp (°C),Note", "%s,21,5,", tenth...), true},
		"numbers of rows":     {file("Time,Pressure (Pa),Row", "52,%s", "0001", "0002", "0003", "0004"), false},
		"one code":            {file("Time,Pressure (Pa),Code", "52,%s", "00", "00", "00", "00"), false},
		"whole degrees":       {file("Time,Pressure (Pa),Temp (°C)", "52,%d", 4, 5, 6, 7, 8, 9, 9), false},
		"whole degrees, bare": {file("Time,Pressure (Pa),Temp (°C)", "52,%d,", 14, 15, 16, 17, 18, 19, 20), false},
		"quoted":              {file("Time,Pressure (mbar),Temp (°C)", "\"%s\",21", mbar...), false},
	} {
		_, l := Read([]File{{"r.csv", []byte(c.text)}}, Options{})
		if c.stops != l.Stops() || c.stops && (l[0].Code != "too-wide" || !strings.Contains(l.Error(), `r.csv:2: column B`) || !strings.Contains(l[0].Mend, "decimal comma")) {
			t.Errorf("%s: %v", name, l)
		}
	}
	if s, l := Read([]File{{"r.csv", []byte(file("Time,Pressure (Pa),Note", "%s", mbar...))}}, Options{Decimal: "point"}); s == nil || l.Stops() || s.P[0] != 2 {
		t.Errorf("stated: %v, %v", s, l)
	}
}
