package readings

import (
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// A date that is none is told as the file has it, and by what is odd about it.
func TestOddDates(t *testing.T) {
	for stamp, want := range map[string]string{
		"1900-05-20 10:00:00":    `the year 1900 in "1900-05-20"; expected a year from 1970 to 2200`,
		"9999-05-20T10:00:00":    `the year 9999 in "9999-05-20"`,
		"10:00:00 5/20/0031":     `the year 31 in "5/20/0031"`,
		"2031-02-30 10:00:00":    `"2031-02-30" is no day of the calendar; expected`,
		"20310230 100000":        `"20310230" is no day`,
		"2031/13/20 10:00:00":    `"2031/13/20" is no day`,
		"31.4.2031 10:00:00":     `"31.4.2031" is no day of the calendar, read day first`,
		"31-Apr-31 10:00":        `"31-Apr-31" is no day`,
		"Fri Apr 31 2031 10:00":  `"Fri Apr 31 2031 10:00" is no day`,
		"4/31/31 10:00:00 AM":    `"4/31/31" is no day of the calendar, read month first`,
		"31 of April 2031 10:00": `"31 of April 2031 10:00" is no day`,
	} {
		s, l := Read([]File{{"r.csv", []byte("Time,Vacuum (Pa)\n" + stamp + ",5\n")}}, Options{ID: "r"})
		if s != nil || len(l) != 1 || l[0].Line != 2 || !strings.Contains(l.Error(), want) {
			t.Errorf("%s: %v, want %s", stamp, l, want)
		}
	}
}

// A month in letters leaves nothing to decide, wherever the day stands.
func TestMonthByName(t *testing.T) {
	for _, stamp := range []string{"May 3, 2031 10:00:00", "3 May 2031 10:00:00"} {
		s, l := Read([]File{{"r.csv", []byte("Time;Vacuum (Pa)\n" + stamp + ";5\n")}}, Options{ID: "r", Zone: time.UTC})
		if want := time.Date(2031, 5, 3, 10, 0, 0, 0, time.UTC); s == nil || l.Stops() || !s.Start.Equal(want) || s.Inputs[0].DateOrder != "month by name" {
			t.Errorf("%s: %v, %v", stamp, s, l)
		}
	}
}

// dayNumbers is a workbook with a column of such day numbers, shown as dates.
func dayNumbers(t *testing.T, days ...float64) File {
	f := excelize.NewFile()
	defer f.Close()
	style, err := f.NewStyle(&excelize.Style{NumFmt: 22})
	check(t, err)
	check(t, f.SetSheetRow("Sheet1", "A1", &[]any{"Time", "Vacuum (Pa)"}))
	for i, d := range days {
		cell, err := excelize.CoordinatesToCellName(1, i+2)
		check(t, err)
		check(t, f.SetSheetRow("Sheet1", cell, &[]any{d, 5 + i}))
		check(t, f.SetCellStyle("Sheet1", cell, cell, style))
	}
	b, err := f.WriteToBuffer()
	check(t, err)
	return File{"r.xlsx", b.Bytes()}
}

// In a workbook a time of day is a day number below 1: it has no date, as little
// as one in a text file.
func TestDayNumbers(t *testing.T) {
	o := Options{ID: "r", Zone: time.UTC, JobDate: start}
	s, l := Read([]File{dayNumbers(t, 0.5, 0.75, 0.2)}, o)
	if want := time.Date(2031, 4, 9, 12, 0, 0, 0, time.UTC); s == nil || !s.Start.Equal(want) || s.T[2] != 60480 || len(l) != 1 || l[0].Code != "no-date" {
		t.Errorf("times of day: %v, %v", s, l)
	}
	for want, days := range map[string][]float64{
		`r.xlsx!Sheet1:A2: the year 1900 in "1900-01-05 12:00:00"`: {5.5, 6},
		`A3: the year 2201`:        {47947, 109999},
		"times without a date (1)": {0.5, 47947},
		"near 00:00:00":            {0, 0.1},
	} {
		if s, l := Read([]File{dayNumbers(t, days...)}, o); s != nil || len(l) != 1 || !strings.Contains(l.Error(), want) {
			t.Errorf("%v: %v, want %s", days, l, want)
		}
	}
}

// A date in pieces is told as such.
func TestSpread(t *testing.T) {
	for _, data := range []string{
		"Year,Month,Day,Hour,Minute,Second,Vacuum (Pa)\n2031,4,9,10,0,0,5\n",
		"Month,Day,Year,Time,Vacuum (Pa)\n4,9,2031,10:00:00,5\n",
	} {
		s, l := Read([]File{{"r.csv", []byte(data)}}, Options{JobDate: start, Start: start})
		if s != nil || len(l) != 1 || !strings.Contains(l.Error(), "r.csv:1: the date stands in several columns: ") {
			t.Errorf("%v, %v", s, l)
		}
	}
	if s, l := Read([]File{{"r.csv", []byte("Year,Month,Time,Vacuum (Pa)\n2031,4,2031-04-09 10:00:00,5\n")}}, Options{}); s == nil || !s.Start.Equal(start) {
		t.Error(l)
	}
}

// Where the file names the order of its dates, that is evidence before the job's
// date; a row that can be read in one way only goes before both.
func TestPattern(t *testing.T) {
	for _, c := range []struct{ above, stamp, want string }{
		{"Date (DD/MM/YYYY)", "05/06/2031", "2031-06-05"},
		{"Date (MM/DD/YYYY)", "05/06/2031", "2031-05-06"},
		{"Datum (TT.MM.JJJJ)", "05/06/2031", "2031-06-05"},
		{"Date (JJ/MM/AAAA)", "05/06/2031", "2031-06-05"},
		{"Date format: mm-dd-yy\nDate", "05-06-31", "2031-05-06"},
		{"Date (YY/MM/DD)", "05/06/07", "2005-06-07"},
		{"Date\nmm/dd/yyyy,hh:mm:ss,micron", "05/06/2031", "2031-05-06"},
		{"Date (MM/DD/YYYY)", "13/06/2031", "2031-06-13"},
		{"Dates dd/mm/yy or mm/dd/yy\nDate", "05/06/2031", ""},
	} {
		head, under, _ := strings.Cut(c.above, "\nmm/dd")
		if under != "" {
			under = "mm/dd" + under + "\n"
		}
		s, l := Read([]File{{"r.csv", []byte(head + ",Time,Vacuum (micron)\n" + under + c.stamp + ",10:00:00,5\n")}}, Options{})
		if c.want == "" && (s != nil || l[0].Code != "date-order") || c.want != "" && (s == nil || s.Start.Format(time.DateOnly) != c.want) {
			t.Errorf("%s, %s: %v, %v", c.above, c.stamp, s, l)
		}
	}
}
