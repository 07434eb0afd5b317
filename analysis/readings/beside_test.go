package readings

import (
	"math"
	"strings"
	"testing"
	"time"
)

// What columns beside a clock and a pressure say of them.
func TestBeside(t *testing.T) {
	denver := zone(t, "America/Denver")
	site := time.Date(2031, 5, 20, 13, 0, 0, 0, denver)
	nan := math.NaN()
	for name, c := range map[string]struct {
		data, o string
		at      []float64 // s after 13:00 in Denver
		p       []float64
		mark    []Mark
		not     int
	}{
		"zone column":        {"Time,Time zone,Vacuum (Pa)\n2031-05-20 19:00:00,UTC,5\n2031-05-20 13:00:01,UTC-06:00,6\n", "", []float64{0, 1}, []float64{5, 6}, []Mark{0, 0}, 0},
		"site's zone":        {"Time,Timezone,Vacuum (Pa)\n2031-05-20 13:00:00,America/Denver,5\n", "", []float64{0}, []float64{5}, []Mark{0}, 0},
		"zone by name":       {"Time,Time zone,Vacuum (Pa)\n2031-05-20 13:00:00,(UTC-07:00) Mountain Time,5\n", "", []float64{0}, []float64{5}, []Mark{0}, 0},
		"abbreviations":      {"Time,TZ,Vacuum (Pa)\n2031-05-20 13:00:00,MDT,5\n2031-05-20 12:00:01,MST,5\n", "", []float64{0, 1}, []float64{5, 5}, []Mark{0, 0}, 0},
		"offset column":      {"Time,UTC offset,Vacuum (Pa)\n2031-05-20 13:00:00,-6,5\n2031-05-20 21:00:01,+02:00,5\n", "", []float64{0, 1}, []float64{5, 5}, []Mark{0, 0}, 0},
		"with its own":       {"Time,UTC offset,Vacuum (Pa)\n2031-05-20 13:00:00-06:00,-6,5\n", "", []float64{0}, []float64{5}, []Mark{0}, 0},
		"offset of a gauge":  {"Time,Offset,Zone,Vacuum (Pa)\n2031-05-20 13:00:00,-6,+2,5\n", "", []float64{0}, []float64{5}, []Mark{0}, 0},
		"ms":                 {"Date,Time,ms,Vacuum (Pa)\n2031-05-20,13:00:00,0,5\n2031-05-20,13:00:00,250,6\n", "", []float64{0, 0.25}, []float64{5, 6}, []Mark{0, 0}, 0},
		"ms that count on":   {"Time,ms,Vacuum (Pa)\n2031-05-20 13:00:00,0,5\n2031-05-20 13:00:02,2000,6\n", "", []float64{0, 2}, []float64{5, 6}, []Mark{0, 0}, 0},
		"status":             {"Time,Vacuum (Pa),Status\n2031-05-20 13:00:00,0,OVER\n2031-05-20 13:00:01,,Over range\n2031-05-20 13:00:02,0,No sensor\n2031-05-20 13:00:03,7,High\n2031-05-20 13:00:04,8,FAIL\n2031-05-20 13:00:05,2500,OL\n", "", []float64{0, 1, 3, 4, 5}, []float64{nan, nan, 7, 8, 2500}, []Mark{OverRange, OverRange, 0, 0, OverRange}, 1},
		"another's status":   {"Time,Vacuum (Pa),Pump status\n2031-05-20 13:00:00,5,error\n", "", []float64{0}, []float64{5}, []Mark{0}, 0},
		"status of each":     {"Time,Vacuum 1 (Pa),Status 1,Vacuum 2 (Pa),Status 2\n2031-05-20 13:00:00,5,ok,6,error\n", "Vacuum 1 (Pa)", []float64{0}, []float64{5}, []Mark{0}, 0},
		"two side by side":   {"Time A,Vacuum A (Pa),Time B,Vacuum B (Pa)\n2031-05-20 12:00:00,5,2031-05-20 13:00:00,6\n2031-05-20 12:00:01,5,,\n", "Vacuum B (Pa)", []float64{0}, []float64{6}, []Mark{0}, 0},
		"the first of them":  {"Date A,Time A,Vacuum A (Pa),Date B,Time B,Vacuum B (Pa)\n2031-05-20,13:00:00,5,2031-05-21,14:00:00,6\n", "Vacuum A (Pa)", []float64{0}, []float64{5}, []Mark{0}, 0},
		"the second of them": {"Date A,Time A,Vacuum A (Pa),Date B,Time B,Vacuum B (Pa)\n2031-05-19,12:00:00,5,2031-05-20,13:00:00,6\n", "Vacuum B (Pa)", []float64{0}, []float64{6}, []Mark{0}, 0},
	} {
		s, l := Read([]File{{"r.csv", []byte(c.data)}}, Options{Zone: denver, JobDate: site, Pressure: c.o})
		if s == nil || l.Stops() || s.Len() != len(c.at) || s.Inputs[0].NotANumber != c.not {
			t.Errorf("%s: %v, %v", name, s, l)
			continue
		}
		balanced(t, s)
		if in := s.Inputs[0]; in.Columns["ms"].Letter != map[string]string{"ms": "C"}[name] || (in.Columns["zone"].Letter != "") != (name == "zone column" || name == "abbreviations" || name == "offset column" || name == "with its own") {
			t.Errorf("%s: columns %v", name, in.Columns)
		}
		for i := range c.at {
			if at := site.Add(time.Duration(c.at[i] * 1e9)); !s.At(i).Equal(at) || s.P[i] != c.p[i] && !math.IsNaN(s.P[i]+c.p[i]) || s.Mark[i] != c.mark[i] {
				t.Errorf("%s, %d: %v %v %v, want %v %v %v", name, i, s.At(i), s.P[i], s.Mark[i], at, c.p[i], c.mark[i])
			}
		}
	}
	for data, want := range map[string]string{
		"Time,Time zone,Vacuum (Pa)\n2031-05-20 13:00:00,Europe/Madrid,5\n":        `r.csv:2: column B "Time zone": found "Europe/Madrid"; expected America/Denver`,
		"Time,ms,Vacuum (Pa)\n2031-05-20 13:00:00,x,5\n":                           `r.csv:2: column B "ms": found "x"; expected a number of ms`,
		"Time,TZ,Vacuum (Pa)\n2031-05-20 13:00:00,MDT,5\n2031-05-20 13:00:01,,5\n": "times with an offset from UTC (1) and without (1)",
		"Time,Pressure 10^-3 mbar\n2031-05-20 13:00:00,5\n":                        `"10^-3 mbar" is no known unit of pressure`,
		"Time,p / 10⁻² Pa\n2031-05-20 13:00:00,5\n":                                `"10⁻² Pa" is no known unit of pressure`,
		"Time,Vacuum x1000 micron\n2031-05-20 13:00:00,5\n":                        `"x1000 micron" is no known unit of pressure`,
	} {
		if s, l := Read([]File{{"r.csv", []byte(data)}}, Options{Zone: denver}); s != nil || !strings.Contains(l.Error(), want) {
			t.Errorf("%.40q: %v, %v", data, s, l)
		}
	}
	_, l := Read([]File{{"r.csv", []byte("Time,Time zone,Vacuum (Pa)\n2031-05-20 13:00:00,Mountain Standard Time,5\n")}}, Options{Zone: denver})
	if len(l) != 1 || !l[0].Doubt || l[0].Code != "zone" {
		t.Error(l)
	}
}

