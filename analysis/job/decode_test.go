package job

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"dryhold/analysis/fault"
)

// good is a whole, correct job; the tests spoil it.
const good = `format = 1
[job]
number = "2031-0147"
kind = "new"
date = 2031-04-09
timezone = "America/Denver"
altitude = "1609 m"
barometer = "83.4 kPa"
[company]
name = "Example Mechanical"
[system]
refrigerant = "R-454B"
volume = "9.6 L ± 15 %"
[[system.line]]
role = "liquid"
diameter = "3/8 in"
wall = "0.032 in"
length = "35 ft"
[boundary]
included = ["line set", "indoor coil"]
gauge_at = "far end"
cores_removed = true
[[instrument]]
id = "gauge"
measures = "vacuum"
range = "0 to 20000 micron"
accuracy = "10 % + 5 micron"
serial = "00123"
[[readings]]
id = "evacuation"
file = "gauge.csv"
instrument = "gauge"
[evacuation]
hose = [{diameter = "3/8 in", length = "5 ft"}]
[hold]
start = 2031-04-09T13:05:00
end = 2031-04-09T13:25:00
reach = "300 micron"
limit = "500 micron"
minutes = 10
[charge]
added = "7 lb 1 oz"
time = 2031-04-09T14:00:00
`

func decode(text string) (*Job, fault.List) {
	return Decode(File{"job.toml", []byte(text)}, nil, nil)
}

func TestDecode(t *testing.T) {
	j, faults := decode(good)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	if j.Instruments[0].Serial != "00123" {
		t.Errorf("serial %q lost its leading zeros", j.Instruments[0].Serial)
	}
	// 15 % of 9.6 L as a 95 % interval: u = 1.44 L/1.96
	if v := j.System.Volume; v.SI != 0.0096 || v.U < 0.000734 || v.U > 0.000735 {
		t.Errorf("volume %v, u %v", v.SI, v.U)
	}
	// Denver is six hours behind UTC in April (daylight-saving time).
	if want := time.Date(2031, 4, 9, 19, 5, 0, 0, time.UTC); !j.Hold.Start.Equal(want) {
		t.Errorf("start %v, want %v", j.Hold.Start, want)
	}
	if j.Evacuation.Readings != "evacuation" || j.Hold.Readings != "evacuation" {
		t.Error("the only recording is not taken")
	}
	if got := len(j.Evacuation.Hose); got != 1 || *j.Hold.Minutes != 10 || !*j.Boundary.CoresRemoved {
		t.Errorf("hose %d, minutes %v", got, *j.Hold.Minutes)
	}
}

