package form

import (
	"archive/zip"
	"bytes"
	"io"
	"strings"
	"testing"

	"dryhold/analysis/job"
)

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
