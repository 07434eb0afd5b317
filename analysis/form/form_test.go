package form

import (
	"archive/zip"
	"bytes"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
)

// fill puts values into the cells of an empty form, by key; list rows by
// "instrument.id#0" for the first.
func fill(t *testing.T, values map[string]any) []byte {
	t.Helper()
	empty, err := Template(Known{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(bytes.NewReader(empty))
	if err != nil {
		t.Fatal(err)
	}
	for key, v := range values {
		sheet, cell := find(t, f, key)
		if err := f.SetCellValue(sheet, cell, v); err != nil {
			t.Fatal(err)
		}
	}
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func find(t *testing.T, f *excelize.File, key string) (sheet, cell string) {
	t.Helper()
	key, row, isList := strings.Cut(key, "#")
	key, unit := strings.CutSuffix(key, " unit")
	for _, s := range f.GetSheetList() {
		cells, err := f.SearchSheet(s, key)
		if err != nil || len(cells) != 1 {
			continue
		}
		column, line, _ := excelize.SplitCellName(cells[0])
		switch {
		case isList:
			return s, at(column, line+1+int(row[0]-'0'))
		case unit:
			return s, at("C", line)
		}
		return s, at("B", line)
	}
	t.Fatalf("no cell for %s", key)
	return "", ""
}

func filled() map[string]any {
	return map[string]any{
		"job.number": "2031-0147", "job.kind": "new", "job.date": time.Date(2031, 4, 9, 0, 0, 0, 0, time.UTC),
		"job.timezone": "America/Denver", "job.altitude": 1609, "job.altitude unit": "m", "job.barometer": 83.4,
		"system.refrigerant": "R-454B", "system.volume": "9.6 L ± 15 %",
		"boundary.included": "line set; indoor coil", "boundary.cores_removed": "yes",
		"hold.limit": 500, "hold.minutes": 10, "hold.start": time.Date(2031, 4, 9, 13, 5, 0, 0, time.UTC),
		"startup.voltages":   "460; 461.5; 459",
		"equipment.serial#0": "000123", "equipment.role#0": "outdoor unit",
		"system.line.diameter#0": "3/8 in", "system.line.wall#0": "0.032 in", "system.line.length#0": "35 ft",
		"instrument.id#0": "gauge", "instrument.measures#0": "vacuum", "instrument.accuracy#0": "10 % + 5 micron", "instrument.serial#0": "007",
		"readings.id#0": "evacuation", "readings.file#0": "a.csv; b.csv", "readings.instrument#0": "gauge",
	}
}

const wantFile = `# made from the job form, 0000000000000000: change the form, and this file follows; edited by hand, it stays
format = 1

[job]
number = "2031-0147"
kind = "new"
date = 2031-04-09
timezone = "America/Denver"
altitude = "1609 m"
barometer = "83.4 kPa"

[system]
refrigerant = "R-454B"
volume = "9.6 L ± 15 %"

[boundary]
included = ["line set", "indoor coil"]
cores_removed = true

[hold]
start = 2031-04-09T13:05:00
limit = "500 micron"
minutes = 10

[startup]
voltages = ["460 V", "461.5 V", "459 V"]

[[equipment]]
role = "outdoor unit"
serial = "000123"

[[system.line]]
diameter = "3/8 in"
wall = "0.032 in"
length = "35 ft"

[[instrument]]
id = "gauge"
measures = "vacuum"
serial = "007"
accuracy = "10 % + 5 micron"

[[readings]]
id = "evacuation"
file = ["a.csv", "b.csv"]
instrument = "gauge"
`

func TestRoundTrip(t *testing.T) {
	got, faults := checked(fill(t, filled()))
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	same(t, got)
	if !Made(got) || Made(append(got, '\n')) || Made(bytes.Replace(got, []byte("R-454B"), []byte("R-32"), 1)) {
		t.Error("what was made and what was edited are not told apart")
	}
}

// checked reads a form and decodes what it makes, as loading does.
func checked(data []byte) ([]byte, fault.List) {
	f := Read(job.File{Name: "job.xlsx", Data: data})
	_, found := job.Decode(job.File{Name: "job.toml", Data: f.JobFile}, nil, nil)
	return f.JobFile, f.All(found)
}

// same compares with wantFile but for the digest.
func same(t *testing.T, got []byte) {
	t.Helper()
	text := regexp.MustCompile(`form, [0-9a-f]{16}:`).ReplaceAllString(string(got), "form, 0000000000000000:")
	if diff := cmp.Diff(wantFile, text); diff != "" {
		t.Error(diff)
	}
}

// TestLibreOffice saves the filled form by another program first.
func TestLibreOffice(t *testing.T) {
	soffice, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is missing: install libreoffice-calc-nogui")
		}
		t.Skip("soffice (LibreOffice) is not installed")
	}
	dir := t.TempDir()
	in := filepath.Join(dir, "job.xlsx")
	if err := os.WriteFile(in, fill(t, filled()), 0o600); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(dir, "saved")
	cmd := exec.Command(soffice, "-env:UserInstallation=file://"+dir+"/profile", "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", out, in)
	if text, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, text)
	}
	data, err := os.ReadFile(filepath.Join(out, "job.xlsx"))
	if err != nil {
		t.Fatal(err)
	}
	got, faults := checked(data)
	if len(faults) > 0 {
		t.Fatal(faults)
	}
	same(t, got)
}

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

