package form

import (
	"bytes"
	"testing"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
)

func TestFaults(t *testing.T) {
	for _, c := range []struct {
		key   string
		value any
		want  string
	}{
		{"job.number", nil, "job.xlsx!Job:B5: Job number: missing"},
		{"job.kind", "repiar", `job.xlsx!Job:B6: Kind of work: "repiar"; expected one of "new", "replacement", "repair", "relocation", "retrofit"`},
		{"job.date", "4/9/2031", `job.xlsx!Job:B7: Date of the work: "4/9/2031"; expected a date, or a text such as 2031-04-09`},
		{"boundary.cores_removed", "perhaps", `job.xlsx!Job:B42: Valve cores removed: "perhaps"; expected yes or no`},
		{"hold.limit", "5 bar", `job.xlsx!Job:B62: Not above: "5 bar": "bar" does not say from where it is counted; expected for example "500 micron", "450 psig" or "83.4 kPa"`},
		{"hold.minutes", "12,5", `job.xlsx!Job:B63: Minutes of the hold: "12,5"; expected a number`},
		{"hold.minutes", "ten", `job.xlsx!Job:B63: Minutes of the hold: "ten"; expected a number`},
		{"readings.file#0", `logs\a.csv`, `job.xlsx!Readings:B5: File: a backslash in a path; expected / between folder and file, on Windows too`},
		{"readings.file#0", nil, `job.xlsx!Readings:B5: File: missing`},
		{"readings.instrument#0", "gage", `job.xlsx!Readings:D5: Instrument: no instrument has the id "gage"; expected the id of one: gauge`},
		{"system.line.length#0", 35, `job.xlsx!Lines:D5: Length: "35": the unit is missing; expected for example "35 ft", "3/8 in" or "12 m"`},
	} {
		values := filled()
		values[c.key] = c.value
		_, faults := checked(fill(t, values))
		if len(faults) != 1 || faults[0].Error() != c.want {
			t.Errorf("%s = %v:\n got %v\nwant %s", c.key, c.value, faults, c.want)
		}
	}
}

// TestMends: whoever fills in a form is told what to write, in the form's words.
func TestMends(t *testing.T) {
	for _, c := range []struct {
		key   string
		value any
		mend  string
	}{
		{"job.kind", "polished", "write one of these words, or leave the cell empty"},
		{"job.date", "May 19", "write year, month and day, as in 2031-04-09"},
		{"hold.start", "13:05", "write year, month, day and time, as in 2031-04-09 13:05:00"},
		{"boundary.cores_removed", "perhaps", "write yes or no, or leave the cell empty"},
		{"hold.minutes", "ten", "write it in digits, without a unit"},
		{"hold.limit", "much", "write a number with its unit as in the example, or leave the cell empty"},
		{"readings.instrument#0", "another", "write one of these ids, or list this one in the sheet Instruments"},
		{"system.line.length#0", 35, "write the unit behind the number"},
		{"job.timezone", "Atlantis", "write a place in the same zone, such as America/Denver"},
		{"instrument.measures#0", "steam", "write one of these words"},
	} {
		values := filled()
		values[c.key] = c.value
		if _, faults := checked(fill(t, values)); len(faults) != 1 || faults[0].Mend != c.mend {
			t.Errorf("%s = %v: %v, %q, want %q", c.key, c.value, faults, faults[0].Mend, c.mend)
		}
	}
}

// TestCells: what loading and the analysis find is told at the cells too, and
// the lines to write into a job file are told as cells.
func TestCells(t *testing.T) {
	data := fill(t, filled())
	book, err := excelize.OpenReader(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	defer book.Close()
	_, start := find(t, book, "readings.start#0")
	f := Read(job.File{Name: "job.xlsx", Data: data})
	j, _ := job.Decode(job.File{Name: "job.toml", Data: f.JobFile}, nil, nil)
	for _, c := range []struct {
		in         fault.Fault
		want, mend string
	}{
		{j.Place("readings[0].file[1]", fault.Fault{Found: "no such file"}), "job.xlsx!Readings:B5: File: no such file", ""},
		{fault.Fault{File: "b.csv", Found: "damaged"}, "b.csv: damaged", ""},
		{fault.Fault{File: "b.csv", Found: "it counts elapsed time", Mend: "state it in job.toml: [[readings]] start = 2031-04-09T14:05:00"},
			"b.csv: it counts elapsed time", "state it in job.xlsx: 2031-04-09T14:05:00 in cell " + start + " of the sheet Readings (Started at)"},
		{fault.Fault{File: "b.csv", Found: "two columns", Mend: `say which in job.toml: [[readings]] pressure = "P1 [Pa]" or pressure = "P2 [Pa]"`}, "b.csv: two columns",
			"say which in job.xlsx: P1 [Pa] in cell F5 of the sheet Readings (Header of the pressure) or P2 [Pa] in cell F5 of the sheet Readings (Header of the pressure)"},
		{j.Place("job.timezone", fault.Fault{Found: "unknown", Mend: `write timezone = "America/Denver" (or your own) under [job]`}),
			"job.xlsx!Job:B8: Time zone: unknown", "write America/Denver (or your own)"},
		{j.Place("hold.acceptance", fault.Fault{Found: "no limit", Mend: `write limit = "500 micron" under [hold]`}),
			"job.xlsx!Job:B60: Acceptance: no limit", "write 500 micron in cell B62 of the sheet Job (Not above)"},
	} {
		got := f.Cells(fault.List{c.in})
		if len(got) != 1 || got[0].Error() != c.want || got[0].Mend != c.mend {
			t.Errorf("%v\n got %v\n     %s\nwant %s\n     %s", c.in, got, got[0].Mend, c.want, c.mend)
		}
	}
}
