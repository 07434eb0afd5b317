package analysis

import (
	"fmt"
	"strings"

	"dryhold/analysis/decision"
	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/record"
)

// agreed is the criterion of the hold that the job names, in numbers and in words.
type agreed struct {
	decision.Criterion
	name, text, source, certainty string
	minutes                       float64
	limit                         float64 // Pa; 0 where none is asked for
	given                         bool
}

// agreed reads [hold]: a preset, the job's own numbers, or both, in which case
// the job's numbers stand in for the preset's.
func (r *runner) agreed() agreed {
	h := r.job.Hold
	if h == nil {
		return agreed{}
	}
	a := agreed{source: "agreed in the job file"}
	if h.Acceptance != "" {
		p, err := decision.Find(h.Acceptance)
		if err != nil {
			r.unknown(h)
			return a
		}
		a.Criterion, a.given = p.Criterion(), true
		a.name, a.text, a.source, a.certainty = p.Name, p.Text, p.Source, p.Certainty
		r.asked(p, h)
		if c := r.job.Charge; c != nil && !p.Covers(c.Factory.SI+c.Added.SI) {
			r.warn(record.Note{Code: "preset-charge", Where: "hold.acceptance", Names: map[string]string{"preset": p.Name},
				Text: fmt.Sprintf("the criterion %q is written for another size of charge than this circuit's", p.Name)})
		}
	}
	a.own(h)
	a.minutes, a.limit = a.Duration/60, a.Limit
	return a
}

// own puts the job's numbers in.
func (a *agreed) own(h *job.Hold) {
	set := func(to *float64, v float64) { *to, a.given = v, true }
	own := false
	if h.Reach.Given() {
		set(&a.Reach, h.Reach.SI)
		own = true
	}
	if h.Limit.Given() {
		set(&a.Limit, h.Limit.SI)
		own = true
	}
	if h.MaxRise.Given() {
		set(&a.MaxRise, h.MaxRise.SI)
		own = true
	}
	if h.Minutes != nil {
		a.Duration = *h.Minutes * 60
	}
	if !own && h.Minutes == nil {
		return
	}
	var parts []string
	if h.Reach.Given() {
		parts = append(parts, "reach "+h.Reach.Text)
	}
	if h.Limit.Given() {
		parts = append(parts, "not above "+h.Limit.Text)
	}
	if h.MaxRise.Given() {
		parts = append(parts, "rise not over "+h.MaxRise.Text)
	}
	if h.Minutes != nil {
		parts = append(parts, fmt.Sprintf("%.4g minutes", *h.Minutes))
	}
	words := strings.Join(parts, ", ")
	if a.text != "" && a.name != "maker" && a.name != "project" {
		words = a.text + "; in the job file: " + words
	}
	a.text = words
	if h.Document != "" {
		a.source = strings.TrimSpace(h.Document + ", page " + h.Page)
	}
}

// unknown says that acceptance names no preset, and which there are.
func (r *runner) unknown(h *job.Hold) {
	var names []string
	for _, p := range decision.Presets() {
		names = append(names, p.Name)
	}
	f := fault.Fault{Kind: fault.Job, Code: "acceptance-unknown", Found: fmt.Sprintf("%q is not the name of a criterion", h.Acceptance),
		Expected: "one of " + strings.Join(names, ", "), Mend: "write one of these names; or leave acceptance out, and write limit and minutes as they were agreed"}
	if near := job.Nearest(h.Acceptance, names); near != "" {
		f.Mend = fmt.Sprintf("did you mean acceptance = %q?", near)
	}
	r.faults = append(r.faults, r.job.Place("hold.acceptance", f))
}

// asked says in one fault what a preset without numbers of its own still needs
// from the document that it stands for.
func (r *runner) asked(p decision.Preset, h *job.Hold) {
	missing := map[string]bool{"document": h.Document == "", "page": h.Page == "", "level": !h.Reach.Given() && !h.Limit.Given(),
		"minutes": h.Minutes == nil, "rise": !h.MaxRise.Given() && !h.Limit.Given()}
	missing["rise"] = missing["rise"] && !missing["level"] // a limit serves as both
	lines := map[string]string{"document": `document = "title and number"`, "page": `page = "its page"`, "level": `limit = "... micron"`,
		"minutes": "minutes = ...", "rise": `max_rise = "... micron"`}
	var words, mend []string
	for _, a := range p.Asks {
		if missing[a] {
			mend = append(mend, lines[a])
			key, _, _ := strings.Cut(lines[a], " =")
			words = append(words, strings.ReplaceAll(key, "_", " "))
		}
	}
	if len(mend) == 0 {
		return
	}
	r.faults = append(r.faults, r.job.Place("hold.acceptance", fault.Fault{Kind: fault.Job, Code: "acceptance-incomplete",
		Found:    fmt.Sprintf("%q means %s, whose figures are not all given: no %s", p.Name, p.Text, strings.Join(words, ", no ")),
		Expected: "what that document says",
		Mend:     "look it up and write under [hold]:\n" + strings.Join(mend, "\n") + "\nor, where nobody has it, acceptance = \"common-practice\""}))
}

// criterion is the agreed one as the record prints it.
func (a agreed) criterion() *record.Criterion {
	if !a.given {
		return nil
	}
	c := &record.Criterion{Name: a.name, Text: a.text, Source: a.source, Certainty: a.certainty}
	if a.Limit > 0 {
		c.Limit = record.Plain(a.Limit, "Pa")
	}
	if a.Duration > 0 {
		c.Minutes = record.Plain(a.Duration, "s")
	}
	return c
}
