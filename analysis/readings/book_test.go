package readings

import (
	"archive/zip"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

const (
	contentTypes = `<?xml version="1.0"?><Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="xml" ContentType="application/xml"/></Types>`
	topRels      = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`
	bookXML      = `<x:workbook xmlns:x="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:q="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><x:sheets><x:sheet name="A &amp; B" sheetId="1" q:id="s1"/></x:sheets></x:workbook>`
	bookRels     = `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="s1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="/xl/s.xml"/><Relationship Id="t1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="strings.xml"/></Relationships>`
	stringsXML   = `<sst xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><si><t>Time</t></si><si><r><rPr><b/></rPr><t xml:space="preserve">Vac</t></r><r><t>uum</t></r><rPh sb="0" eb="1"><t>no</t></rPh></si><si/></sst>`
)

// handBook is a workbook around a hand-written sheet.
func handBook(t testing.TB, sheet string) []byte {
	t.Helper()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, p := range [...][2]string{{"[Content_Types].xml", contentTypes}, {"_rels/.rels", topRels}, {"xl/workbook.xml", bookXML},
		{"xl/_rels/workbook.xml.rels", bookRels}, {"xl/strings.xml", stringsXML}, {"xl/s.xml", sheet}} {
		w, err := z.Create(p[0])
		check(t, err)
		_, err = w.Write([]byte(p[1]))
		check(t, err)
	}
	check(t, z.Close())
	return out.Bytes()
}

const sheetHead = `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>`

const header = `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="inlineStr"><is><t>Vacuum (Pa)</t></is></c></row>`

// TestSheetForms: what ECMA-376 allows in a sheet, written by hand.
func TestSheetForms(t *testing.T) {
	when := `t="str"><v>2031-04-09 10:00:00</v></c>`
	for _, c := range []struct{ name, sheet, want string }{
		{"prefixed tags", `<x:worksheet xmlns:x="a"><x:sheetData><x:row><x:c t="s"><x:v>0</x:v></x:c><x:c t="inlineStr"><x:is><x:t>Vacuum (Pa)</x:t></x:is></x:c></x:row><x:row><x:c ` +
			strings.NewReplacer("<v>", "<x:v>", "</v>", "</x:v>", "</c>", "</x:c>").Replace(when) + `<x:c><x:v>5</x:v></x:c></x:row></x:sheetData></x:worksheet>`, ""},
		{"rich shared string, units line", sheetHead + `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c></row><row r="2"><c r="B2" t="str"><v>Pa</v></c></row><row r="4"><c r="A4" ` + when + `<c r="B4"><v>5</v></c></row></sheetData></worksheet>`, ""},
		{"CDATA, entities, comments", sheetHead + header + `<!-- > <row> --><row r="2"><c r="A2" t="inlineStr"><is><t><![CDATA[2031-04-09]]> 10:00:&#48;&#x30;</t></is></c><c r='B2'><f>2&lt;3</f><v>5</v></c></row></sheetData></worksheet>`, ""},
		{"date type", sheetHead + header + `<row r="2"><c r="A2" t="d"><v>2031-04-09T10:00:00</v></c><c r="B2"><v>5E0</v></c></row></sheetData></worksheet>`, ""},
		{"merged headers", sheetHead + `<row r="1"><c r="A1" t="s"><v>0</v></c><c r="B1" t="str"><v>Gauge</v></c></row><row r="2"><c r="B2" t="str"><v>Vacuum (Pa)</v></c></row><row r="3"><c r="A3" ` + when +
			`<c r="B3"><v>5</v></c></row></sheetData><mergeCells><mergeCell ref="A1:A2"/><mergeCell ref="B1:C1"/></mergeCells></worksheet>`, ""},
		{"number as text", sheetHead + header + `<row r="2"><c r="A2" ` + when + `<c r="B2" t="str"><v>5,0</v></c></row></sheetData></worksheet>`, ""},
		{"formula without result", sheetHead + header + `<row r="2"><c r="A2" ` + when + `<c r="B2"><f>2+3</f></c></row></sheetData></worksheet>`, "r.xlsx!A & B:B2: column B \"Vacuum (Pa)\": a formula without a stored result"},
		{"rows out of order", sheetHead + `<row r="2"/><row r="1"/></sheetData></worksheet>`, "not in order"},
		{"cells out of order", sheetHead + `<row r="1"><c r="B1"/><c r="A1"/></row></sheetData></worksheet>`, "not in order"},
		{"wrong reference", sheetHead + `<row r="1"><c r="B2"/></row></sheetData></worksheet>`, "reference"},
		{"cut XML", sheetHead + header, "too early"},
		{"wrong closing tag", sheetHead + `<row r="1"></c></row></sheetData></worksheet>`, "out of order"},
		{"missing string", sheetHead + `<row r="1"><c r="A1" t="s"><v>9</v></c></row></sheetData></worksheet>`, "shared string"},
		{"missing style", sheetHead + `<row r="1"><c r="A1" s="4"><v>9</v></c></row></sheetData></worksheet>`, "style"},
		{"no number", sheetHead + `<row r="1"><c r="A1"><v>NaN</v></c></row></sheetData></worksheet>`, `found "NaN"; expected a number`},
		{"document type", `<!DOCTYPE a [<!ENTITY b "c">]>` + sheetHead + `</sheetData></worksheet>`, "document type"},
		{"two roots", sheetHead + `</sheetData></worksheet><worksheet/>`, "well formed"},
		{"unknown entity", sheetHead + `<row><c t="str"><v>&b;</v></c></row></sheetData></worksheet>`, "entity"},
		{"not a sheet", `<chartsheet/>`, "not a worksheet"},
	} {
		s, l := Read([]File{{"r.xlsx", handBook(t, c.sheet)}}, Options{})
		switch {
		case c.want != "" && (s != nil || !strings.Contains(l.Error(), c.want)):
			t.Errorf("%s: %v, want %q", c.name, l, c.want)
		case c.want == "" && (s == nil || l.Stops() || !slices.Equal(s.P, []float64{5}) || !s.Start.Equal(start)):
			t.Errorf("%s: %v %+v", c.name, l, s)
		}
	}
}

