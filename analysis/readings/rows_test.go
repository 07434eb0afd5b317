package readings

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// TestChannelsInRows: a unit that the job states does not make pressures of the rows
// of another channel, and one unit for all rows may still be that of another column.
func TestChannelsInRows(t *testing.T) {
	rows := "time,channel,value,unit\n2031-05-22T08:00:00,VAC,500,micron\n2031-05-22T08:00:02,AMB,21.0,C\n2031-05-22T08:00:05,VAC,490,micron\n"
	o := Options{ID: "r", Zone: time.UTC}
	for _, stated := range []string{"value", "value [micron]"} {
		o.Pressure = stated
		if s, l := Read([]File{{Name: "r.csv", Data: []byte(rows)}}, o); s != nil || !l.Stops() || !strings.Contains(l.Error(), "several channels below each other") {
			t.Errorf("pressure = %q: %v", stated, l)
		}
	}
	o.Pressure = "value [micron]"
	s, l := Read([]File{{Name: "r.csv", Data: []byte(strings.ReplaceAll(rows, "micron", "C"))}}, o)
	if s == nil || l.Stops() || s.Inputs[0].Used != 3 {
		t.Errorf("a unit column of the temperature: %v", l)
	}
}

// TestBlankAtFirst: a gauge that shows nothing until the pressure is in its range
// leaves as many cells blank as the pump needs.
func TestBlankAtFirst(t *testing.T) {
	var b strings.Builder
	b.WriteString("Time,Pressure [Pa],T1 [°C]\n")
	at := time.Date(2031, 5, 20, 16, 5, 0, 0, time.UTC)
	for i := range 200 {
		p := ""
		if i >= 135 {
			p = fmt.Sprint(2000 - 10*i)
		}
		fmt.Fprintf(&b, "%s,%s,21.0\n", at.Add(time.Duration(i)*2*time.Second).Format(time.DateTime), p)
	}
	s, l := Read([]File{{Name: "r.csv", Data: []byte(b.String())}}, Options{ID: "r", Zone: time.UTC})
	if l.Stops() {
		t.Fatal(l)
	}
	if in := s.Inputs[0]; in.Rows != 200 || in.Used != 65 || in.Rows != in.Used+in.NotANumber+in.OverRange+in.Unused {
		t.Errorf("%+v", in)
	}
}
