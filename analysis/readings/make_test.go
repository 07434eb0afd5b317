package readings

import (
	"bytes"
	"fmt"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"
)

var start = time.Date(2031, 4, 9, 10, 0, 0, 0, time.UTC)

// makeBook is a workbook written by excelize: a date cell, a pressure and a
// temperature in each of n rows, one second apart.
func makeBook(t testing.TB, n int) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	w, err := f.NewStreamWriter("Sheet1")
	check(t, err)
	st, err := f.NewStyle(&excelize.Style{NumFmt: 22})
	check(t, err)
	check(t, w.SetRow("A1", []any{"Time", "Vacuum (micron)", "Ambient (°C)"}))
	for i := range n {
		at := start.Add(time.Duration(i) * time.Second)
		days := float64(at.Unix())/86400 + 25569
		row := []any{excelize.Cell{StyleID: st, Value: days}, micron(i), 21.5}
		check(t, w.SetRow(fmt.Sprintf("A%d", i+2), row))
	}
	check(t, w.Flush())
	var out bytes.Buffer
	check(t, f.Write(&out))
	return out.Bytes()
}

// makeText is the same recording as a text file.
func makeText(n int) []byte {
	var out bytes.Buffer
	out.WriteString("Time,Vacuum (micron),Ambient (°C)\n")
	for i := range n {
		fmt.Fprintf(&out, "%s,%g,21.5\n", start.Add(time.Duration(i)*time.Second).Format("2006-01-02 15:04:05"), micron(i))
	}
	return out.Bytes()
}

func micron(i int) float64 { return 500 + float64(i%1000)/10 }

func check(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// balanced checks what must hold for every input of a series.
func balanced(t testing.TB, s *Series) {
	t.Helper()
	n := 0
	for _, in := range s.Inputs {
		if sum := in.Used + in.OverRange + in.UnderRange + in.NotANumber + in.Duplicates + in.Unused; sum != in.Rows {
			t.Fatalf("%s: %d rows, but the counts add to %d: %+v", in.File, in.Rows, sum, in)
		}
		n += in.Used + in.OverRange + in.UnderRange
	}
	if n != s.Len() {
		t.Fatalf("%d readings counted, %d in the series", n, s.Len())
	}
	for i := 1; i < s.Len(); i++ {
		if s.T[i] <= s.T[i-1] {
			t.Fatalf("times do not increase at %d: %g, %g", i, s.T[i-1], s.T[i])
		}
	}
}