// TestFaults spoils one thing each; every message is compared whole, with the
// place as an editor shows it.
func TestFaults(t *testing.T) {
	for _, c := range []struct{ name, old, new, want, mend string }{
		{"misspelt key", `limit = "500`, `limt = "500`, `job.toml:39:1: hold.limt: no such key; expected limit`, "did you mean limit?"},
		{"key of another table", `minutes = 10`, `volume_flow_rate = "4 cfm"`, `job.toml:40:1: hold.volume_flow_rate: no such key; expected one of acceptance, document, end, limit, max_rise, minutes, page, reach, readings, start`, "it belongs in [evacuation]"},
		{"misspelt table", `[boundary]`, `[boundry]`, `job.toml:19:1: boundry: no such key; expected boundary`, "did you mean boundary?"},
		{"bare psi", `"500 micron"`, `"0.01 psi"`, `job.toml:39:9: hold.limit: "0.01 psi": "psi" does not say from where it is counted; expected for example "500 micron", "450 psig" or "83.4 kPa"`, "write psia or psig"},
		{"bare bar", `"83.4 kPa"`, `"0.834 bar"`, `job.toml:8:13: job.barometer: "0.834 bar": "bar" does not say from where it is counted; expected for example "500 micron", "450 psig" or "83.4 kPa"`, "write bara or barg"},
		{"unit of another kind", `"500 micron"`, `"500 mm"`, `job.toml:39:9: hold.limit: "500 mm": "mm" is a unit of length, not of pressure; expected for example "500 micron", "450 psig" or "83.4 kPa"`, "write a number with its unit as in the example, or delete the line"},
		{"number for a quantity", `"500 micron"`, `500`, `job.toml:39:9: hold.limit: the number 500; expected a text with a number and a unit, such as "500 micron", "450 psig" or "83.4 kPa"`, "put it between quotation marks, with its unit"},
		{"text for a number", `minutes = 10`, `minutes = "10 min"`, `job.toml:40:11: hold.minutes: the text "10 min"; expected a number, without quotation marks and without a unit`, "write minutes = 10"},
		{"number for a text", `"2031-0147"`, `20310147`, `job.toml:3:10: job.number: the number 20310147; expected a text between quotation marks`, `write number = "20310147"`},
		{"word", `"new"`, `"repiar"`, `job.toml:4:8: job.kind: "repiar"; expected one of "new", "replacement", "repair", "relocation", "retrofit"`, `did you mean "repair"?`},
		{"date in quotes", `date = 2031-04-09`, `date = "2031-04-09"`, `job.toml:5:8: job.date: the text "2031-04-09"; expected a date such as 2031-04-09, without quotation marks`, "write date = 2031-04-09"},
		{"date that is plain", `date = 2031-04-09`, `date = 4/13/2031`, `job.toml:5:9: job.date: 4/13/2031, which is neither a number, a date nor a text between quotation marks; expected a date with the year first, or a date and a time with T between them`, "write date = 2031-04-13"},
		{"date that is not", `date = 2031-04-09`, `date = "04/09/2031"`, `job.toml:5:8: job.date: the text "04/09/2031"; expected a date such as 2031-04-09, without quotation marks`, "write date = 2031-04-09 (9 April) or date = 2031-09-04 (4 September)"},
		{"day without its year", `date = 2031-04-09`, `date = "May 19"`, `job.toml:5:8: job.date: the text "May 19"; expected a date such as 2031-04-09, without quotation marks`, "write the year too, this or another: date = 2031-05-19"},
		{"day and month without the year", `start = 2031-04-09T13:05:00`, `start = "19 may"`, `job.toml:36:9: hold.start: the text "19 may"; expected a date and time such as 2031-04-09T13:05:00, without quotation marks`, "write the year too, this or another: start = 2031-05-19T13:05:00"},
		{"no date at all", `date = 2031-04-09`, `date = "soon"`, `job.toml:5:8: job.date: the text "soon"; expected a date such as 2031-04-09, without quotation marks`, "write it in the form date = 2031-04-09"},
		{"word like none", `"new"`, `"polished"`, `job.toml:4:8: job.kind: "polished"; expected one of "new", "replacement", "repair", "relocation", "retrofit"`, "write one of these words, or delete the line"},
		{"key of a table in a table", `minutes = 10`, `wall = "0.032 in"`, `job.toml:40:1: hold.wall: no such key; expected one of acceptance, document, end, limit, max_rise, minutes, page, reach, readings, start`, "it belongs in [[system.line]]"},
		{"key of no table", `minutes = 10`, `colour = "green"`, `job.toml:40:1: hold.colour: no such key; expected one of acceptance, document, end, limit, max_rise, minutes, page, reach, readings, start`, "delete the line, or put # before it to keep it as a remark; dryhold help job-file lists all keys"},
		{"hour that was skipped", `2031-04-09T13:05:00`, `2031-03-09T02:30:00`, `job.toml:36:9: hold.start: 2031-03-09T02:30:00 does not exist in America/Denver: the clocks went forward over it; expected a time that existed`, "write the right time; if the recorder's clock was not put forward, write 2031-03-09T03:30:00"},
		{"time of another form", `start = 2031-04-09T13:05:00`, `start = "April 9, 2031 1:05 pm"`, `job.toml:36:9: hold.start: the text "April 9, 2031 1:05 pm"; expected a date and time such as 2031-04-09T13:05:00, without quotation marks`, "write start = 2031-04-09T13:05:00"},
		{"time without T", `start = 2031-04-09T13:05:00`, `start = 4/9/2031 13:05`, `job.toml:36:10: hold.start: 4/9/2031 13:05, which is neither a number, a date nor a text between quotation marks; expected a date with the year first, or a date and a time with T between them`, "write start = 2031-04-09T13:05:00 (9 April) or start = 2031-09-04T13:05:00 (4 September)"},
		{"point at the end", `"2031-0147"`, `"2031-0147."`, `job.toml:3:10: job.number: "2031-0147." cannot be part of a file's name; expected at most 64 letters (without accents), digits and . _ -, with no point at the beginning or the end`, `write number = "2031-0147"`},
		{"one number for several", `minutes = 10`, "minutes = 10\n[startup]\nvoltages = \"460 V\"", `job.toml:42:12: startup.voltages: the text "460 V"; expected a list such as ["460 V"]`, `write voltages = ["460 V"]`},
		{"date for a date-time", `start = 2031-04-09T13:05:00`, `start = 2031-04-09`, `job.toml:36:9: hold.start: a date without a time; expected a date and time such as 2031-04-09T13:05:00, without quotation marks`, "write 2031-04-09T13:05:00 with the right time"},
		{"unquoted text", `kind = "new"`, `kind = new`, `job.toml:4:8: job.kind: new, which is neither a number, a date nor a text between quotation marks; expected texts and quantities between quotation marks`, `write kind = "new"`},
		{"leading zeros", `"00123"`, `00123`, `job.toml:28:10: instrument.serial: 00123, which is neither a number, a date nor a text between quotation marks; expected texts and quantities between quotation marks`, `write serial = "00123"`},
		{"open text", `"R-454B"`, `"R-454B`, `job.toml:12:22: system.refrigerant: a text without its closing quotation mark; expected " at the end`, `write refrigerant = "R-454B"`},
		{"typographic quotes", `"R-454B"`, `“R-454B”`, `job.toml:12:15: system.refrigerant: typographic quotation marks; expected straight ones (")`, `write refrigerant = "R-454B"`},
		{"open array", `"indoor coil"]`, `"indoor coil"`, `job.toml:20:1: boundary.included: a list that is not closed; expected ] behind its last element`, `write for example included = ["one", "two"]`},
		{"duplicate key", `gauge_at = "far end"`, "gauge_at = \"far end\"\ngauge_at = \"other\"", `job.toml:22:1: boundary.gauge_at: given twice, first in line 21; expected each key once`, "delete one of the two lines"},
		{"duplicate table", `[hold]`, "[company]\nphone = \"1\"\n[hold]", `job.toml:35:1: company: given twice, first in line 9; expected each table once`, "move the lines below it to the first, in line 9, and delete this one"},
		{"single brackets", `[[readings]]`, `[readings]`, `job.toml:29:1: readings: a table; expected one or more tables of this name`, "write [[readings]] with two brackets on each side"},
		{"backslash escape", `"gauge.csv"`, `"logs\gauge.csv"`, `job.toml:31:9: readings.file: a backslash; between double quotes it does not stand for itself; expected / between folder and file, on Windows too`, `write file = "logs/gauge.csv"`},
		{"backslash that TOML takes", `"gauge.csv"`, `"logs\new.csv"`, `job.toml:31:8: readings.file: a backslash in a path; expected / between folder and file, on Windows too`, `write "logs/new.csv"`},
		{"backslash in a literal", `"gauge.csv"`, `'logs\gauge.csv'`, `job.toml:31:8: readings.file: a backslash in a path; expected / between folder and file, on Windows too`, `write "logs/gauge.csv"`},
		{"full path", `"gauge.csv"`, `'C:\logs\gauge.csv'`, `job.toml:31:8: readings.file: a backslash in a path; expected / between folder and file, on Windows too`, `copy the file into the folder of job.toml and write its name only`},
		{"zone", `"America/Denver"`, `"America/Dever"`, `job.toml:6:12: job.timezone: "America/Dever" is not a known time zone; expected a name of the IANA time zone database, such as "America/Denver"`, `did you mean timezone = "America/Denver"?`},
		{"city for a zone", `"America/Denver"`, `"los angeles"`, `job.toml:6:12: job.timezone: "los angeles" is not a known time zone; expected a name of the IANA time zone database, such as "America/Denver"`, `did you mean timezone = "America/Los_Angeles"?`},
		{"zone in words", `"America/Denver"`, `"Pacific Time"`, `job.toml:6:12: job.timezone: "Pacific Time" is not a known time zone; expected a name of the IANA time zone database, such as "America/Denver"`, `did you mean timezone = "America/Los_Angeles"?`},
		{"quotation marks in a text", `"R-454B"`, `"R-454B "new""`, `job.toml:12:24: system.refrigerant: quotation marks inside a text; expected apostrophes around the whole`, `write refrigerant = 'R-454B "new"'`},
		{"half a word", `"far end"`, `"far"`, `job.toml:21:12: boundary.gauge_at: "far"; expected one of "pump side", "far end", "other"`, `did you mean "far end"?`},
		{"zone without a place", `"America/Denver"`, `"MST"`, `job.toml:6:12: job.timezone: "MST" names no place; expected a zone that changes its clocks as the site does`, `write a place, such as timezone = "America/Denver"`},
		{"newer format", `format = 1`, `format = 2`, `job.toml:1:10: format: format 2; expected format 1`, "this file needs a dryhold that reads format 2: install a newer version"},
		{"no format", "format = 1\n", "", `job.toml:1:1: format: missing; expected a value`, "write format = 1"},
		{"no number", "number = \"2031-0147\"\n", "", `job.toml:2:1: job.number: missing; expected a value`, `write number = "2031-0147" under [job]`},
		{"number with a slash", `"2031-0147"`, `"2031/0147"`, `job.toml:3:10: job.number: "2031/0147" cannot be part of a file's name; expected at most 64 letters (without accents), digits and . _ -, with no point at the beginning or the end`, `write number = "2031-0147"`},
		{"device name", `"2031-0147"`, `"Con"`, `job.toml:3:10: job.number: "Con", a name that Windows keeps for a device; expected another number`, `write number = "J-Con"`},
		{"sea-level pressure", `"83.4 kPa"`, `"1013 hPa"`, `job.toml:8:13: job.barometer: 1013 hPa, 21 % from the pressure at 1609 m; expected about 83.4 kPa, the standard atmosphere at this altitude, within 5 %`, "weather services give the pressure reduced to sea level: write the station pressure, or only the altitude"},
		{"unknown instrument", `instrument = "gauge"`, `instrument = "gage"`, `job.toml:32:14: readings.instrument: no instrument has the id "gage"; expected the id of one: gauge`, `did you mean "gauge"?`},
		{"unknown recording", `[hold]`, "[hold]\nreadings = \"night\"", `job.toml:36:12: hold.readings: no recording has the id "night"; expected the id of one: evacuation`, `write one of these ids, or list this one in [[readings]]`},
		{"id twice", `[evacuation]`, "[[readings]]\nid = \"evacuation\"\nfile = \"b.csv\"\n[evacuation]\nreadings = \"evacuation\"", `job.toml:34:6: readings.id: the id "evacuation" is given twice, first in line 30; expected each id once`, "give one of the two another id, and write that wherever it is meant; if both are the same, delete one"},
		{"recording that nothing uses", `[evacuation]`, "[[readings]]\nid = \"second\"\nfile = \"b.csv\"\n[evacuation]\nreadings = \"evacuation\"", `job.toml:34:6: readings.id: no test uses the recording "second"; expected its name under readings of the hold, the evacuation, the pressure test or an earlier attempt`, "name it there; or, where several files are one recording, list them in one file = [...]"},
		{"minutes", `minutes = 10`, `minutes = 0`, `job.toml:40:11: hold.minutes: 0; expected more than 0 and at most 2880 minutes (two days)`, "look for a slipped decimal point or another unit"},
		{"end before start", `end = 2031-04-09T13:25:00`, `end = 2031-04-09T12:25:00`, `job.toml:37:7: hold.end: 2031-04-09 12:25:00; expected a time after hold.start, 2031-04-09 13:05:00`, "correct whichever of the two is wrong"},
		{"a hold of no time", `end = 2031-04-09T13:25:00`, `end = 2031-04-09T13:05:00`, `job.toml:37:7: hold.end: 2031-04-09 13:05:00; expected a time after hold.start, 2031-04-09 13:05:00`, "correct whichever of the two is wrong"},
		{"charged before the hold", `2031-04-09T14:00:00`, `2031-04-09T12:00:00`, `job.toml:43:8: charge.time: 2031-04-09 12:00:00; expected a time after hold.start, 2031-04-09 13:05:00`, "correct whichever of the two is wrong"},
		{"accuracy of another kind", `"10 % + 5 micron"`, `"1 °C"`, `job.toml:27:12: instrument.accuracy: "1 °C" has a unit of temperature; expected a unit of pressure: the instrument measures vacuum`, "write it as the data sheet has it, or correct what the instrument measures"},
		{"wall", `"0.032 in"`, `"0.32 in"`, `job.toml:17:8: system.line.wall: 0.32 in; expected less than half of the outside diameter 3/8 in`, "look for a slipped decimal point or another unit"},
		{"volume of a hall", `"9.6 L ± 15 %"`, `"9.6e9 L"`, `job.toml:13:10: system.volume: 9.6e9 L; expected at most 1000 m3`, "look for a slipped decimal point or another unit"},
		{"volume that may be nothing", `"9.6 L ± 15 %"`, `"9.6 L ± 150 %"`, `job.toml:13:10: system.volume: 9.6 L ± 150 %; expected an uncertainty of at most 100 %`, "look for a slipped decimal point or another unit"},
		{"charge of a ship", `"7 lb 1 oz"`, `"1e6 kg"`, `job.toml:42:9: charge.added: 1e6 kg; expected at most 100000 kg`, "look for a slipped decimal point or another unit"},
		{"day that never was", `date = 2031-04-09`, `date = 2031-02-29`, `job.toml:5:8: job.date: 2031-02-29, which no calendar or clock has; expected a day and a time that there were`, "correct it"},
		{"right to left", `"Example Mechanical"`, `"שלום"`, `job.toml:10:9: company.name: ש (U+05E9): a letter of a script written from right to left, which the record would turn round; expected letters, digits and signs of Latin script`, "write it without this character"},
		{"digest as on the page", `[charge]`, "[record]\namends = \"4B176553 d38ddf03 9f6a30cb 4731e1fa 5fa7a69e 9c730146 51e5d449 bf768645\"\n[charge]", `job.toml:42:10: record.amends: "4B176553 d38ddf03 9f6a30cb 4731e1fa 5fa7a69e 9c730146 51e5d449 bf768645"; expected the digest of the record that this one amends: 64 characters, 0 to 9 and a to f`, `write amends = "4b176553d38ddf039f6a30cb4731e1fa5fa7a69e9c73014651e5d449bf768645"`},
		{"accuracy of nothing", `"10 % + 5 micron"`, `"1000 %"`, `job.toml:27:12: instrument.accuracy: 1000 %; expected at most 100 %`, "look for a slipped decimal point or another unit"},
		{"less than nothing", `[charge]`, "[startup]\nliquid_pressure = \"-500 psig\"\n[charge]", `job.toml:42:19: startup.liquid_pressure: -500 psig; expected no less than an absolute vacuum`, "look for a slipped decimal point or another unit"},
		{"voltage below zero", `[charge]`, "[startup]\nvoltages = [\"460 V\", \"-3 V\"]\n[charge]", `job.toml:42:22: startup.voltages: -3 V; expected not less than zero`, "look for a slipped decimal point or another unit"},
		{"true for a text", `cores_removed = true`, `cores_removed = "yes"`, `job.toml:22:17: boundary.cores_removed: the text "yes"; expected true or false, without quotation marks`, "write cores_removed = true or cores_removed = false"},
		{"emoji", `"line set"`, `"line 😀 set"`, `job.toml:20:19: boundary.included: 😀 (U+1F600): a character that the record's font cannot print; expected letters, digits and signs of Latin script`, "write it without this character"},
		{"company's key", "format = 1", "format = 1\nkey = \"office\"", `job.toml:2:1: key: the signing key is not a matter of one job; expected key in company.toml`, "move it to company.toml"},
		{"misspelt dotted table", "[job]\n", "holt.limit = 1\n[job]\n", `job.toml:2:1: holt: no such key; expected hold`, "did you mean hold?"},
		{"no files", `file = "gauge.csv"`, `file = []`, `job.toml:31:8: readings.file: missing; expected a value`, `write file = "gauge.csv"`},
		{"empty file", `"gauge.csv"`, `""`, `job.toml:31:8: readings.file: an empty text; expected the name of a file in the job's folder`, `write its name, such as "gauge.csv"`},
		{"not key = value", `[hold]`, "remember the filter\n[hold]", `job.toml:35:10: evacuation: a line that is not key = value; expected key = "value", [table] or a comment that starts with #`, "put # before a remark"},
	} {
		t.Run(c.name, func(t *testing.T) {
			if !strings.Contains(good, c.old) {
				t.Fatal("nothing to spoil")
			}
			_, faults := decode(strings.Replace(good, c.old, c.new, 1))
			if len(faults) != 1 {
				t.Fatalf("%d faults:\n%v", len(faults), faults)
			}
			if diff := cmp.Diff([]string{c.want, c.mend}, []string{faults[0].Error(), faults[0].Mend}); diff != "" {
				t.Error(diff)
			}
		})
	}
}

