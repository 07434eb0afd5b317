package report

import (
	"slices"
	"strings"
	"testing"

	"dryhold/analysis/record"
	"dryhold/report/plot"
)

// TestWhatIsMissing: a gap in the record is told as one, and nothing is said of what
// is not there.
func TestWhatIsMissing(t *testing.T) {
	for _, c := range []struct {
		name, audience, language string
		change                   func(r *record.Record)
		want, not                string
	}{
		{"a leak check is no charge", "homeowner", "en", func(r *record.Record) { r.Charge = nil }, "Not recorded. Leak check after charging", ""},
		{"a gas that nobody named", "homeowner", "en", func(r *record.Record) { r.Pressure.Gas = "" }, "Gas not given. Held at", ""},
		{"a firm without a name", "inspector", "en", func(r *record.Record) { r.Job.Company.Name = "" }, "firm not given", ""},
		{"no reading that decides", "homeowner", "en", func(r *record.Record) { r.Hold.ReadingAtLimit = nil }, "Micron: a unit", "The bar on the line"},
		{"no change was agreed", "inspector", "en", func(r *record.Record) { r.Pressure.MaxChange, r.Hold = nil, nil }, "", "agreed in the job file"},
		{"a limit off the scale", "inspector", "en", func(r *record.Record) { r.Hold.Limit.V *= 20 }, "Bar: the reading", "Hatched: guard band"},
		{"part of a range below zero", "inspector", "en", func(r *record.Record) { r.Instruments[1].Range = "-40 to 250 °F" }, "−40 to", "-40 to"},
		{"ohms without the letter", "inspector", "en", func(r *record.Record) { r.Startup.Rows[0].Stated = "210 Mohm" }, "210 MΩ", "ohm"},
		{"a note on an earlier attempt", "inspector", "es", func(r *record.Record) {
			r.Warnings = []record.Note{{Code: "ice-possible", Where: "attempt 1"}}
		}, "(intento\u00a01)", "attempt"},
		{"what a revision amends, and why", "inspector", "en", func(r *record.Record) {
			r.Job.Revision, r.Job.Amends, r.Job.Reason = 2, strings.Repeat("0123456789abcdef", 4), "volume measured again"
		}, "revision 2, amends 0123\u00a04567\u00a089ab\u00a0cdef: volume measured again", ""},
	} {
		r := testRecord()
		c.change(r)
		o := testOptions(c.audience)
		o.Language = c.language
		_, all := drawn(t, r, o)
		got := strings.Join(strings.Fields(joined(all)), " ") // fields part at fixed spaces too
		want := strings.ReplaceAll(c.want, "\u00a0", " ")
		if !strings.Contains(got, want) {
			t.Errorf("%s: %q is missing in %s", c.name, want, got)
		}
		if c.not != "" && strings.Contains(got, c.not) {
			t.Errorf("%s: the pages say %q", c.name, c.not)
		}
	}
}

// TestPeriods: both ends of a period are told alike.
func TestPeriods(t *testing.T) {
	b, err := newBuilder(testRecord(), testOptions("inspector"))
	if err != nil {
		t.Fatal(err)
	}
	for end, want := range map[string]string{"2031-04-09T14:01:00Z": "13:20:40 to 14:01:00", "2031-04-09T14:01:07Z": "13:20:40 to 14:01:07"} {
		if got := b.p.between("2031-04-09T13:20:40Z", end); !strings.HasSuffix(got, want) {
			t.Errorf("%q, not %q", got, want)
		}
	}
	if got := b.p.between("2031-04-09T13:20:00Z", "2031-04-09T14:01:00Z"); !strings.HasSuffix(got, " 13:20 to 14:01") {
		t.Errorf("%q has seconds", got)
	}
}

// TestHeadlineLines: lines of about one length, and no more of them than needed.
func TestHeadlineLines(t *testing.T) {
	st := style{19, 23, true}
	for text, want := range map[string]string{
		"Not determined: the test ended after 5.2\u00a0min of the 10\u00a0min agreed":                                               "Not determined: the test ended|after 5.2\u00a0min of the 10\u00a0min agreed",
		"Criterion not met: 840\u00a0micron against a limit of 503\u00a0micron. The rise levels off: water, or gas leaving the oil": "Criterion not met: 840\u00a0micron|against a limit of 503\u00a0micron.|The rise levels off: water, or gas leaving the oil",
		"Criterion met. What caused the rise is not determined":                                                                     "Criterion met. What caused the rise is not determined",
	} {
		var got []string
		for _, l := range balanced(text, st, measureWidth) {
			one := ""
			for _, r := range l.runs {
				one += r.text
			}
			got = append(got, one)
		}
		if strings.Join(got, "|") != want {
			t.Errorf("%q", got)
		}
	}
}

// TestLegend: a figure explains what is drawn in it.
func TestLegend(t *testing.T) {
	legend := func(change func(h *record.Hold)) []string {
		r := testRecord()
		change(r.Hold)
		b, err := newBuilder(r, testOptions("inspector"))
		if err != nil {
			t.Fatal(err)
		}
		return plot.Hold(r, b.plots()).Legend
	}
	all := []string{"hold.dots", "hold.line", "hold.bar", "hold.filled", "hold.hatched", "hold.cut"}
	if got := legend(func(*record.Hold) {}); !slices.Equal(got, all) {
		t.Error(got)
	}
	if got := legend(func(h *record.Hold) { h.SettleEnd, h.GuardBand, h.StandardUncertainty = "", nil, nil }); !slices.Equal(got, []string{"hold.dots", "hold.line", "hold.cut"}) {
		t.Error(got)
	}
}