// TestSheets: readings in two sheets need the job's word.
func TestSheets(t *testing.T) {
	f := excelize.NewFile()
	defer f.Close()
	_, err := f.NewSheet("Second")
	check(t, err)
	for _, sheet := range []string{"Sheet1", "Second"} {
		check(t, f.SetSheetRow(sheet, "A1", &[]any{"Time", "Vacuum (Pa)"}))
		check(t, f.SetSheetRow(sheet, "A2", &[]any{"2031-04-09 10:00:00", len(sheet)}))
	}
	var out bytes.Buffer
	check(t, f.Write(&out))
	files := []File{{"r.xlsx", out.Bytes()}}
	if _, l := Read(files, Options{}); !l.Stops() || !strings.Contains(l[0].Mend, `sheet = "Sheet1" or sheet = "Second"`) {
		t.Error(l)
	}
	if s, l := Read(files, Options{Sheet: "second"}); l.Stops() || s.P[0] != 6 {
		t.Error(l)
	}
	if _, l := Read(files, Options{Sheet: "Third"}); !l.Stops() || !strings.Contains(l[0].Found, `the sheets are "Sheet1", "Second"`) {
		t.Error(l)
	}
}

// TestAgainstExcelize compares every cell of a workbook with the reading of the
// general library.
func TestAgainstExcelize(t *testing.T) {
	data := makeBook(t, 500)
	a, _, err := openArchive(data)
	check(t, err)
	b, err := readBook(a)
	check(t, err)
	tab, err := b.sheet(b.sheets[0])
	check(t, err)
	f, err := excelize.OpenReader(bytes.NewReader(data))
	check(t, err)
	defer f.Close()
	rows, err := f.GetRows("Sheet1", excelize.Options{RawCellValue: true})
	check(t, err)
	if len(rows) != len(tab.rows) {
		t.Fatalf("%d rows, want %d", len(tab.rows), len(rows))
	}
	for i, row := range rows {
		for k, want := range row {
			if got := string(tab.bytes(tab.at(i, k))); got != want {
				t.Fatalf("row %d, column %d: %q, want %q", i, k, got, want)
			}
		}
	}
}

// TestOfficeBook reads a workbook that LibreOffice made of a text file.
func TestOfficeBook(t *testing.T) {
	soffice, err := exec.LookPath("soffice")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("soffice is missing")
		}
		t.Skip("soffice (LibreOffice) is not installed")
	}
	dir := t.TempDir()
	in := filepath.Join(dir, "r.csv")
	text := makeText(300)
	check(t, os.WriteFile(in, text, 0o600))
	cmd := exec.CommandContext(t.Context(), soffice, "--headless", "-env:UserInstallation=file://"+filepath.ToSlash(dir)+"/profile",
		"--infilter=CSV:44,34,76,1,,1033", "--convert-to", "xlsx", "--outdir", dir, in)
	cmd.WaitDelay = 20 * time.Second
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	data, err := os.ReadFile(filepath.Join(dir, "r.xlsx"))
	check(t, err)
	got, l := Read([]File{{"r.xlsx", data}}, Options{})
	if l.Stops() {
		t.Fatal(l)
	}
	want, _ := Read([]File{{"r.csv", text}}, Options{})
	if !sameReadings(got, want) {
		t.Errorf("%d readings from %v, want %d from %v", got.Len(), got.Start, want.Len(), want.Start)
	}
	balanced(t, got)
}