// TestClocks: in Denver clocks went forward on 9 March 2031 at 2:00 and back on
// 2 November 2031 at 2:00 (US Energy Policy Act of 2005: second Sunday of March,
// first Sunday of November).
func TestClocks(t *testing.T) {
	for _, c := range []struct{ written, want string }{
		{"2031-03-09T02:30:00", "2031-03-09T02:30:00 does not exist in America/Denver: the clocks went forward over it"},
		{"2031-11-02T01:30:00", "2031-11-02T01:30:00 came twice in America/Denver: the clocks went back"},
		{"2031-11-02T01:30:00-07:00", ""},
		{"2031-11-02T02:00:00", ""},
		{"2031-03-09T01:59:59", ""},
		{"2031-03-09T03:00:00", ""},
	} {
		text := strings.Replace(good, "[evacuation]", "[[event]]\nwhat = \"power lost\"\ntime = "+c.written+"\n[evacuation]", 1)
		j, faults := decode(text)
		got := ""
		if len(faults) > 0 {
			got = faults[0].Found
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.written, got, c.want)
		}
		if strings.Contains(got, "twice") && faults[0].Mend != "write 2031-11-02T01:30:00-06:00 (the first) or 2031-11-02T01:30:00-07:00 (the second)" {
			t.Error(faults[0].Mend)
		}
		if c.written == "2031-11-02T01:30:00-07:00" && j.Events[0].Time.UTC().Hour() != 8 {
			t.Errorf("with offset: %v", j.Events[0].Time)
		}
	}
}

