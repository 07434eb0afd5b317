package samples

import (
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"dryhold/samples/sim"
)

// A unit is how a column shows SI values: (SI - offset)/scale, with decimals.
type unit struct {
	scale, offset float64
	decimals      int
}

// psi is the pound-force per square inch in Pa.
const psi = 6894.757293168

var (
	micron     = unit{scale: sim.Micron}
	pascal     = unit{scale: 1, decimals: 1}
	psig       = unit{scale: psi, offset: barometer, decimals: 1}
	celsius    = unit{scale: 1, offset: 273.15, decimals: 1}
	fahrenheit = unit{scale: 5.0 / 9, offset: 273.15 - 32*5.0/9, decimals: 1}
)

func (u unit) of(si float64) float64 { return (si - u.offset) / u.scale }

func (u unit) text(si float64, comma bool) string {
	s := strconv.FormatFloat(u.of(si), 'f', u.decimals, 64)
	if comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// A dress is how a recorder's program writes its log.
type dress struct {
	sheet    string // a workbook with this sheet, rather than text
	title    []string
	header   []string // time (or date and time), pressure, temperature
	layout   []string // of the time columns
	elapsed  bool     // seconds from the first row instead
	pressure unit
	ambient  unit
	bare     bool // no temperature
	over     string
	comma    bool // decimal comma, semicolons between
	gzip     bool
}

func (d *dress) write(rows []row) ([]byte, error) {
	if d.sheet != "" {
		return d.workbook(rows)
	}
	var b bytes.Buffer
	for _, t := range d.title {
		b.WriteString(t + "\r\n")
	}
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	if d.comma {
		w.Comma = ';'
	}
	if err := w.Write(d.header); err != nil {
		return nil, err
	}
	for _, r := range rows {
		if err := w.Write(d.record(r, rows[0].time)); err != nil {
			return nil, err
		}
	}
	w.Flush()
	if w.Error() != nil || !d.gzip {
		return b.Bytes(), w.Error()
	}
	return packed(b.Bytes())
}

func (d *dress) record(r row, first time.Time) []string {
	var fields []string
	if d.elapsed {
		fields = append(fields, strconv.FormatFloat(r.time.Sub(first).Seconds(), 'f', -1, 64))
	}
	for _, l := range d.layout {
		fields = append(fields, r.time.Format(l))
	}
	pressure := d.over
	if r.mark == sim.Read {
		pressure = d.pressure.text(r.pressure, d.comma)
	}
	fields = append(fields, pressure)
	if !d.bare {
		fields = append(fields, d.ambient.text(r.temperature, d.comma))
	}
	return fields
}

func packed(data []byte) ([]byte, error) {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := w.Write(data); err != nil {
		return nil, err
	}
	if err := w.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}

// workbook writes real date cells. Its bytes depend on the rows alone: the
// properties are fixed and the archive carries no times.
func (d *dress) workbook(rows []row) ([]byte, error) {
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetSheetName("Sheet1", d.sheet); err != nil {
		return nil, err
	}
	moment := rows[0].time.Format(time.RFC3339)
	if err := f.SetDocProps(&excelize.DocProperties{Creator: "invented", Title: d.sheet, Created: moment, Modified: moment}); err != nil {
		return nil, err
	}
	format := "yyyy-mm-dd hh:mm:ss"
	date, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	if err != nil {
		return nil, err
	}
	w, err := f.NewStreamWriter(d.sheet)
	if err != nil {
		return nil, err
	}
	if err := w.SetColWidth(1, 1, 20); err != nil {
		return nil, err
	}
	n := 0
	next := func(cells ...any) {
		n++
		if err == nil {
			err = w.SetRow("A"+strconv.Itoa(n), cells)
		}
	}
	for _, t := range d.title {
		next(t)
	}
	var head []any
	for _, h := range d.header {
		head = append(head, h)
	}
	next(head...)
	for _, r := range rows {
		next(d.cells(r, date)...)
	}
	if err != nil {
		return nil, err
	}
	if err := w.Flush(); err != nil {
		return nil, err
	}
	var b bytes.Buffer
	err = f.Write(&b)
	return b.Bytes(), err
}

func (d *dress) cells(r row, date int) []any {
	cells := []any{excelize.Cell{StyleID: date, Value: r.time}}
	if r.mark == sim.Read {
		cells = append(cells, number(d.pressure, r.pressure))
	} else {
		cells = append(cells, d.over)
	}
	if !d.bare {
		cells = append(cells, number(d.ambient, r.temperature))
	}
	return cells
}

// number is the value to the digits that the column shows.
func number(u unit, si float64) float64 {
	v, _ := strconv.ParseFloat(u.text(si, false), 64)
	return v
}
