package readings

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"
	"time"

	"dryhold/analysis/quantity"
)

// truth is what a generated recording holds, row by row in time order.
type truth struct {
	at      []time.Time
	p       []float64 // Pa, NaN for a mark
	mark    []Mark
	ambient []float64 // K, NaN for none
	in      Input     // the counts
	o       Options

	wholeThousands bool   // numbers with thousands marks and never a decimal
	decimal        string // what job.toml would say of the decimal mark
}

// dress is one way to write a recording.
type dress struct {
	*rand.Rand
	grid   [][]any // strings, or numbers and times for a workbook
	sep    string
	comma  bool // decimal comma
	groups bool // thousands marks
	lang   int
	unit   quantity.Unit
	unitAt int // 0 header, 1 units line, 2 unit column, 3 behind each value, 4 job.toml
	book   bool
	cells  bool // a workbook with numbers and dates, not texts
	when   int
	date04 bool

	decimals             int
	hasAmbient, hasOther bool
	nTime                int // columns of the time
}

var heads = [...]map[string]string{
	{"time": "Time", "date": "Date", "stamp": "Date/Time", "elapsed": "Elapsed", "p": "Vacuum", "a": "Ambient temp", "unit": "Unit", "other": "Battery"},
	{"time": "Hora", "date": "Fecha", "stamp": "Fecha y hora", "elapsed": "Tiempo transcurrido", "p": "Vacío", "a": "Temperatura ambiente", "unit": "Unidad", "other": "Nota"},
	{"time": "Uhrzeit", "date": "Datum", "stamp": "Zeitstempel", "elapsed": "Verstrichene Zeit", "p": "Absolutdruck", "a": "Umgebungstemperatur", "unit": "Einheit", "other": "Bemerkung"},
	{"time": "Heure", "date": "Date", "stamp": "Date et heure", "elapsed": "Temps écoulé", "p": "PRESSION", "a": "Température", "unit": "Unité", "other": "Note"},
}

var pressureUnits = []quantity.Unit{quantity.Micron, quantity.MTorr, quantity.Torr, quantity.MmHg, quantity.Pa, quantity.HPa, quantity.KPa, quantity.Mbar, quantity.Psia, quantity.InHgAbs, quantity.Bara}

// write prints v with exactly the given decimals in the dress's marks.
func (d *dress) write(v float64, decimals int) string {
	s := strconv.FormatFloat(v, 'f', decimals, 64)
	whole, frac, point := strings.Cut(s, ".")
	mark, group := ".", ","
	if d.comma {
		mark, group = ",", "."
	}
	if d.groups && len(whole) > 3 {
		whole = whole[:len(whole)-3] + group + whole[len(whole)-3:]
	}
	if point {
		whole += mark + frac
	}
	return whole
}

type cellDate float64

// TestDresses: whatever a series is dressed in, it reads back equal.
func TestDresses(t *testing.T) {
	n := 4000
	if testing.Short() {
		n = 400
	}
	failed, undecided := 0, 0
	for seed := range uint64(n) {
		f, want := generate(seed)
		s, l := Read([]File{f}, want.o)
		if len(l) == 1 && l[0].Code == "decimal" && want.wholeThousands {
			undecided++ // rightly: the file does not say what its marks are
			want.o.Decimal = want.decimal
			s, l = Read([]File{f}, want.o)
		}
		if msg := want.differ(t, s, l.Stops()); msg != "" {
			t.Errorf("seed %d: %s\n%v\n%.600s", seed, msg, l, show(f))
			if failed++; failed > 5 {
				t.FailNow()
			}
		}
	}
	if undecided > n/10 {
		t.Errorf("%d of %d were left undecided", undecided, n)
	}
}

func show(f File) string {
	if f.Data[0] == 'P' {
		return "a workbook"
	}
	return string(f.Data)
}

func (want *truth) differ(t *testing.T, s *Series, stops bool) string {
	if stops || s == nil {
		return "refused"
	}
	balanced(t, s)
	in, w := s.Inputs[0], want.in
	if [7]int{in.Rows, in.Used, in.OverRange, in.UnderRange, in.NotANumber, in.Duplicates, in.Unused} != [7]int{w.Rows, w.Used, w.OverRange, w.UnderRange, w.NotANumber, w.Duplicates, w.Unused} || in.OutOfOrder != w.OutOfOrder {
		return fmt.Sprintf("counts %+v, want %+v", in, w)
	}
	for i := range want.at {
		same := func(a, b float64) bool { return a == b || math.IsNaN(a) && math.IsNaN(b) }
		amb := math.NaN()
		if s.Ambient != nil {
			amb = s.Ambient[i]
		}
		if !s.At(i).Equal(want.at[i]) || !same(s.P[i], want.p[i]) || s.Mark[i] != want.mark[i] || !same(amb, want.ambient[i]) {
			return fmt.Sprintf("row %d: %v %v %v %v, want %v %v %v %v", i, s.At(i), s.P[i], s.Mark[i], amb, want.at[i], want.p[i], want.mark[i], want.ambient[i])
		}
	}
	return ""
}
