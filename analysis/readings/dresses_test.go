package readings

import (
	"strings"
	"testing"
	"time"

	"dryhold/analysis/quantity"
)

// Columns parted by blanks are read where every row has all cells, and refused
// with one sentence where a cell could have slipped.
func TestBlanks(t *testing.T) {
	const fixed = "Log of an invented circuit\n\nDate        Time        Vacuum (micron)   Ambient (°C)\n" +
		"2031-04-09  14:00:00             1250           21.5\n2031-04-09  14:00:10              900           21.5\n2031-04-09  14:00:20              800           21.5\nMinimum                           800\n"
	for name, c := range map[string]struct {
		text string
		want int // readings; 0 where it is refused
	}{
		"runs of blanks":     {fixed, 3},
		"single blanks":      {"Time Vacuum[micron]\n2031-04-09T14:00:00 1250\n2031-04-09T14:00:10 900\n", 2},
		"stamp with a blank": {"Timestamp              Micron\n2031-04-09 14:00:00      1250\n2031-04-09 14:00:10       900\n", 2},
		"decimal comma":      {"Zeit (s)  Druck (mbar)\n0,0      1,666\n10,0     1,250\n20,0     1,1\n", 3},
		"blank cell":         {strings.Replace(fixed, "  900", "     ", 1), 0},
		"short header":       {"Time   Vacuum (micron)\n2031-04-09  14:00:00   1250\n2031-04-09  14:00:10    900\n", 0},
	} {
		o := Options{ID: "vac", Start: time.Date(2031, 4, 9, 14, 0, 0, 0, time.UTC)}
		s, l := Read([]File{{"log.txt", []byte(c.text)}}, o)
		switch {
		case c.want == 0 && (s != nil || len(l) != 1 || l[0].Code != "blanks" && l[0].Code != "header"):
			t.Errorf("%s: read %v, %v", name, s, l)
		case c.want > 0 && (s == nil || s.Len() != c.want || s.Inputs[0].Separator != "blanks"):
			t.Errorf("%s: %v, %v", name, s, l)
		}
	}
}

// A logger that was started again writes its header again: the same is left out
// and counted, another stops.
func TestHeaderAgain(t *testing.T) {
	const first = "Time,Vacuum (micron),Temp (°C)\n2031-04-09 14:00:00,900,21\n2031-04-09 14:00:10,800,21\n"
	for name, c := range map[string]struct {
		again, code string
	}{
		"same":         {"Time,Vacuum (micron),Temp (°C)\n2031-04-09 14:00:20,700,21\n", ""},
		"other unit":   {"Time,Vacuum (Pa),Temp (°C)\n2031-04-09 14:00:20,93.3,21\n", "header-again"},
		"swapped":      {"Time,Temp (°C),Vacuum (micron)\n2031-04-09 14:00:20,21,700\n", "header-again"},
		"moved":        {"Time,Note,Vacuum (micron)\n2031-04-09 14:00:20,x,700\n", "header-again"},
		"units line":   {"Time,Vacuum (micron),Temp (°C)\n,[Pa],\n2031-04-09 14:00:20,93.3,21\n", "header-again"},
		"same units":   {"\n,microns,°C\n2031-04-09 14:00:20,700,21\n", ""},
		"footer":       {"2031-04-09 14:00:20,700,21\nDuration,Lowest vacuum,Mean temperature\nTotal,700 micron,21 °C\n", ""},
		"annotation":   {"Time 14:00:15,vacuum pump stopped,\n2031-04-09 14:00:20,700,21\n", ""},
		"summary rows": {"Minimum,700,21\nEnd,,\n2031-04-09 14:00:20,700,21\n", ""},
	} {
		s, l := Read([]File{{"log.csv", []byte(first + c.again)}}, Options{ID: "vac"})
		switch {
		case c.code == "" && (s == nil || s.Len() != 3 || l.Stops()):
			t.Errorf("%s: %v", name, l)
		case c.code != "" && (s != nil || len(l) != 1 || l[0].Code != c.code):
			t.Errorf("%s: %v", name, l)
		}
	}
}