// TestOrder: faults come in the order of the form.
func TestOrder(t *testing.T) {
	empty, _ := Template(Known{})
	_, faults := checked(empty)
	var cells []string
	for _, f := range faults {
		cells = append(cells, f.Cell)
	}
	if got := strings.Join(cells, " "); got != "B5 B7 B8" {
		t.Errorf("faults at %s", got)
	}
}

// TestUnitsOfTheFirm: who keeps to SI finds its units beside the values, the others those of the trade.
func TestUnitsOfTheFirm(t *testing.T) {
	for system, want := range map[string]map[string]string{
		"":   {"job.altitude": "ft", "hold.limit": "micron", "startup.return_air": "°F", "startup.suction_pressure": "psig", "charge.added": "lb", "system.volume": "L"},
		"si": {"job.altitude": "m", "hold.limit": "Pa", "startup.return_air": "°C", "startup.suction_pressure": "barg", "charge.added": "kg", "system.volume": "L"},
	} {
		data, err := Template(Known{Units: system})
		if err != nil {
			t.Fatal(err)
		}
		f, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(err)
		}
		rows, err := f.GetRows(mainSheet)
		if err != nil {
			t.Fatal(err)
		}
		found := 0
		for _, r := range rows {
			if len(r) < 5 || want[r[4]] == "" {
				continue
			}
			if found++; r[2] != want[r[4]] {
				t.Errorf("%q: %s has %q, want %q", system, r[4], r[2], want[r[4]])
			}
		}
		if found != len(want) {
			t.Errorf("%q: %d of %d cells are there", system, found, len(want))
		}
	}
}

func TestNotAForm(t *testing.T) {
	empty, _ := Template(Known{})
	for name, data := range map[string][]byte{"text": []byte("number;date"), "nothing": nil, "half": empty[:len(empty)/2]} {
		if text, faults := checked(data); text != nil || !faults.Stops() {
			t.Errorf("%s: no fault", name)
		}
	}
}

