package readings

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"fmt"
	"io"
	"regexp"

	"dryhold/analysis/fault"
)

// open recognises a file by its content and finds the table in it.
func open(f File, o Options, in *Input, rep *report) (*table, *layout) {
	data := f.Data
	bad := func(code, found, mend string) (*table, *layout) {
		rep.add(fault.Fault{Code: code, File: f.Name, Found: found, Expected: tables, Mend: mend})
		return nil, nil
	}
	in.Kind = "csv"
	if bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		var err error
		if data, err = gunzip(data); err != nil {
			return bad("damaged", "the gzip file can't be unpacked: "+err.Error(), "copy the file again from where it was exported")
		}
		in.Kind = "csv gzip"
	}
	if bytes.HasPrefix(data, []byte("PK")) {
		if in.Kind != "csv" {
			return bad("kind", "a zip archive inside a gzip file", "unpack it and give the workbook itself")
		}
		in.Kind = "xlsx"
		return openBook(f, o, in, rep)
	}
	if what, mend := foreign(data); what != "" {
		return bad("kind", what, mend)
	}
	return openText(f.Name, data, o, in, rep)
}

// tables are the kinds of files that are read.
const tables = "a CSV, TSV or XLSX export"

const again = "open it in the program that made it and save the readings as CSV or XLSX"

var jsonHead = regexp.MustCompile(`^\[?\s*\{\s*"`)

// foreign names the kinds that are not read, and what to do.
func foreign(data []byte) (what, mend string) {
	head := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(data[:min(len(data), 1024)], byteOrderMark), " \t\r\n"))
	switch {
	case bytes.HasPrefix(data, []byte{0xD0, 0xCF, 0x11, 0xE0}):
		if bytes.Contains(data, []byte("E\x00n\x00c\x00r\x00y\x00p\x00t\x00e\x00d\x00P\x00a\x00c\x00k\x00a\x00g\x00e")) {
			return "a workbook that is encrypted with a password", "open it, remove the password, and save it as XLSX"
		}
		return "a workbook in the old binary format (.xls)", "open it in a spreadsheet program and save it as XLSX or CSV"
	case bytes.HasPrefix(head, []byte("%pdf")):
		return "a PDF document: its numbers are drawn, not stored as a table", "export the readings as CSV or XLSX from the instrument's software"
	case bytes.HasPrefix(head, []byte("<!doctype html")), bytes.HasPrefix(head, []byte("<html")), bytes.HasPrefix(head, []byte("<table")),
		bytes.HasPrefix(head, []byte("<meta")), bytes.HasPrefix(head, []byte("<head")), bytes.HasPrefix(head, []byte("<body")):
		return "a web page (HTML), whatever its name says", "open it in a spreadsheet program and save it as XLSX or CSV"
	case bytes.HasPrefix(head, []byte("<?xml")), bytes.HasPrefix(head, []byte("<")):
		return "an XML file", again
	case jsonHead.Match(head):
		return "a JSON file", again
	case bytes.HasPrefix(data, []byte{0x89, 'P', 'N', 'G'}), bytes.HasPrefix(data, []byte{0xff, 0xd8, 0xff}):
		return "a picture", again
	}
	return "", ""
}

// foreignArchive names zip archives that are not an XLSX workbook.
func foreignArchive(z *zip.Reader) (what, mend string) {
	has := map[string]bool{}
	for _, f := range z.File {
		has[f.Name] = true
	}
	switch {
	case has["xl/workbook.bin"]:
		return "a workbook in the binary format (.xlsb)", "open it in a spreadsheet program and save it as XLSX"
	case has["mimetype"] && has["content.xml"]:
		return "an OpenDocument file (.ods)", "open it in a spreadsheet program and save it as XLSX or CSV"
	case has["word/document.xml"]:
		return "a text document (.docx)", again
	case !has["[Content_Types].xml"]:
		return "a zip archive that is not a workbook", "unpack it and give the files in it"
	}
	return "", ""
}

func gunzip(data []byte) ([]byte, error) {
	z, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	out.Grow(min(maxText, 4*len(data)))
	n, err := io.Copy(&out, io.LimitReader(z, maxText+1))
	if n > maxText {
		return nil, fmt.Errorf("it unpacks to more than %d MiB", maxText>>20)
	}
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, errors.New("it ends too early")
	}
	return out.Bytes(), err
}
