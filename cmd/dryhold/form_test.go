package main

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
	"github.com/xuri/excelize/v2"
)

// fill FORM KEY=VALUE... writes into the cells of a form.
func fill(ts *testscript.TestScript, _ bool, list []string) {
	ts.Check(fillForm(ts.MkAbs(list[0]), list[1:]...))
}

// fillForm writes values beside their labels as a person would, by the key in the
// hidden column; KEY@N is row N of a list. A day is typed as a date, a number as
// a number.
func fillForm(path string, pairs ...string) error {
	f, err := excelize.OpenFile(path)
	if err != nil {
		return err
	}
	defer f.Close()
	for _, pair := range pairs {
		key, text, _ := strings.Cut(pair, "=")
		sheet, cell, err := cellOf(f, key)
		if err != nil {
			return err
		}
		if err := f.SetCellValue(sheet, cell, typed(text)); err != nil {
			return err
		}
	}
	return f.Save()
}

func cellOf(f *excelize.File, key string) (sheet, cell string, err error) {
	key, row, inList := strings.Cut(key, "@")
	for _, sheet := range f.GetSheetList() {
		found, err := f.SearchSheet(sheet, key)
		if err != nil || len(found) != 1 {
			continue
		}
		column, line, err := excelize.SplitCellName(found[0])
		if err != nil || !inList {
			return sheet, "B" + strconv.Itoa(line), err
		}
		n, err := strconv.Atoi(row)
		return sheet, column + strconv.Itoa(line+n), err
	}
	return "", "", fmt.Errorf("the form has no cell for %s", key)
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
