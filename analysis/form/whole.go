package form

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"dryhold/analysis/fault"
)

// broken says which part of a workbook is damaged or missing, "" for none. The
// library reads what stands before the damage and takes the rest for empty.
func broken(data []byte) string {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return "" // no archive: told by the library
	}
	parts, left := map[string]bool{}, int64(maxUnzipped)
	for _, f := range z.File {
		parts[strings.ToLower(f.Name)] = true
	}
	for _, f := range z.File {
		if !counts(f.Name) {
			continue
		}
		if left -= int64(f.UncompressedSize64); left < 0 {
			return "" // told by the library
		}
		targets, err := elements(f)
		if where, ok := err.(misplaced); ok {
			return fmt.Sprintf("its part %s is damaged: %s", f.Name, where)
		}
		if err != nil {
			return fmt.Sprintf("its part %s is damaged", f.Name)
		}
		for _, t := range targets {
			if !parts[strings.ToLower(t)] {
				return fmt.Sprintf("its part %s is missing", t)
			}
		}
	}
	for _, name := range []string{"xl/workbook.xml", "xl/_rels/workbook.xml.rels"} {
		if !parts[strings.ToLower(name)] {
			return fmt.Sprintf("its part %s is missing", name)
		}
	}
	return ""
}

// counts reports a part that cells are read from.
func counts(name string) bool {
	return path.Dir(name) == "xl" && path.Ext(name) == ".xml" || path.Dir(name) == "xl/worksheets" && path.Ext(name) == ".xml" || name == "xl/_rels/workbook.xml.rels" || name == "[Content_Types].xml"
}

var errNothing = errors.New("there is nothing in it")

// elements reads a part to its end. Of a list of relations it returns the parts
// that it names.
func elements(f *zip.File) (targets []string, err error) {
	r, err := f.Open()
	if err != nil {
		return nil, err
	}
	defer r.Close()
	d := xml.NewDecoder(io.LimitReader(r, int64(f.UncompressedSize64)+1))
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil }
	sheet, at := path.Dir(f.Name) == "xl/worksheets", walk{}
	for seen := false; ; {
		token, err := d.Token()
		switch {
		case err == io.EOF && !seen:
			return nil, errNothing
		case err == io.EOF:
			return targets, nil
		case err != nil:
			return nil, err
		}
		if e, ok := token.(xml.StartElement); ok {
			seen = true
			if t := target(e); t != "" {
				targets = append(targets, t)
			}
			if sheet {
				if err := at.element(e); err != nil {
					return nil, err
				}
			}
		}
	}
}

// target is the part of cells that a relation of the workbook names, "" for none.
func target(e xml.StartElement) string {
	to, kind := "", ""
	for _, a := range e.Attr {
		switch a.Name.Local {
		case "Target":
			to = a.Value
		case "Type":
			kind = path.Base(a.Value)
		}
	}
	if e.Name.Local != "Relationship" || kind != "worksheet" && kind != "sharedStrings" && kind != "styles" {
		return ""
	}
	if !strings.HasPrefix(to, "/") {
		to = "xl/" + to
	}
	return strings.TrimPrefix(path.Clean(to), "/")
}

// anew is what is left to do where a form can't be read.
const anew = "take an older copy, or move this file away and make a new form with: dryhold form FOLDER"

func damaged(name, why string) fault.Fault {
	return fault.Fault{Code: "workbook", File: name, Found: "the workbook cannot be read: " + why,
		Expected: "a job form, saved as .xlsx without a password", Mend: "open it in the spreadsheet program and save it again as .xlsx; if it does not open there, " + anew}
}

func reason(err error) string {
	if s := err.Error(); strings.Contains(s, "encrypt") || strings.Contains(s, "password") {
		return "it is protected with a password"
	} else if strings.Contains(s, "zip") || strings.Contains(s, "unsupported") {
		return "it is not an .xlsx file"
	}
	return err.Error()
}
