package samples

import (
	"bytes"
	"compress/gzip"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/xuri/excelize/v2"
)

var (
	numbers = regexp.MustCompile(`[-+]?\d+(?:\.\d+)?(?:e[-+]?\d+)?`)
	decimal = regexp.MustCompile(`(\d),(\d)`)
)

// The committed files are what make writes. Machines differ in the last digits
// (fused multiply-add), which may move a shown value by a step: text
// outside of numbers must be the same, numbers within 0.5 % and 2 units (of a display's step, or of a clock's seconds).
func TestCommitted(t *testing.T) {
	files, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	for name, want := range files {
		got, err := os.ReadFile(filepath.FromSlash(name))
		if err != nil {
			t.Errorf("%v: run go generate ./samples", err)
			continue
		}
		if len(got) > 300<<10 {
			t.Errorf("%s has %d bytes, more than a sample should", name, len(got))
		}
		compare(t, name, text(t, name, got), text(t, name, want))
	}
}

// text is a file's content as text.
func text(t *testing.T, name string, data []byte) string {
	t.Helper()
	switch filepath.Ext(name) {
	case ".gz":
		r, err := gzip.NewReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(name, err)
		}
		if data, err = io.ReadAll(r); err != nil {
			t.Fatal(name, err)
		}
	case ".xlsx":
		f, err := excelize.OpenReader(bytes.NewReader(data))
		if err != nil {
			t.Fatal(name, err)
		}
		defer f.Close()
		rows, err := f.GetRows(f.GetSheetName(0), excelize.Options{RawCellValue: true})
		if err != nil {
			t.Fatal(name, err)
		}
		var b strings.Builder
		for _, r := range rows {
			b.WriteString(strings.Join(r, "\t") + "\n")
		}
		return b.String()
	}
	return string(data)
}

func compare(t *testing.T, name, got, want string) {
	t.Helper()
	g, w := strings.Split(got, "\n"), strings.Split(want, "\n")
	if len(g) != len(w) {
		t.Errorf("%s: %d lines committed, %d made", name, len(g), len(w))
		return
	}
	for i := range g {
		if !alike(g[i], w[i]) {
			t.Errorf("%s:%d: committed %q, made %q", name, i+1, g[i], w[i])
			return
		}
	}
}

func alike(a, b string) bool {
	if a == b {
		return true
	}
	if strings.Contains(a, ";") { // a decimal comma
		a, b = decimal.ReplaceAllString(a, "$1.$2"), decimal.ReplaceAllString(b, "$1.$2")
	}
	if numbers.ReplaceAllString(a, "#") != numbers.ReplaceAllString(b, "#") {
		return false
	}
	x, y := numbers.FindAllString(a, -1), numbers.FindAllString(b, -1)
	for i := range x {
		v, _ := strconv.ParseFloat(x[i], 64)
		w, _ := strconv.ParseFloat(y[i], 64)
		if math.Abs(v-w) > 0.005*math.Abs(w)+2 {
			return false
		}
	}
	return true
}

// Making them twice gives the same bytes, workbooks too.
func TestSameBytes(t *testing.T) {
	a, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	b, err := Files()
	if err != nil {
		t.Fatal(err)
	}
	for name := range a {
		if !bytes.Equal(a[name], b[name]) {
			t.Errorf("%s differs between two runs", name)
		}
	}
}

// Every job says what it is, and that everything in it is invented.
func TestFolders(t *testing.T) {
	jobs, err := filepath.Glob("*/job.toml")
	if err != nil || len(jobs) == 0 || len(jobs) != len(names()) {
		t.Fatalf("%d folders with a job.toml, %d jobs: %v", len(jobs), len(names()), err)
	}
	for _, name := range names() {
		for _, file := range []string{"SOURCE.md", "job.toml"} {
			data, err := os.ReadFile(filepath.Join(name, file))
			if err != nil {
				t.Error(err)
				continue
			}
			if !bytes.Contains(data, []byte("imulated")) {
				t.Errorf("%s/%s does not say that the readings are simulated", name, file)
			}
		}
	}
	var firm struct{ Company struct{ Name string } }
	if _, err := toml.DecodeFile("company.toml", &firm); err != nil || !strings.Contains(firm.Company.Name, "invented") {
		t.Errorf("company %q is not marked as invented (%v)", firm.Company.Name, err)
	}
}

// Nitrogen in a closed volume from 3,601,325 Pa at 25 °C to 10 °C: 3,404,898 Pa by the equation
// of state of Span et al. (2000); our virial gives 3,404,914 Pa.
func TestNitrogen(t *testing.T) {
	got := pressureOf(densityOf(3601325, 298.15), 283.15)
	if math.Abs(got-3404898) > 40 {
		t.Errorf("%.0f Pa, want 3404898 Pa within 40 Pa", got)
	}
}

// names lists the jobs' folders in order.
func names() []string {
	var list []string
	for _, j := range jobs() {
		list = append(list, j.name)
	}
	slices.Sort(list)
	return list
}
