package form

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/job"
)

// TestLenient: what can be meant in one way only is taken.
func TestLenient(t *testing.T) {
	values := filled()
	values["job.date"], values["job.kind"], values["boundary.cores_removed"], values["hold.start"] = "17.6.2031", "Repair", "Y", "June 17, 2031 1:05 pm"
	got, faults := checked(fill(t, values))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	for _, want := range []string{"date = 2031-06-17\n", "kind = \"repair\"\n", "cores_removed = true\n", "start = 2031-06-17T13:05:00\n"} {
		if !strings.Contains(string(got), want) {
			t.Errorf("%q is missing in\n%s", want, got)
		}
	}
}

// TestPassedOver: neither a formula without a result nor a sheet under another
// name is left out in silence.
func TestPassedOver(t *testing.T) {
	f, err := excelize.OpenReader(bytes.NewReader(fill(t, filled())))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	sheet, cell := find(t, f, "company.name")
	for _, err := range []error{f.SetCellFormula(sheet, cell, "A1&A2"), f.SetSheetName("Readings", "Recordings")} {
		if err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	_, faults := checked(b.Bytes())
	said := faults.Error()
	for _, want := range []string{"job.xlsx!Job:" + cell + ": Name: a formula without a result; expected a value",
		`job.xlsx!Recordings: a sheet of the form under another name: it was called "Readings"`} {
		if !strings.Contains(said, want) {
			t.Errorf("%q was not said:\n%s", want, said)
		}
	}
}

// TestTimeOfDay: a spreadsheet keeps a time without a date as a part of a day.
func TestTimeOfDay(t *testing.T) {
	values := filled()
	values["hold.start"] = (9*3600 + 27*60.0) / 86400
	f := Read(job.File{Name: "job.xlsx", Data: fill(t, values)})
	if len(f.Faults) != 1 || f.Faults[0].Found != "the time of day 09:27:00 without a date" || f.Faults[0].Mend != "write year, month, day and time, as in 2031-04-09 09:27:00" {
		t.Errorf("%+v", f.Faults)
	}
}

// TestDateMend: a date in another form is told in both ways that it can be read.
func TestDateMend(t *testing.T) {
	for written, want := range map[string]string{"4.9.2031": "write 2031-04-09 (9 April) or 2031-09-04 (4 September)", "4/9/2031": "write 2031-04-09 (9 April) or 2031-09-04 (4 September)", "soon": "write year, month and day, as in 2031-04-09"} {
		values := filled()
		values["job.date"] = written
		if f := Read(job.File{Name: "job.xlsx", Data: fill(t, values)}); len(f.Faults) != 1 || f.Faults[0].Mend != want {
			t.Errorf("%s: %v, want the hint %q", written, f.Faults, want)
		}
	}
}