func TestAllFaultsAtOnce(t *testing.T) {
	_, faults := decode("format = 1\n[job]\nnumber = new\nkind = \"x\"\nkind = \"y\"\n[boundary]\nincluded = [\"a\",\n \"b\"\nexcluded = \"c\"\n[holt]\n[hold]\nlimit = \"5 bar\"\nminutes = \"x\"\n")
	var got []string
	for _, f := range faults {
		if !f.Doubt {
			got = append(got, fmt.Sprintf("%d %s %s", f.Line, f.Code, f.Key))
		}
	}
	want := []string{"2 required job.date", "3 syntax job.number", "4 word job.kind", "5 duplicate-key job.kind", "7 syntax boundary.included", "10 unknown-key holt", "12 quantity hold.limit", "13 wrong-type hold.minutes"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("%s\n%v", diff, faults)
	}
}

// TestAbsent: what is missing is told in job.toml, even where company.toml alone
// has the table; what an instrument of the firm lacks, in company.toml.
func TestAbsent(t *testing.T) {
	firm := File{"company.toml", []byte("[job]\ntimezone = \"America/Phoenix\"\n[[instrument]]\nid = \"gauge\"\n")}
	_, faults := Decode(File{"job.toml", []byte("format = 1\n[site]\naddress = \"x\"\n")}, &firm, nil)
	var places []string
	for _, f := range faults {
		places = append(places, f.Where()+" "+f.Key)
	}
	want := []string{"company.toml:3:1 instrument.measures", "job.toml:1:1 job.date", "job.toml:1:1 job.number"}
	if diff := cmp.Diff(want, places); diff != "" {
		t.Error(diff)
	}
}