// A reading that is out of range on an unknown side never makes a hold look better.
func TestSideless(t *testing.T) {
	var b strings.Builder
	b.WriteString("Time,Vacuum (micron)\n")
	words := []string{"Out of range", "fuera de rango", "hors plage", "außerhalb des Messbereichs", "OOR", "off scale"}
	for i, w := range words {
		b.WriteString("2031-04-09 14:00:0" + string(rune('0'+i)) + "," + w + "\n")
	}
	b.WriteString("2031-04-09 14:00:09,800\n")
	s, l := Read([]File{{"log.csv", []byte(b.String())}}, Options{ID: "vac"})
	if s == nil || s.Inputs[0].OverRange != len(words) || len(l) != 1 || l[0].Code != "side" || !l[0].Doubt || !strings.Contains(l[0].Found, "(rows: 6)") {
		t.Errorf("vacuum: %+v, %v", s, l)
	}
	s, l = Read([]File{{"log.csv", []byte(strings.Replace(b.String(), "micron", "psia", 1))}}, Options{ID: "n2", Quantity: Pressure})
	if s == nil || s.Inputs[0].NotANumber != len(words) || len(l) != 1 || l[0].Code != "side" {
		t.Errorf("pressure: %+v, %v", s, l)
	}
}

// What a held-out set of exports showed: forms of a time and names of a unit that
// are read, and columns that are none.
func TestHeldOut(t *testing.T) {
	want := time.Date(2031, 4, 9, 14, 0, 10, 0, time.UTC)
	for _, c := range []struct{ head, stamp, code string }{
		{"Date et heure;Vide (micron)", "09/04/2031 14h00:10", ""},
		{"Date et heure;Vide (micron)", "09/04/2031 14h00min10s", ""},
		{"Time;Micron level", "2031-04-09 14:00:10:000", ""},
		{"ts;vacuum.micron", "2031-04-09T14:00:10Z", ""},
		{"Time;Pressure (microns of Hg)", "Wed Apr 09 2031 14:00:10 GMT+0000 (Coordinated Universal Time)", ""},
		{"Fecha y hora;Vacío (micras)", "09/04/2031 02:00:10 p. m.", ""},
		{"Interval;Vacuum (micron)", "2031-04-09 14:00:10", "header"},
		{"Time;Vacuum (micron)", "'2031-04-09 14:00:10", "no-rows"},
	} {
		text := c.head + "\n" + strings.Replace(c.stamp, "10", "00", 1) + ";900\n" + c.stamp + ";800\n"
		s, l := Read([]File{{"log.csv", []byte(text)}}, Options{ID: "vac", JobDate: want})
		switch {
		case c.code == "" && (s == nil || l.Stops() || s.Len() != 2 || !s.At(1).Equal(want)):
			t.Errorf("%s, %s: %v", c.head, c.stamp, l)
		case c.code != "" && (s != nil || l[0].Code != c.code):
			t.Errorf("%s, %s: %v, %v", c.head, c.stamp, s, l)
		}
	}
	text := "Time,Vacuum (micron)\n2031-04-09 14:00:00,\"12,500\"\n2031-04-09 14:00:10,900\n"
	if s, l := Read([]File{{"log.csv", []byte(text)}}, Options{ID: "vac"}); s != nil || len(l) != 1 || !strings.Contains(l[0].Mend, `decimal = "point" (12500) or decimal = "comma" (12.5)`) {
		t.Errorf("a mark that can be read both ways: %v, %v", s, l)
	}
	for decimal, want := range map[string]float64{"point": 12500, "comma": 12.5} {
		if s, l := Read([]File{{"log.csv", []byte(text)}}, Options{ID: "vac", Decimal: decimal}); s == nil || s.P[0] != quantity.Micron.Pa(want, 0) {
			t.Errorf("%s: %v", decimal, l)
		}
	}
	text = "Step (s),Vacuum (micron)\n" + strings.Repeat("10,900\n10,800\n", 5)
	if s, l := Read([]File{{"log.csv", []byte(text)}}, Options{ID: "vac", Start: want}); s != nil || !strings.Contains(l.Error(), "have the same time") {
		t.Errorf("a time that stands still: %v, %v", s, l)
	}
}
