package readings

import (
	"strings"
	"testing"
	"time"
)

// What a file says of its time zone is taken, in a header or above it. Denver is
// at UTC-06:00 in May and at UTC-07:00 in winter (tz database).
func TestStatedOffset(t *testing.T) {
	denver := zone(t, "America/Denver")
	site := time.Date(2031, 5, 20, 13, 0, 0, 0, denver)
	for text, want := range map[string]string{ // the clock as written for 13:00 at the site
		"Time (UTC-6),Vacuum (micron)":                                        "2031-05-20 13:00:00",
		"Time [UTC-06:00],Vacuum (micron)":                                    "2031-05-20 13:00:00",
		"\"Clock of the gauge, GMT-0600\",Vacuum (micron)":                    "2031-05-20 13:00:00",
		"Time (UTC+2),Vacuum (micron)":                                        "2031-05-20 21:00:00",
		"Time (+05:30),Vacuum (micron)":                                       "2031-05-21 00:30:00",
		"Time (Zulu),Vacuum (micron)":                                         "2031-05-20 19:00:00",
		"Time (MST),Vacuum (micron)":                                          "2031-05-20 12:00:00",
		"Time (MDT),Vacuum (micron)":                                          "2031-05-20 13:00:00",
		"Date (UTC),Time,Vacuum (micron)":                                     "2031-05-20,19:00:00",
		"Time zone;UTC\nTime,Vacuum (micron)":                                 "2031-05-20 19:00:00",
		"Timezone: UTC+02:00\nTime,Vacuum (micron)":                           "2031-05-20 21:00:00",
		"Time zone: (UTC-07:00) Mountain Time\nTime,Vacuum (micron)":          "2031-05-20 13:00:00",
		"Time zone: UTC-07:00\nTime,Vacuum (micron)":                          "2031-05-20 12:00:00",
		"Time zone;GMT-7;Denver\nTime,Vacuum (micron)":                        "2031-05-20 13:00:00",
		"Time zone: Etc/GMT+6\nTime,Vacuum (micron)":                          "2031-05-20 13:00:00",
		"All times are UTC\nTime,Vacuum (micron)":                             "2031-05-20 19:00:00",
		"Exported 2031-05-21 02:00 UTC\nTime,Vacuum (micron)":                 "2031-05-20 13:00:00",
		"Time,Vacuum\n[UTC+2],[micron]":                                       "2031-05-20 21:00:00",
		"Time zone: America/Denver\nTime,Vacuum (micron)":                     "2031-05-20 13:00:00",
		"Interval (s),5\nUploaded,2031-05-21 UTC\nLocal time,Vacuum (micron)": "2031-05-20 13:00:00",
		"Time (not UTC),Vacuum (micron)":                                      "2031-05-20 13:00:00",
		"Time (UTC),Vacuum (micron)":                                          "19:00:00",
		"Time (UTC+12),Vacuum (micron)":                                       "07:00:00",
	} {
		s, l := Read([]File{{"r.csv", []byte(text + "\n" + want + ",500\n")}}, Options{Zone: denver, JobDate: time.Date(2031, 5, 20, 0, 0, 0, 0, denver)})
		if s == nil || l.Stops() || !s.Start.Equal(site) {
			t.Errorf("%s: %v, %v", text, s, l)
		}
	}
	const other = "Time (EST),Vacuum (micron)\n2031-05-20 15:00:00,500\n"
	s, l := Read([]File{{"r.csv", []byte(other)}}, Options{Zone: denver})
	if s != nil || len(l) != 1 || !strings.Contains(l.Error(), `r.csv:1: column A "Time (EST)" has times in EST`) || !strings.Contains(l[0].Mend, `time = "Time (EST) [UTC-05:00]"`) {
		t.Errorf("%v, %q", l, mends(l))
	}
	s, l = Read([]File{{"r.csv", []byte(other)}}, Options{Zone: denver, Time: "Time (EST) [UTC-04:00]"})
	if s == nil || l.Stops() || !s.Start.Equal(site) || !strings.Contains(s.Inputs[0].DateWhy, `how far its times are from UTC`) {
		t.Errorf("%v, %v", s, l)
	}
}
