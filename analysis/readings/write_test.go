package readings

import (
	"bytes"
	"compress/gzip"
	"fmt"
	"strings"
	"unicode/utf16"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
)

func (d *dress) encode() []byte {
	var b strings.Builder
	end := []string{"\n", "\r\n", "\r"}[d.IntN(3)]
	blanks := strings.HasPrefix(d.sep, " ")
	if blanks && end == "\r" {
		end = "\n"
	}
	for _, row := range d.grid {
		for i, c := range row {
			if i > 0 {
				b.WriteString(d.sep)
			}
			s := fmt.Sprint(c)
			if !blanks && (strings.Contains(s, d.sep) || d.IntN(20) == 0) {
				s = `"` + s + `"`
			}
			b.WriteString(s)
		}
		b.WriteString(end)
	}
	s := b.String()
	data := []byte(s)
	switch d.IntN(6) {
	case 0:
		data = append([]byte("\xef\xbb\xbf"), data...)
	case 1, 2:
		order := d.IntN(2)
		data = []byte{0xff, 0xfe}
		if order == 1 {
			data = []byte{0xfe, 0xff}
		}
		for _, u := range utf16.Encode([]rune(s)) {
			if order == 1 {
				data = append(data, byte(u>>8), byte(u))
			} else {
				data = append(data, byte(u), byte(u>>8))
			}
		}
	case 3:
		if w, err := charmap.Windows1252.NewEncoder().String(s); err == nil {
			data = []byte(w)
		}
	}
	if d.IntN(6) == 0 {
		var out bytes.Buffer
		z := gzip.NewWriter(&out)
		_, _ = z.Write(data)
		_ = z.Close()
		data = out.Bytes()
	}
	return data
}

func (d *dress) workbook() []byte {
	f := excelize.NewFile()
	defer f.Close()
	if d.date04 {
		yes := true
		_ = f.SetWorkbookProps(&excelize.WorkbookPropsOptions{Date1904: &yes})
	}
	sheet := "Sheet1"
	if d.IntN(2) == 0 {
		sheet = "Log 2"
		_, _ = f.NewSheet(sheet)
		_ = f.SetCellValue("Sheet1", "A1", "Summary & notes <of an invented job>")
	}
	st, _ := f.NewStyle(&excelize.Style{NumFmt: 22})
	for i, row := range d.grid {
		for k, c := range row {
			name, _ := excelize.CoordinatesToCellName(k+1, i+1)
			if v, ok := c.(cellDate); ok {
				_ = f.SetCellFloat(sheet, name, float64(v), -1, 64)
				_ = f.SetCellStyle(sheet, name, name, st)
			} else if c != "" {
				_ = f.SetCellValue(sheet, name, c)
			}
		}
	}
	var out bytes.Buffer
	_ = f.Write(&out)
	return out.Bytes()
}
