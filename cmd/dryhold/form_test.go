package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"
)

// fill FORM KEY=VALUE... writes into the cells of a form as a person would: the
// value beside a label, by the key in the hidden column; KEY@N is row N of a
// list. A day is typed as a date, a number as a number.
func fill(ts *testscript.TestScript, _ bool, list []string) {
	path := ts.MkAbs(list[0])
	f, err := excelize.OpenFile(path)
	ts.Check(err)
	defer f.Close()
	for _, pair := range list[1:] {
		key, text, _ := strings.Cut(pair, "=")
		sheet, cell := cellOf(ts, f, key)
		ts.Check(f.SetCellValue(sheet, cell, typed(text)))
	}
	ts.Check(f.Save())
}

func cellOf(ts *testscript.TestScript, f *excelize.File, key string) (sheet, cell string) {
	key, row, inList := strings.Cut(key, "@")
	for _, sheet := range f.GetSheetList() {
		found, err := f.SearchSheet(sheet, key)
		if err != nil || len(found) != 1 {
			continue
		}
		column, line, err := excelize.SplitCellName(found[0])
		ts.Check(err)
		if inList {
			n, err := strconv.Atoi(row)
			ts.Check(err)
			return sheet, column + strconv.Itoa(line+n)
		}
		return sheet, "B" + strconv.Itoa(line)
	}
	ts.Fatalf("the form has no cell for %s", key)
	return "", ""
}

func typed(text string) any {
	if day, err := time.Parse(time.DateOnly, text); err == nil {
		return day
	}
	if x, err := strconv.ParseFloat(text, 64); err == nil && !strings.HasPrefix(text, "0") {
		return x
	}
	return text
}

// resave FILE opens a workbook in LibreOffice without a window and saves it again.
func resave(ts *testscript.TestScript, _ bool, list []string) {
	path := ts.MkAbs(list[0])
	out := filepath.Join(ts.MkAbs("resaved"), filepath.Base(path))
	c := exec.Command("soffice", "-env:UserInstallation=file://"+ts.MkAbs("profile"), "--headless",
		"--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", filepath.Dir(out), path)
	if text, err := c.CombinedOutput(); err != nil {
		ts.Fatalf("%v: %s", err, text)
	}
	ts.Check(os.Rename(out, path))
}
