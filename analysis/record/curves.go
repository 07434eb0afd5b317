package record

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
)

// curves writes Traces, one curve a line, and keeps what a reader will find. They are
// most of results.json: to write and read them with encoding/json takes twice the time.
type curves struct {
	b     []byte
	comma bool
	err   error
}

func (t Traces) write(b []byte) ([]byte, Traces, error) {
	w := &curves{b: append(b, '{')}
	var read Traces
	read.Start = w.text("start", t.Start)
	read.Vacuum = w.trace("vacuum", t.Vacuum)
	read.Hold = w.trace("hold", t.Hold)
	read.Fit = w.band("fit", t.Fit)
	read.PressureStart = w.text("pressure_start", t.PressureStart)
	read.Pressure = w.trace("pressure", t.Pressure)
	read.Corrected = w.trace("pressure_corrected", t.Corrected)
	return append(w.b, '}'), read, w.err
}

func (w *curves) key(name string) {
	if w.comma {
		w.b = append(w.b, ',')
		if w.b[len(w.b)-2] == ']' {
			w.b = append(w.b, "\n  "...)
		}
	}
	w.b = append(strconv.AppendQuote(w.b, name), ':')
	w.comma = true
}

func (w *curves) object(name string, write func()) {
	w.key(name)
	w.b, w.comma = append(w.b, '{'), false
	write()
	w.b, w.comma = append(w.b, '}'), true
}

func (w *curves) text(name, s string) string {
	if s != "" {
		w.key(name)
		quoted, _ := json.Marshal(s) // of a text it never fails
		w.b = append(w.b, quoted...)
	}
	return s
}

func (w *curves) trace(name string, t *Trace) *Trace {
	if t == nil {
		return nil
	}
	read := &Trace{}
	w.object(name, func() {
		read.T, read.Y = w.column("t", t.T), w.column("y", t.Y)
		if len(t.Breaks) > 0 {
			read.Breaks = t.Breaks
			w.key("breaks")
			list, _ := json.Marshal(t.Breaks) // of whole numbers it never fails
			w.b = append(w.b, list...)
		}
		if len(t.OverRange) > 0 {
			read.OverRange = w.column("over_range", t.OverRange)
		}
	})
	return read
}

func (w *curves) band(name string, f *Band) *Band {
	if f == nil {
		return nil
	}
	read := &Band{}
	w.object(name, func() {
		read.T, read.Y, read.Low, read.High = w.column("t", f.T), w.column("y", f.Y), w.column("low", f.Low), w.column("high", f.High)
	})
	return read
}

// column writes seven significant digits: a figure needs no more.
func (w *curves) column(name string, f Floats) Floats {
	w.key(name)
	w.b = append(w.b, '[')
	read := make(Floats, len(f))
	for i, x := range f {
		if i > 0 {
			w.b = append(w.b, ',')
		}
		if math.IsNaN(x) || math.IsInf(x, 0) {
			w.err = fmt.Errorf("a curve's %s %d is %g", name, i, x)
		}
		from := len(w.b)
		w.b = strconv.AppendFloat(w.b, x, 'g', 7, 64)
		read[i], _ = strconv.ParseFloat(string(w.b[from:]), 64) // which was written as a number
	}
	w.b = append(w.b, ']')
	return read
}
