package readings

import (
	"strings"
	"testing"
)

// What the job states and the file lacks is told with what the file has; what it
// states of the times is taken, or refused where it says nothing.
func TestStated(t *testing.T) {
	const data = "Time,Vacuum (micron),Ambient (°C)\n05/06/2031 10:00:00,500,21\n"
	for _, c := range []struct {
		o          Options
		want, mend string
	}{
		{Options{Pressure: "Vacuum"}, `r.csv:1: readings.pressure: no column "Vacuum"; the headers are "Time", "Vacuum (micron)", "Ambient (°C)"`, `did you mean pressure = "Vacuum (micron)"?`},
		{Options{Time: "column Z"}, `r.csv:1: readings.time: no column "column Z"`, "correct time in job.toml"},
		{Options{Time: "Time [furlong]"}, `readings.time: "furlong" is no unit of time and no offset from UTC`, "correct time"},
		{Options{Time: "Time [UTC+25:00]"}, `"UTC+25:00" is no unit of time`, "correct time"},
		{Options{}, "05/06/2031 can be 5 June 2031 or 6 May 2031", `time = "Time [dd/mm/yyyy]" or time = "Time [mm/dd/yyyy]"`},
	} {
		s, l := Read([]File{{"r.csv", []byte(data)}}, c.o)
		if s != nil || len(l) != 1 || !strings.Contains(l.Error(), c.want) || !strings.Contains(l[0].Mend, c.mend) {
			t.Errorf("%+v: %v\n%q", c.o, l, mends(l))
		}
	}
	const three = "Time,Vacuum min (micron),Vacuum max (micron),Vacuum avg (micron)\n2031-05-06 10:00:00,4,6,5\n"
	if s, l := Read([]File{{"r.csv", []byte(three)}}, Options{}); s != nil || !strings.Contains(l.Error(), `r.csv:1: no column is plainly the pressure: B "Vacuum min (micron)"`) || !strings.Contains(l[0].Mend, `or pressure = "Vacuum avg (micron)"`) {
		t.Errorf("%v, %q", l, mends(l))
	}
	if s, l := Read([]File{{"r.csv", []byte(three)}}, Options{Pressure: "Vacuum avg (micron)"}); s == nil || l.Stops() {
		t.Error(l)
	}
	for stated, want := range map[string]string{"Time [dd/mm/yyyy]": "2031-06-05", "Time [mm/dd/yyyy]": "2031-05-06"} {
		s, l := Read([]File{{"r.csv", []byte(data)}}, Options{Time: stated})
		if s == nil || l.Stops() || s.Start.Format("2006-01-02") != want || s.Inputs[0].DateWhy != "stated in the job" {
			t.Errorf("%s: %v, %v", stated, s, l)
		}
	}
}
