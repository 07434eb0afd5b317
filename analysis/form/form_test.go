package form

import (
	"bytes"
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