// TestBroken: a part that breaks off, or is not there, is told as damage. What stood in it is never taken for empty.
func TestBroken(t *testing.T) {
	whole := fill(t, filled())
	for part, change := range map[string]func(string) string{
		"xl/worksheets/sheet1.xml":   func(s string) string { return s[:len(s)/2] },
		"xl/worksheets/sheet7.xml":   func(s string) string { return strings.Replace(s, "</row>", "</rwo>", 1) },
		"xl/worksheets/sheet12.xml":  func(string) string { return "" },
		"xl/sharedStrings.xml":       func(string) string { return "no XML" },
		"xl/styles.xml":              func(s string) string { return s[:len(s)-3] },
		"xl/workbook.xml":            func(s string) string { return strings.Replace(s, "<sheet ", "<sheet <", 1) },
		"xl/_rels/workbook.xml.rels": func(s string) string { return s + "<" },
	} {
		for what, spoilt := range map[string][]byte{"damaged": spoil(t, whole, part, change), "missing": spoil(t, whole, part, nil)} {
			f := Read(job.File{Name: "job.xlsx", Data: spoilt})
			if want := "its part " + part + " is " + what; f.JobFile != nil || len(f.Faults) != 1 || !strings.Contains(f.Faults[0].Found, want) {
				t.Errorf("%v, want %s", f.Faults, want)
			}
		}
	}
	if text, _ := checked(spoil(t, whole, "docProps/app.xml", nil)); text == nil {
		t.Error("a part without cells counts")
	}
}

// TestMisplaced: a row or a cell that stands elsewhere than it says is damage too,
// in well-formed XML; one that does not say where it stands is not.
func TestMisplaced(t *testing.T) {
	whole := fill(t, filled())
	for _, c := range []struct{ from, to, want string }{
		{`r="B6"`, `r="ZZZZ6"`, `row 6 has a cell with the reference "ZZZZ6"`},
		{`r="B6"`, `r="B9"`, `row 6 has a cell with the reference "B9"`},
		{`r="B6"`, `r="A6"`, `row 6 has a cell with the reference "A6"`},
		{`r="E6"`, `r="E"`, `row 6 has a cell with the reference "E"`},
		{`<row r="7"`, `<row r="3"`, `a row with the number "3" stands behind row 6`},
		{`<row r="7"`, `<row r="x"`, `a row with the number "x" stands behind row 6`},
		{`<row r="7"`, `<row`, ""},
		{`r="B6" `, "", ""},
	} {
		spoilt := spoil(t, whole, "xl/worksheets/sheet1.xml", func(s string) string { return strings.Replace(s, c.from, c.to, 1) })
		f := Read(job.File{Name: "job.xlsx", Data: spoilt})
		if c.want == "" && (f.JobFile == nil || len(f.Faults) > 0) || c.want != "" && (f.JobFile != nil || len(f.Faults) != 1 || !strings.Contains(f.Faults[0].Found, "sheet1.xml is damaged: "+c.want)) {
			t.Errorf("%s to %s: %v", c.from, c.to, f.Faults)
		}
	}
}

// spoil changes a part of a workbook, or leaves it out.
func spoil(t *testing.T, book []byte, part string, change func(string) string) []byte {
	t.Helper()
	z, err := zip.NewReader(bytes.NewReader(book), int64(len(book)))
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	out := zip.NewWriter(&b)
	for _, f := range z.File {
		if f.Name == part && change == nil {
			continue
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		if f.Name == part {
			text = []byte(change(string(text)))
		}
		w, err := out.Create(f.Name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write(text); err != nil {
			t.Fatal(err)
		}
	}
	if err := out.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func FuzzRead(f *testing.F) {
	data, _ := Template(Known{})
	f.Add(data)
	f.Fuzz(func(t *testing.T, data []byte) {
		_, faults := checked(data)
		_ = faults.Error()
	})
}

// TestQuantities: what people write between the three voltages.
func TestQuantities(t *testing.T) {
	for s, want := range map[string]string{"460; 461.5;459": "460| 461.5|459", "231, 229, 230": "231|229|230", "230,5; 229,1": "230,5| 229,1", "230,5": "230,5", "460": "460"} {
		if got := strings.Join(quantities(s), "|"); got != want {
			t.Errorf("%q: %q, not %q", s, got, want)
		}
	}
}