// Columns of days that are no dates, of another date than the readings', and of
// am and pm.
func TestDayColumns(t *testing.T) {
	want := time.Date(2031, 4, 9, 13, 0, 5, 0, time.UTC)
	for head, row := range map[string]string{
		"Day,Date,Time,Vacuum (Pa)":               "Wednesday,2031-04-09,13:00:05,5",
		"Day,Time,Vacuum (Pa)":                    "1,13:00:05,5",
		"Calibration date,Time,Vacuum (Pa)":       "2030-01-02,13:00:05,5",
		"Time,Vacuum (Pa),Report date":            "13:00:05,5,2031-05-01",
		"Date,Time,AM/PM,Vacuum (Pa)":             "04/09/2031,1:00:05,PM,5",
		"Datum,Uhrzeit,Druck am Manometer (Pa)":   "09.04.2031,13:00:05,5",
		"Time, \"Vacuum (Pa)\"":                   "2031-04-09 13:00:05, \"5\"",
		"Time,Vacuum (Pa)\n2031-04-09 13:00:05,5": "\fTime,Vacuum (Pa)",
	} {
		s, l := Read([]File{{"r.csv", []byte(head + "\n" + row + "\n")}}, Options{JobDate: want})
		if s == nil || l.Stops() || !s.Start.Equal(want) || s.P[0] != 5 {
			t.Errorf("%s: %v, %v", head, s, l)
		}
	}
	s, l := Read([]File{{"r.csv", []byte("Date,Time,Vacuum (Pa)\n1,13:00:05,5\n")}}, Options{JobDate: want})
	if s != nil || !strings.Contains(l.Error(), `r.csv:2: column A "Date": found "1"; expected a date such as 2031-04-09`) {
		t.Errorf("%v, %v", s, l)
	}
}
