package report

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
	"unicode/utf8"

	"dryhold/analysis/record"
	"dryhold/templates"
)

// TestBareRecord draws records of which almost nothing is known.
func TestBareRecord(t *testing.T) {
	const micron = 0.133322387415
	bare := &record.Record{Format: 1, Job: record.Job{Number: "B-1"}}
	hold := &record.Record{Format: 1, Job: record.Job{Number: "B-2"}, Hold: &record.Hold{Start: "2031-04-09T10:00:00-06:00", End: "2031-04-09T10:10:00-06:00", Found: "stated", Decision: "not determined", Cause: "not determined",
		StartPressure: record.Plain(30, "Pa"), EndPressure: record.Plain(31, "Pa"), Rise: record.Plain(1, "Pa")}, Charge: &record.Charge{}, Startup: &record.Startup{}, Pressure: &record.Pressure{Kind: "tightness", Decision: "not determined"}, PullDown: &record.PullDown{}, Recovery: &record.Recovery{}, PumpCheck: &record.PumpCheck{Result: "not judged"}}
	odd := testRecord()
	odd.Traces.Vacuum = &record.Trace{T: []float64{0, 60, 120}, Y: []float64{0, -3, 100 * micron}}
	odd.Traces.Hold = &record.Trace{T: []float64{7920, 7980}, Y: []float64{0, 0}}
	odd.Traces.Fit = &record.Band{T: []float64{1}}
	odd.Traces.Pressure = &record.Trace{T: []float64{5}, Y: []float64{5}}
	odd.Job.Barometer = nil
	for name, r := range map[string]*record.Record{"nothing": bare, "a hold without more": hold, "odd traces": odd} {
		t.Run(name, func(t *testing.T) {
			each(t, r, func(t *testing.T, o Options, d *Drawn, all []text) {
				inside(t, o, all)
				sound(t, o, all)
				if bytes.Contains(d.PDF, []byte("NaN")) {
					t.Error("NaN in the document")
				}
			})
		})
	}
}

// stressed is a record with names of extreme length, forty instruments, units and attempts.
func stressed() *record.Record {
	r := testRecord()
	long := strings.Repeat("Extraordinarily long name of an invented firm ", 6)
	unbroken := strings.Repeat("UNBROKEN", 30)
	j := &r.Job
	j.Number = strings.Repeat("JOB-", 12) + "1"
	j.Company.Name, j.Company.Address, j.Technician.Name, j.Site.Address = long, unbroken, long, long+unbroken
	j.Boundary.Included = append(j.Boundary.Included, unbroken, long)
	for i := range 40 {
		j.Equipment = append(j.Equipment, record.Equipment{Role: "indoor unit", Maker: long, Model: unbroken[:40], Serial: fmt.Sprintf("00471180SERIAL%024d", i)})
		x := r.Instruments[0]
		x.ID, x.Serial = fmt.Sprintf("V-%02d", i), unbroken[:60]
		r.Instruments = append(r.Instruments, x)
		r.Warnings = append(r.Warnings, record.Note{Code: "x", Text: long})
		r.Attempts = append(r.Attempts, r.Attempts[0])
	}
	for _, s := range []string{"image", "digital", "typed by office"} {
		r.Signoffs = append(r.Signoffs, record.Signoff{Role: long, Name: unbroken, Method: s})
	}
	return r
}

// TestStress draws what is long and what is many.
func TestStress(t *testing.T) {
	r := stressed()
	each(t, r, func(t *testing.T, o Options, d *Drawn, all []text) {
		inside(t, o, all)
		var whole strings.Builder
		for _, x := range all {
			whole.WriteString(x.s)
		}
		for i := range 40 {
			if s := fmt.Sprintf("00471180SERIAL%024d", i); !strings.Contains(whole.String(), s) {
				t.Errorf("the serial %s is nowhere whole", s)
			}
		}
	})
}

// TestLongerWords draws every text 1.35 times as long.
func TestLongerWords(t *testing.T) {
	for _, a := range templates.Audiences {
		base, err := templates.Load(a, nil)
		if err != nil {
			t.Fatal(err)
		}
		longer := &templates.Template{Audience: a, Sections: base.Sections, Words: map[string]templates.Text{}}
		for _, k := range templates.Keys() {
			s := base.Word("es", k)
			n := utf8.RuneCountInString(s) * 35 / 100
			if n > 0 && !strings.HasPrefix(k, "month.") {
				s += " " + strings.Repeat("lorem ", n/6) + strings.Repeat("x", n%6)
			}
			longer.Words[k] = templates.Text{"es": s}
		}
		t.Run(a, func(t *testing.T) {
			o := testOptions(a)
			o.Language, o.Template = "es", longer
			_, all := drawn(t, testRecord(), o)
			inside(t, o, all)
		})
	}
}
