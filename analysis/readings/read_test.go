package readings

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/fault"
)

func zone(t testing.TB, name string) *time.Location {
	t.Helper()
	z, err := time.LoadLocation(name)
	check(t, err)
	return z
}

// TestRefused: every message names the place, what was found, and the line of
// job.toml or the step that settles it.
func TestRefused(t *testing.T) {
	job := Options{ID: "r", Zone: time.UTC}
	for _, c := range []struct{ name, data, want, mend string }{
		{"empty", "", "the file is empty", "export"},
		{"pdf", "%PDF-1.7\n", "a PDF document", "CSV or XLSX"},
		{"html", "\xef\xbb\xbf<!DOCTYPE html><table>", "a web page", "save it as XLSX or CSV"},
		{"xls", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "old binary format (.xls)", "save it as XLSX"},
		{"encrypted", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1 E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e\x00", "encrypted", "remove the password"},
		{"no header", "1;2\n3;4\n", "no header", `time = "column A"`},
		{"no rows", "Time,Vacuum (micron)\n", "a header with no readings under it", "export"},
		{"no unit", "Time,Vacuum\n2031-04-09 10:00:00,500\n", `r.csv:1: column B "Vacuum" has no unit`, `pressure = "Vacuum [micron]"`},
		{"psi", "Time,Pressure (psi)\n2031-04-09 10:00:00,500\n", "psia or psig", `"Pressure (psi) [psia]" or pressure = "Pressure (psi) [psig]"`},
		{"millipascal", "Time,Pressure (psia),p mPa\n2031-04-09 10:00:00,,500\n", `no unit`, "pressure ="},
		{"gauge", "Time,Pressure (psig)\n2031-04-09 10:00:00,500\n", "local atmosphere", "barometer ="},
		{"channels", "Time,Gauge A (micron),Gauge B (micron)\n2031-04-09 10:00:00,500,600\n", `several pressure columns: B "Gauge A (micron)", C "Gauge B (micron)"`, `pressure = "Gauge A (micron)" or pressure = "Gauge B (micron)"`},
		{"channels in rows", "Time,Value,Unit\n2031-04-09 10:00:00,500,micron\n2031-04-09 10:00:01,21,°C\n", `column B "Value" has values in micron and in °C: several channels below each other`, "export again with a column"},
		{"equal headers", "Time,Vacuum (Pa),Vacuum (Pa)\n2031-04-09 10:00:00,5,6\n", `B "Vacuum (Pa)", C "Vacuum (Pa)"`, `pressure = "column B" or pressure = "column C"`},
		{"order", "Time,Vacuum (micron)\n04/05/2031 10:00:00,500\n", "4 May 2031 or 5 April 2031", "[job] date ="},
		{"both orders", "Time,Vacuum (micron)\n13/05/2031 10:00:00,500\n05/13/2031 10:00:00,500\n", "only be day first", "export again"},
		{"exponent", "Time;Vacuum (micron)\n2031-04-09 10:00:00;12.5\n2031-04-09 10:00:01;1,2e3\n", `r.csv:3: column B "Vacuum (micron)": found "1,2e3"; expected a number in micron`, "correct the cell"},
		{"nan", "Time,Vacuum (micron)\n2031-04-09 10:00:00,NaN\n", `found "NaN"`, "correct"},
		{"inf", "Time,Vacuum (micron)\n2031-04-09 10:00:00,-Inf\n", `found "-Inf"`, "correct"},
		{"hex", "Time,Vacuum (micron)\n2031-04-09 10:00:00,0x1p9\n", `found "0x1p9"`, "correct"},
		{"beyond a double", "Time,Vacuum (micron)\n2031-04-09 10:00:00,500\n2031-04-09 10:00:05,1e400\n", `found "1e400"`, "correct"},
		{"two marks", "Time;Vacuum (micron)\n2031-04-09 10:00:00;1.5\n2031-04-09 10:00:01;1,5\n", `found "1,5"`, "correct"},
		{"thousands", "Time;Vacuum (micron)\n2031-04-09 10:00:00;1.500\n2031-04-09 10:00:01;900\n", `this is 1.5 or 1500`, `decimal = "point" (1.5) or decimal = "comma" (1500)`},
		{"bare comma", "Time,Vacuum (micron)\n2031-04-09 10:00:00,1,5\n", "no more cells than headers (2)", "semicolons"},
		{"elapsed", "Elapsed (s),Vacuum (micron)\n0,500\n", "counts elapsed time", "[[readings]] start ="},
		{"bare elapsed", "Time,Vacuum (micron)\n0,500\n1,400\n", `found "0"; expected a unit`, `time = "Time [s]" or time = "Time [min]"`},
		{"mm:ss", "Elapsed,Vacuum (micron)\n00:10,500\n", `found "00:10"`, `"Elapsed [mm:ss]" or time = "Elapsed [hh:mm]"`},
		{"midnight", "Time,Vacuum (micron)\n00:00:00,500\n00:00:01,400\n", "midnight or the start of a log", "start ="},
		{"no date", "Time,Vacuum (micron)\n10:00:00,500\n", "times without a date", "[job] date ="},
		{"bad time", "Time,Vacuum (micron)\n2031-04-09 10:00:00,500\n2031-04-09 10:61:00,500\n", `r.csv:3: column A "Time": found "2031-04-09 10:61:00"`, "correct"},
		{"no such day", "Time,Vacuum (micron)\n2031-02-29 10:00:00,500\n", "is no day of the calendar", "correct"},
		{"offsets", "Time,Vacuum (micron)\n2031-04-09T10:00:00Z,500\n2031-04-09T10:00:01,500\n", "times with an offset from UTC (1) and without (1)", "one form"},
		{"negative", "Time,Vacuum (micron)\n2031-04-09 10:00:00,500\n2031-04-09 10:00:01,-50\n", "row 3: an absolute pressure of -50 micron; expected no more than 1 %", "zeroed"},
		{"negative in two units", "Time,Vacuum\n2031-04-09 10:00:00,5 Pa\n2031-04-09 10:00:01,-1 mbar\n", "an absolute pressure of -100 Pa", "zeroed"},
		{"quote", "Time,Vacuum (micron)\n\"2031-04-09 10:00:00,500\n", "never closed", "export"},
		{"quote in the header", "Time,\"Vacuum (micron),Note\n2031-04-09 10:00:00,500,x\n", "r.csv:1: a quotation mark opens a cell and is never closed", "take the mark out"},
		{"quotes around rows", "Time,Vacuum (micron),Note\n2031-04-09 10:00:00,500,\"x\n2031-04-09 10:00:01,900,\n2031-04-09 10:00:02,500,y\"\n", "r.csv:2: a quotation mark opens a cell, and the next rows", "take the mark out"},
		{"zero bytes", "Time,Vac\x00uum\n\x01\x02", "zero bytes", "export"},
		{"unknown unit in its column", "Time,Vacuum,Unit\n2031-04-09 10:00:00,5,Pa\n2031-04-09 10:00:01,5,furlong\n", `r.csv:3: column C "Unit": found "furlong"`, "correct"},
		{"psi in the unit column", "Time,Vacuum,Unit\n2031-04-09 10:00:00,5,Pa\n2031-04-09 10:00:01,5,psi\n", `psia or psig`, "[psia]"},
		{"date missing", "Date,Time,Vacuum (Pa)\n2031-04-09,10:00:00,5\n,10:00:01,5\n", `r.csv:3: column A "Date": found ""; expected a date beside every time`, "fill in"},
		{"dates on some rows", "Time,Vacuum (Pa)\n2031-04-09 10:00:00,5\n10:00:01,5\n", "times without a date (1)", "full dates"},
		{"two units", "Time,Vacuum (micron)\n2031-04-09 10:00:00,500 mbar\n", `found "500 mbar"`, "correct"},
	} {
		s, l := Read([]File{{"r.csv", []byte(c.data)}}, job)
		if s != nil || !l.Stops() || !strings.Contains(l.Error(), c.want) || !slices.ContainsFunc(mends(l), func(m string) bool { return strings.Contains(m, c.mend) }) {
			t.Errorf("%s: %v\nmend %q\nwant %q\nand %q", c.name, l, mends(l), c.want, c.mend)
		}
		for _, m := range mends(l) { // the file itself is the evidence
			if m == "" || strings.Contains(m, "the cell") && !strings.Contains(m, "in a copy") {
				t.Errorf("%s: mend %q", c.name, m)
			}
		}
	}
}

// A header that two columns have says nothing of which is meant.
func TestStatedTwice(t *testing.T) {
	const data = "Time,Vacuum (Pa),Vacuum (Pa)\n2031-04-09 10:00:00,5,6\n"
	s, l := Read([]File{{"r.csv", []byte(data)}}, Options{ID: "r", Pressure: "Vacuum (Pa)"})
	if s != nil || len(l) != 1 || l[0].Code != "column" || !strings.Contains(l[0].Mend, `pressure = "column B" or pressure = "column C"`) {
		t.Errorf("%v, %v, %q", s, l, mends(l))
	}
}

func mends(l fault.List) (list []string) {
	for _, f := range l {
		list = append(list, f.Mend)
	}
	return list
}

// TestMeaning: what a few readings mean, by hand.
func TestMeaning(t *testing.T) {
	const micron = 0.133322387415 // Pa, the conventional millimetre of mercury over 1000
	april := Options{ID: "r", Zone: time.UTC, JobDate: time.Date(2031, 4, 9, 0, 0, 0, 0, time.UTC), Start: start, Atmosphere: 83400, RangeHigh: 25000 * micron}
	for _, c := range []struct {
		name, data string
		o          func(*Options)
		at         []float64 // s after 2031-04-09 10:00:00
		p          []float64 // Pa
		mark       []Mark
	}{
		{"job's date decides", "Time,Vacuum (Pa)\n04/09/2031 10:00:00,5\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"whole column decides", "Time,Vacuum (Pa)\n09/04/2031 10:00:00,5\n13/04/2031 10:00:00,5\n", nil, []float64{0, 4 * 86400}, []float64{5, 5}, []Mark{0, 0}},
		{"noon and midnight", "Time,Vacuum (Pa)\n2031-04-09 11:59:59 a.m.,5\n2031-04-09 12:00:00 p. m.,5\n", nil, []float64{7199, 7200}, []float64{5, 5}, []Mark{0, 0}},
		{"sub-second", "Time,Vacuum (Pa)\n2031-04-09 10:00:00.250,5\n2031-04-09 10:00:00.500,6\n", nil, []float64{0.25, 0.5}, []float64{5, 6}, []Mark{0, 0}},
		{"minutes", "Zeit [min];Druck [mbar]\n0,5;5\n1;6\n", nil, []float64{30, 60}, []float64{500, 600}, []Mark{0, 0}},
		{"minutes in decimals miss no second", "Elapsed (min),Vacuum (Pa)\n0.016666667,5\n1.016666667,6\n", nil, []float64{1, 61}, []float64{5, 6}, []Mark{0, 0}},
		{"over and under", "Time,Vacuum (micron)\n2031-04-09 10:00:00,>25000\n2031-04-09 10:00:01,<5\n2031-04-09 10:00:02,25000\n2031-04-09 10:00:03,O.L\n2031-04-09 10:00:04,-1\n2031-04-09 10:00:05,500\n",
			nil, []float64{0, 1, 2, 3, 4, 5}, []float64{25000 * micron, 5 * micron, 25000 * micron, math.NaN(), -micron, 500 * micron}, []Mark{OverRange, UnderRange, OverRange, OverRange, UnderRange, Used}},
		{"inches below the atmosphere", "Time,Vacuum (inHg)\n2031-04-09 10:00:00,-20\n", func(o *Options) { o.RangeHigh = 0 }, []float64{0}, []float64{83400 - 20*3386.388640341}, []Mark{0}},
		{"gauge pressure of a test", "Time,Pressure (barg)\n2031-04-09 10:00:00,30\n", func(o *Options) { o.Quantity, o.RangeHigh = Pressure, 0 }, []float64{0}, []float64{3083400}, []Mark{0}},
		{"unit from the job", "Time,Vacuum\n2031-04-09 10:00:00,5\n", func(o *Options) { o.Pressure = "vacuum [hPa]" }, []float64{0}, []float64{500}, []Mark{0}},
		{"a column by its letter under headers", "Time,Vacuum (Pa),Vacuum (Pa)\n2031-04-09 10:00:00,5,6\n", func(o *Options) { o.Pressure = "column C" }, []float64{0}, []float64{6}, []Mark{0}},
		{"its unit too", "Title,x,y\nTime,Vacuum,Vacuum\n2031-04-09 10:00:00,5,6\n", func(o *Options) { o.Pressure = "column B [hPa]" }, []float64{0}, []float64{500}, []Mark{0}},
		{"columns by letter", "2031-04-09 10:00:00,5\n2031-04-09 10:00:01,5\n", func(o *Options) { o.Time, o.Pressure = "column A", "column B [Pa]" }, []float64{0, 1}, []float64{5, 5}, []Mark{0, 0}},
		{"vacuum beside gauge", "Time,Vacuum (Pa),Low side pressure (psig)\n2031-04-09 10:00:00,5,0\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"two swapped rows", "Time,Vacuum (Pa)\n2031-04-09 10:00:00,5\n2031-04-09 10:00:02,7\n2031-04-09 10:00:01,6\n2031-04-09 10:00:03,8\n", nil, []float64{0, 1, 2, 3}, []float64{5, 6, 7, 8}, []Mark{0, 0, 0, 0}},
		{"newest first", "Time,Vacuum (Pa)\n2031-04-09 10:00:03,8\n2031-04-09 10:00:02,7\n2031-04-09 10:00:01,6\n2031-04-09 10:00:00,5\n", nil, []float64{0, 1, 2, 3}, []float64{5, 6, 7, 8}, []Mark{0, 0, 0, 0}},
		{"stated separator", "sep=;\nTime;Vacuum (Pa)\n2031-04-09 10:00:00;5\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"channels with a units line", "Zeit;Kanal 1;Kanal 2\n;mbar;°C\n2031-04-09 10:00:00;0,05;21,5\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"a reading with its unit", "Time,Reading\n2031-04-09 10:00:00,5 Pa\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"short names", "t [s]\tT [°C]\tp [Pa]\n0\t20\t5\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"joined names", "elapsed_min,pressure_pa\n1,5\n", nil, []float64{60}, []float64{5}, []Mark{0}},
		{"absolute in brackets", "Time,Torr (abs)\n2031-04-09 10:00:00,7.6\n", nil, []float64{0}, []float64{1013.25}, []Mark{0}},
		{"absolute in words", "Time,Absolute pressure (bar)\n2031-04-09 10:00:00,0.02\n", nil, []float64{0}, []float64{2000}, []Mark{0}},
		{"limits and barometer beside", "Time,Vacuum (Pa),Limit (Pa),Barometric pressure (hPa),Rise rate (Pa/min)\n2031-04-09 10:00:00,5,60,834,1\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"a repeated header and a summary", "Time,Vacuum (Pa)\n2031-04-09 10:00:00,5\nTime,Vacuum (Pa)\n2031-04-09 10:00:01,6\n\nAverage,5.5\n", nil, []float64{0, 1}, []float64{5, 6}, []Mark{0, 0}},
		{"a note of two lines", "Time,Vacuum (Pa),Note\n2031-04-09 10:00:00,5,\"pump off,\nvalve shut\"\n2031-04-09 10:00:01,6,\n", nil, []float64{0, 1}, []float64{5, 6}, []Mark{0, 0}},
		{"thousands in quotes", "Time,Vacuum (Pa)\n2031-04-09 10:00:00,\"1,234.5\"\n2031-04-09 10:00:01,\"2,000\"\n", nil, []float64{0, 1}, []float64{1234.5, 2000}, []Mark{0, 0}},
		{"a title with both words", "Vacuum over time\nVacuum,Date: 2031-04-09\nJob,7\nTime,Vacuum (Pa)\n2031-04-09 10:00:00,5\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"a total below date and time", "Date,Time,Vacuum (Pa)\n2031-04-09,10:00:00,5\nTotal,00:30:00,\n", nil, []float64{0}, []float64{5}, []Mark{0}},
		{"a unit a value", "Time,Vacuum\n2031-04-09 10:00:00,1.5 mbar\n2031-04-09 10:00:01,500 micron\n", nil, []float64{0, 1}, []float64{150, 500 * micron}, []Mark{0, 0}},
		{"a day with a time under Date", "Date,Vacuum (Pa)\n09-Apr-31 10:00:00,5\n09-Apr-31 10:00:10,6\n", nil, []float64{0, 10}, []float64{5, 6}, []Mark{0, 0}},
		{"serial in text", "Time,Vacuum (Pa)\n47947.41666666667,5\n47947.4166782407,6\n", nil, []float64{0, 1}, []float64{5, 6}, []Mark{0, 0}},
	} {
		o := april
		if c.o != nil {
			c.o(&o)
		}
		s, l := Read([]File{{"r.csv", []byte(c.data)}}, o)
		if s == nil || l.Stops() {
			t.Errorf("%s: %v", c.name, l)
			continue
		}
		balanced(t, s)
		if s.Len() != len(c.at) {
			t.Errorf("%s: %d readings, want %d", c.name, s.Len(), len(c.at))
			continue
		}
		for i := range c.at {
			at := start.Add(time.Duration(c.at[i] * 1e9))
			if !s.At(i).Equal(at) || math.Abs(s.P[i]-c.p[i]) > 1e-9*math.Abs(c.p[i]) || math.IsNaN(s.P[i]) != math.IsNaN(c.p[i]) || s.Mark[i] != c.mark[i] {
				t.Errorf("%s: row %d: %v %v %v, want %v %v %v", c.name, i, s.At(i), s.P[i], s.Mark[i], at, c.p[i], c.mark[i])
			}
		}
	}
}

// TestDaylightSaving: clocks of America/Denver go back at 2:00 on 2 November
// 2031 and forward at 2:00 on 9 March 2031 (tz database).
func TestDaylightSaving(t *testing.T) {
	denver := zone(t, "America/Denver")
	log := func(day string, clocks ...string) []byte {
		b := "Time,Vacuum (Pa)\n"
		for i, c := range clocks {
			b += fmt.Sprintf("%s %s,%d\n", day, c, i+5)
		}
		return []byte(b)
	}
	for _, c := range []struct {
		name, code string
		data       []byte
		first      string // RFC 3339
		at         []float64
	}{
		{"fold", "dst-fold", log("2031-11-02", "01:40:00", "01:50:00", "01:00:00", "01:10:00"), "2031-11-02T01:40:00-06:00", []float64{0, 600, 1200, 1800}},
		{"runs through the fold", "dst-not-set", log("2031-11-02", "00:50:00", "01:00:00", "01:30:00", "02:00:00", "02:10:00"), "2031-11-02T00:50:00-06:00", []float64{0, 600, 2400, 4200, 4800}},
		{"begins in the fold", "dst-fold", log("2031-11-02", "01:50:00", "02:00:00"), "2031-11-02T01:50:00-07:00", []float64{0, 600}},
		{"all in the fold", "dst-fold", log("2031-11-02", "01:40:00", "01:50:00"), "2031-11-02T01:40:00-06:00", []float64{0, 600}},
		{"spring, set", "", log("2031-03-09", "01:50:00", "03:00:00", "03:10:00"), "2031-03-09T01:50:00-07:00", []float64{0, 600, 1200}},
		{"spring, not set", "dst-not-set", log("2031-03-09", "01:50:00", "02:00:00", "02:10:00", "03:10:00"), "2031-03-09T01:50:00-07:00", []float64{0, 600, 1200, 4800}},
		{"named zone", "", log("2031-11-02", "01:50:00 MDT", "01:00:00 MST"), "2031-11-02T01:50:00-06:00", []float64{0, 600}},
	} {
		s, l := Read([]File{{"r.csv", c.data}}, Options{Zone: denver, JobDate: time.Date(2031, 6, 1, 0, 0, 0, 0, denver)})
		if s == nil || l.Stops() {
			t.Errorf("%s: %v", c.name, l)
			continue
		}
		if first := s.Start.Format(time.RFC3339); first != c.first || !slices.Equal(s.T, c.at) {
			t.Errorf("%s: %s %v, want %s %v", c.name, first, s.T, c.first, c.at)
		}
		if (len(l) == 1) != (c.code != "") || len(l) == 1 && l[0].Code != c.code {
			t.Errorf("%s: %v, want %q", c.name, l, c.code)
		}
	}
}

// TestClockSet: a longer step back is refused, a stretch exported twice is not.
func TestClockSet(t *testing.T) {
	row := func(sec, p int) string {
		return fmt.Sprintf("%s,%d\n", start.Add(time.Duration(sec)*time.Second).Format(time.DateTime), p)
	}
	set, twice := "Time,Vacuum (Pa)\n", "Time,Vacuum (Pa)\n"
	for i := range 20 {
		set += row(i, 5+i)
		twice += row(i, 5+i)
	}
	for i := range 20 {
		set += row(10+i, 50+i)
		twice += row(10+i, 15+i)
	}
	if _, l := Read([]File{{"r.csv", []byte(set)}}, Options{}); !l.Stops() || l[0].Code != "clock-set" {
		t.Error(l)
	}
	s, l := Read([]File{{"r.csv", []byte(twice)}}, Options{})
	if l.Stops() || s.Len() != 30 || s.Inputs[0].Duplicates != 10 || s.Inputs[0].OutOfOrder != 1 {
		t.Error(l, s)
	}
}

// TestFiles: several files make one recording; lock files are left out.
func TestFiles(t *testing.T) {
	one, two := "Time,Vacuum (Pa)\n2031-04-09 10:00:02,7\n2031-04-09 10:00:03,8\n", "Time,Vacuum (Pa)\n2031-04-09 10:00:00,5\n2031-04-09 10:00:02,7\n"
	s, l := Read([]File{{"a.csv", []byte(one)}, {"~$a.csv", nil}, {"b.csv", []byte(two)}}, Options{})
	if l.Stops() || len(l) != 1 || l[0].Code != "skipped" {
		t.Fatal(l)
	}
	balanced(t, s)
	if !slices.Equal(s.P, []float64{5, 7, 8}) || !slices.Equal(s.File, []uint16{1, 0, 0}) || !slices.Equal(s.Row, []int32{2, 2, 3}) || s.Inputs[1].Duplicates != 1 {
		t.Errorf("%+v", s)
	}
}

// TestHold: a negative pressure inside the stated hold is a fault, a small one
// outside it a zero offset.
func TestHold(t *testing.T) {
	data := []byte("Time,Vacuum (Pa)\n2031-04-09 10:00:00,500\n2031-04-09 10:00:10,-1\n2031-04-09 10:00:20,5\n")
	for _, c := range []struct {
		from, to int
		stops    bool
	}{{0, 5, false}, {5, 15, true}, {15, 20, false}} {
		o := Options{RangeHigh: 1000, HoldStart: start.Add(time.Duration(c.from) * time.Second), HoldEnd: start.Add(time.Duration(c.to) * time.Second)}
		s, l := Read([]File{{"r.csv", data}}, o)
		if l.Stops() != c.stops || c.stops != (s == nil) || s != nil && s.Inputs[0].UnderRange != 1 {
			t.Errorf("hold %d to %d s: %v", c.from, c.to, l)
		}
	}
}

// A column counted from the air that comes out below an absolute vacuum: the air's
// pressure is wrong, or the unit. 83.4 kPa - 30 * 3.386388640341 kPa = -18.19 kPa.
func TestBelowVacuum(t *testing.T) {
	s, l := Read([]File{{"r.csv", []byte("Time,Vacuum (inHg vac)\n2031-04-09 10:00:00,-30\n")}}, Options{Atmosphere: 83400})
	if s != nil || !strings.Contains(l.Error(), "row 2: 18.19 kPa below an absolute vacuum, from a reading in inHg vac") || !strings.Contains(l[0].Mend, "barometer") {
		t.Errorf("%v, %q", l, mends(l))
	}
}

// TestZones: a header in UTC, offsets in the file, and fixed spaces in a time.
func TestZones(t *testing.T) {
	o := Options{Zone: zone(t, "America/Denver"), JobDate: start}
	for _, data := range []string{
		"Time (UTC),Vacuum (Pa)\n2031-04-09 10:00:00,5\n",
		"Time,Vacuum (Pa)\n2031-04-09T04:00:00-06:00,5\n",
		"Time,Vacuum (Pa)\n2031-04-09 4:00:00\u202fAM,5\n",
		"Fecha;Hora;Vacío\n9 de abril de 2031;4:00:00 a.\u00a0m.;5 Pa\n",
		"Datum;Uhrzeit;Druck (Pa)\n9. April 2031;04:00 Uhr;5\n",
		"Unix time,Vacuum (Pa)\n1933495200,5\n",
	} {
		s, l := Read([]File{{"r.csv", []byte(data)}}, o)
		if l.Stops() || !s.Start.Equal(start) || s.P[0] != 5 {
			t.Errorf("%q: %v %+v", data, l, s)
		}
	}
}