func TestCompany(t *testing.T) {
	firm := File{"company.toml", []byte(`key = "office"
[company]
name = "Example Mechanical"
phone = "555-0100"
[job]
timezone = "America/Phoenix"
[[instrument]]
id = "gauge"
measures = "vacuum"
serial = "007"
[[instrument]]
id = "scale"
measures = "mass"
[hold]
acceptance = "common practice"
[customer]
name = "nobody"
`)}
	text := strings.Replace(good, "reach = \"300 micron\"\n", "", 1)
	j, faults := Decode(File{"job.toml", []byte(text)}, &firm, nil)
	if len(faults) != 1 || faults[0].Error() != "company.toml:16:1: customer: this belongs to one job; expected in company.toml only what holds for all jobs" {
		t.Errorf("faults: %v", faults)
	}
	if j.Job.Timezone != "America/Denver" || j.Company.Phone != "555-0100" || j.Key != "office" {
		t.Errorf("%q %q %q", j.Job.Timezone, j.Company.Phone, j.Key)
	}
	if len(j.Instruments) != 2 || j.Instruments[0].Serial != "00123" || j.Instruments[1].ID != "scale" {
		t.Errorf("instruments %+v", j.Instruments)
	}
	if j.Hold.Acceptance != "" || j.Hold.Reach.Given() {
		t.Errorf("two criteria were mixed: %+v", j.Hold)
	}
	_, faults = Decode(File{"job.toml", []byte(text + "[[instrument]]\nid = \"scale\"\n[[instrument]]\nid = \"scale\"\n")}, &firm, nil)
	if len(faults) != 2 || faults[1].Error() != `job.toml:46:6: instrument.id: the id "scale" is given twice, first in line 44; expected each id once` {
		t.Errorf("twice over the company's: %v", faults)
	}
	if f := j.Place("company.phone", fault.Fault{}); f.File != "company.toml" || f.Line != 4 {
		t.Errorf("place %+v", f)
	}
}

// TestAtmosphere: 1609 m, US Standard Atmosphere 1976: 83.43 kPa.
func TestAtmosphere(t *testing.T) {
	j, _ := decode(good)
	if pa, from, _ := j.Atmosphere(); pa != 83400 || from != "barometer" {
		t.Error(pa, from)
	}
	j, _ = decode(strings.Replace(good, "barometer = \"83.4 kPa\"\n", "", 1))
	if pa, from, u := j.Atmosphere(); pa < 83400 || pa > 83460 || from != "altitude" || u < 1400 || u > 1500 {
		t.Error(pa, from, u)
	}
}
