package record

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

// TestWritten: the record that is kept beside results.json is the one that Parse reads
// there, of every curve, with seven digits and not more.
func TestWritten(t *testing.T) {
	trace := &Trace{T: Floats{0, 1.23456749, 1e-9}, Y: Floats{101325, -2, 0}, Breaks: []int{1, 2}, OverRange: Floats{3}}
	band := &Band{T: Floats{1}, Y: Floats{2}, Low: Floats{1.5}, High: Floats{1e300}}
	for name, traces := range map[string]Traces{
		"all":        {"2031-04-09T12:00:00Z", trace, trace, band, `a "<&> text`, trace, trace},
		"none":       {},
		"one, empty": {Corrected: &Trace{T: Floats{}, Y: Floats{}}},
	} {
		r := &Record{Format: 1, Warnings: []Note{}, Hold: &Hold{Rise: Between(1.0/3, 0, 1, "Pa")}, Traces: traces}
		results, kept, err := r.Written()
		if err != nil {
			t.Fatal(name, err)
		}
		read, err := Parse(results)
		if diff := cmp.Diff(read, kept); err != nil || diff != "" {
			t.Errorf("%s: %v\n%s", name, err, diff)
		}
		seven := func(a, b float64) bool { return math.Abs(a-b) <= 5e-7*math.Abs(a) }
		if diff := cmp.Diff(traces, read.Traces, cmp.Comparer(seven)); diff != "" {
			t.Errorf("%s: what was written is read as another\n%s", name, diff)
		}
		if traces.Vacuum != nil && !strings.Contains(string(results), `"vacuum":{"t":[0,1.234567,1e-09],`+"\n") {
			t.Errorf("%s: not seven digits, or not one curve a line\n%s", name, results)
		}
	}
	for _, x := range []float64{math.NaN(), math.Inf(-1)} {
		if _, _, err := (&Record{Traces: Traces{Hold: &Trace{T: Floats{x}}}}).Written(); err == nil {
			t.Errorf("%g was written into a curve", x)
		}
	}
}
