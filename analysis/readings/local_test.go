package readings

import (
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

// Local habits of writing a time: two rows, at 13:00:00 and 13:00:10 of the site.
// 13:00 in Denver in May is 19:00 UTC, 1937070000 s after 1970.
func TestLocalTimes(t *testing.T) {
	denver := zone(t, "America/Denver")
	site := time.Date(2031, 5, 20, 13, 0, 0, 0, denver)
	for _, c := range []struct{ head, one, two string }{
		{"Unix time (s)", "1937070000", "1937070010"},
		{"epoch", "1937070000.0", "1937070010.0"},
		{"Timestamp (ms)", "1937070000000", "1937070010000"},
		{"Timestamp", "1937070000000000", "1937070010000000"},
		{"Timestamp", "1937070000000000000", "1937070010000000000"},
		{"Time", "20310520130000", "20310520130010"},
		{"Date;Time", "20310520;130000", "20310520;130010"},
		{"Datum;Uhrzeit", "20.05.2031;13.00.00", "20.05.2031;13.00.10"},
		{"Datum;Uhrzeit", "20.05.31;13.00.00", "20.05.31;13.00.10"},
		{"Zeit", "20.05.2031 13.00.00", "20.05.2031 13.00.10"},
		{"Zeit", "20. Mai 2031 13.00.00", "20. Mai 2031 13.00.10"},
		{"Date;Hour", "2031-05-20;13:00:00", "2031-05-20;13:00:10"},
		{"Date", "47988.5416666667", "47988.5417824074"},
		{"Datum", "47988,5416666667", "47988,5417824074"},
		{"Time", "31/05/20 13:00:00", "31/05/20 13:00:10"},
		{"Time", "31-05-20 13:00:00", "31-05-20 13:00:10"},
		{"Time", "2031-05-20T13:00:00-06:00[America/Denver]", "2031-05-20T13:00:10-06:00[America/Denver]"},
		{"Time", "2031-05-20 13:00:00 (MDT)", "2031-05-20 13:00:10 (MDT)"},
		{"Time", "2031-05-20_13:00:00", "2031-05-20_13:00:10"},
		{"Time", "2031-05-20 - 13:00:00", "2031-05-20 - 13:00:10"},
		{"Time", "20/May/2031:13:00:00 -0600", "20/May/2031:13:00:10 -0600"},
		{"Date et heure", "20 mai 2031 à 13:00:00", "20 mai 2031 à 13:00:10"},
		{"Fecha y hora", "20 de mayo de 2031 a las 13:00:00", "20 de mayo de 2031 a las 13:00:10"},
		{"Elapsed", "0 days 00:00:00", "0 days 00:00:10"},
		{"Elapsed", "0h 00m 00s", "0h 00m 10s"},
		{"Elapsed", "PT0S", "PT10S"},
	} {
		data := c.head + ";Vacuum (micron)\n" + c.one + ";900\n" + c.two + ";800\n"
		s, l := Read([]File{{"r.csv", []byte(data)}}, Options{Zone: denver, JobDate: site, Start: site})
		if s == nil || l.Stops() || !s.Start.Equal(site) || s.Len() != 2 || s.T[1] != 10 {
			t.Errorf("%s, %s: %v, %v", c.head, c.one, s, l)
		}
	}
	for one, want := range map[string]string{ // what stays refused, and in which words
		"Elapsed;0:00:99": "expected a time since the start of the log such as 00:05:10",
		"Time;20.05.31 x": "expected a date and time such as",
		"Elapsed;5m 1h":   "expected a time since",
	} {
		head, value, _ := strings.Cut(one, ";")
		s, l := Read([]File{{"r.csv", []byte(head + ";Vacuum (micron)\n" + value + ";900\n")}}, Options{Start: site})
		if s != nil || !strings.Contains(l.Error(), want) {
			t.Errorf("%s: %v, %v", one, s, l)
		}
	}
}

// Two digits of a year are the first only where no other reading is near the job's
// date; where none is, the order is asked for.
func TestShortYears(t *testing.T) {
	data := []byte("Time,Vacuum (Pa)\n12/05/11 11:00:00,5\n")
	for day, want := range map[string]string{"2012-05-11": "2012-05-11", "2011-05-12": "2011-05-12", "2011-12-05": "2011-12-05", "2031-05-12": ""} {
		jobDate, err := time.Parse(time.DateOnly, day)
		check(t, err)
		s, l := Read([]File{{"r.csv", data}}, Options{JobDate: jobDate})
		switch {
		case want == "" && (s != nil || l[0].Code != "date-order"), want != "" && (s == nil || s.Start.Format(time.DateOnly) != want):
			t.Errorf("job of %s: %v, %v", day, s, l)
		}
	}
}

// A clock that was set by years while it ran leaves no recording.
func TestLeap(t *testing.T) {
	for _, data := range []string{
		"Time,Vacuum (Pa)\n1970-01-01 00:00:05,9\n1970-01-01 00:00:10,8\n2031-04-09 10:00:00,5\n",
		"Time,Vacuum (Pa)\n2036-01-01 00:00:05,9\n2031-04-09 10:00:00,5\n2031-04-09 10:00:05,5\n",
	} {
		s, l := Read([]File{{"r.csv", []byte(data)}}, Options{})
		if s != nil || l[len(l)-1].Code != "clock-set" || !strings.Contains(l.Error(), "more than a year lies between two readings") {
			t.Errorf("%v, %v", s, l)
		}
	}
}

// Tables above, words beside and marks within the readings that are none of them.
func TestBesideReadings(t *testing.T) {
	const rows = "2031-04-09 10:00:00,900\n2031-04-09 10:00:10,800\n2031-04-09 10:00:20,700\n"
	for name, data := range map[string]string{
		"summary above":         "Start time,Lowest vacuum (micron)\n2031-04-09 10:00:00,700\n\nTime,Vacuum (micron)\n" + rows,
		"two of them":           "Max pressure (micron),Min pressure (micron),Start time\n900,700,2031-04-09 10:00:00\nTime,Vacuum (micron)\n" + rows,
		"status, least, most":   "Time,Vacuum (micron),Vacuum status,Min (micron),Max (micron),Delta (micron)\n" + strings.ReplaceAll(rows, "00\n", "00,ok,1,2,3\n"),
		"two files with a mark": "\ufeffTime,Vacuum (micron)\n" + rows[:24] + "\ufeffTime,Vacuum (micron)\n" + rows[24:],
	} {
		s, l := Read([]File{{"r.csv", []byte(data)}}, Options{})
		if s == nil || l.Stops() || s.Len() != 3 || s.Inputs[0].Columns["pressure"].Header != "Vacuum (micron)" {
			t.Errorf("%s: %v, %v", name, s, l)
		}
	}
	s, l := Read([]File{{"r.csv", []byte("Time,Vacuum (uHg),Ambient (℃)\n2031-04-09 10:00:00,20000+,21.5\n2031-04-09 10:00:10,OVFL,21.5\n2031-04-09 10:00:20,700,21.5\n")}}, Options{})
	if s == nil || s.Inputs[0].OverRange != 2 || s.Inputs[0].Used != 1 || s.Ambient[2] != 294.65 {
		t.Errorf("%v, %v", s, l)
	}
	for data, want := range map[string]string{
		"[\n  {\"time\": 1}\n]": "a JSON file",
		"\xef\xbb\xbf":          "the file is empty",
		"\xff\xfe":              "the file is empty",
		"Time,Vacuum (Pa)\n2031-04-09 10:00:00,5" + strings.Repeat(",1", 600): "more than 512 columns",
		"Time,Vacuum (Pa)\n2031-04-09 10:00:00,-99999\n":                      "pressure of -99999 Pa",
	} {
		if s, l := Read([]File{{"r.csv", []byte(data)}}, Options{}); s != nil || !strings.Contains(l.Error(), want) {
			t.Errorf("%.40q: %v, %v", data, s, l)
		}
	}
}

// In a workbook true and false are no numbers, a time may stand on the first day
// of all, and what only a hidden sheet holds is told.
func TestOddCells(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	style, err := f.NewStyle(&excelize.Style{NumFmt: 21})
	check(t, err)
	check(t, f.SetSheetRow("Sheet1", "A1", &[]any{"Date", "Time", "Vacuum (Pa)"}))
	check(t, f.SetSheetRow("Sheet1", "A2", &[]any{"2031-04-09", 1.5, 5}))
	check(t, f.SetSheetRow("Sheet1", "A3", &[]any{"2031-04-09", 1.75, true}))
	check(t, f.SetCellStyle("Sheet1", "B2", "B3", style))
	b, err := f.WriteToBuffer()
	check(t, err)
	s, l := Read([]File{{"r.xlsx", b.Bytes()}}, Options{})
	if s == nil || !s.Start.Equal(time.Date(2031, 4, 9, 12, 0, 0, 0, time.UTC)) || s.Inputs[0].Used != 1 || s.Inputs[0].NotANumber != 1 {
		t.Errorf("%v, %v", s, l)
	}
	_, err = f.NewSheet("Cover")
	check(t, err)
	f.SetActiveSheet(1)
	check(t, f.SetSheetVisible("Sheet1", false))
	b, err = f.WriteToBuffer()
	check(t, err)
	if s, l = Read([]File{{"r.xlsx", b.Bytes()}}, Options{}); s != nil || !strings.Contains(l.Error(), "r.xlsx!Sheet1: readings in a hidden sheet only") {
		t.Errorf("%v, %v", s, l)
	}
}
