package report

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/templates"
)

// english are words that stand in English sentences of this trade and are no
// words of Spanish.
var english = strings.Fields(`the of and to in is are was were be been with without for from at by on as an it its this that these those or not yes
	than then which where when what how who both each every any some most more less least over under above below between before after during
	reading readings gauge hold pressure leak leaks pump valve valves hose hoses oil water gas-ballast line lines unit units indoor outdoor liquid suction
	port ports open closed stated agreed file job maker maker's instruction instructions practice common source found published page memory accident report
	reproduced engineering reason work elsewhere conductivity thermal capacitance diaphragm range step year indication detector joints bubbles
	bubble solution start end cause remark time level lowest rise inflow sign-off pull-down start-up evacuation micron microns charge recovery superheat
	subcooling split current voltage unbalance insulation overdue calibration annex sum mass components regulation against`)

// own are the texts of a record that the firm wrote, which no language changes.
// What the program reads itself (kinds, roles, principles, ranges) is none of them.
func own(r *record.Record) []string {
	var all []string
	add := func(v any) {
		var walk func(v reflect.Value)
		walk = func(v reflect.Value) {
			switch v.Kind() {
			case reflect.String:
				all = append(all, v.String())
			case reflect.Slice:
				for i := range v.Len() {
					walk(v.Index(i))
				}
			case reflect.Struct:
				for i := range v.NumField() {
					walk(v.Field(i))
				}
			}
		}
		walk(reflect.ValueOf(v))
	}
	j := r.Job
	for _, v := range []any{j.Company, j.Technician, j.Customer, j.Site, j.Number, j.Boundary.Included, j.Boundary.Excluded, j.Boundary.Valves, j.Boundary.IsolatedAt, j.Timezone, r.Signoffs, r.Leaks, r.Photographs} {
		add(v)
	}
	for _, e := range j.Equipment {
		_, place, _ := strings.Cut(e.Role, ", ")
		all = append(all, e.Maker, e.Model, e.Serial, place)
	}
	for _, i := range r.Instruments {
		all = append(all, i.ID, i.Serial, i.Certificate)
	}
	for _, i := range r.Inputs {
		all = append(all, i.File, i.Sheet)
	}
	for _, a := range r.Attempts {
		all = append(all, a.Finding, a.Repair)
	}
	for _, e := range r.Events {
		all = append(all, e.What)
	}
	for _, l := range j.System.Lines {
		all = append(all, l.Text)
	}
	if p := r.Pressure; p != nil {
		_, more, _ := strings.Cut(p.Gas, ", ")
		all = append(all, more, p.TemperatureAt, p.Instrument)
	}
	if c := r.Recovery; c != nil {
		all = append(all, c.Cylinder)
	}
	if h := r.Hold; h != nil && h.Criterion != nil {
		doc, _, _ := strings.Cut(h.Criterion.Source, ", page ")
		if doc != h.Criterion.Source {
			all = append(all, doc)
		}
	}
	all = append(all, "results.json", "job.toml", "company.toml")
	// stages of a leak check that the program knows are its own words
	all = slices.DeleteFunc(all, func(s string) bool { return len(s) < 3 || templates.Term("es", s) != s })
	slices.SortFunc(all, func(a, b string) int { return len(b) - len(a) })
	return all
}

// foreign lists the English words of Spanish pages.
func foreign(r *record.Record, all []text) []string {
	var b strings.Builder
	for _, x := range all {
		b.WriteString(x.s + " ")
	}
	page := strings.ReplaceAll(b.String(), nb, " ")
	for _, s := range own(r) {
		s = strings.ReplaceAll(s, nb, " ")
		page = strings.ReplaceAll(page, s, " ")
		page = strings.ReplaceAll(page, upper(s), " ")
	}
	var found []string
	for _, w := range strings.Fields(page) { // a word with a digit is part of a digest or a number
		w = strings.Trim(w, "()[]{},.;:!?¿¡·/±\"")
		if slices.Contains(english, strings.ToLower(w)) {
			found = append(found, w)
		}
	}
	return found
}

// TestSpanishPages finds English on Spanish pages: on those of the demo jobs, and of
// a record that has a note of every code.
func TestSpanishPages(t *testing.T) {
	eachSample(t, func(t *testing.T, s sample, o Options, _ *Drawn, all []text) {
		if found := foreign(s.rec, all); o.Language == "es" && len(found) > 0 {
			t.Errorf("English words: %q", found)
		}
	})
	samples, _ := sampleRecords()
	copied := *samples[0].rec
	r := &copied
	facts := map[string]*record.Value{}
	for _, name := range []string{"settle", "leak", "moisture", "rise", "threshold", "length", "held", "asked", "found", "months", "months_with_detection", "reading", "limit", "leak_high", "moisture_high"} {
		facts[name] = record.Plain(12, "1")
	}
	for _, code := range templates.NoteCodes() {
		if !strings.Contains(code, ".") {
			r.Warnings = append(r.Warnings, record.Note{Code: code, Text: "the readings of the gauge", Where: "hold 2", Facts: facts, Names: map[string]string{"name": "J. W."}})
		}
	}
	for _, code := range templates.CautionCodes() {
		r.Cautions = append(r.Cautions, record.Caution{Code: code})
	}
	for _, a := range templates.Audiences {
		o := testOptions(a)
		o.Language = "es"
		o.Attachments, o.Signer = nil, r.Job.Company.Name
		_, all := drawn(t, r, o)
		if found := foreign(r, all); len(found) > 0 {
			t.Errorf("%s: English words: %q", a, found)
		}
	}
	// The test finds what it is for.
	if found := foreign(r, []text{{s: "La lectura (common practice)"}}); len(found) != 2 {
		t.Errorf("found %q", found)
	}
}

// Beside 1 a unit is in the singular, on the pages and where the firm wrote it.
func TestOneMicron(t *testing.T) {
	b, err := newBuilder(testRecord(), Options{Audience: "inspector", Language: "es", Units: "us"})
	if err != nil {
		t.Fatal(err)
	}
	u := b.p.sys.Vacuum
	for got, want := range map[string]string{
		b.p.withUnit("1", u):                  "1\u00a0micra",
		b.p.withUnit("1.5", u):                "1.5\u00a0micras",
		b.p.withUnit("21", u):                 "21\u00a0micras",
		b.p.withUnit("1", b.p.sys.Rate):       "1\u00a0micra/min",
		b.p.withUnit("2", b.p.sys.Rate):       "2\u00a0micras/min",
		b.p.withUnit("1", quantity.Minute):    "1\u00a0min",
		b.measure("1 micron"):                 "1\u00a0micra",
		b.measure("10 % + 1 micron"):          "10\u00a0% + 1\u00a0micra",
		b.measure("0.1 micron"):               "0.1\u00a0micras",
		b.measure("1 micron to 20001 micron"): "1\u00a0micra a 20001\u00a0micras",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
