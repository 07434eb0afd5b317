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
			r.faults = append(r.faults, fault.Fault{Kind: fault.Job, Code: "acceptance-unknown", File: "job.toml", Key: "hold.acceptance",
				Found: err.Error(), Mend: "name one of them, or leave it out and write limit and minutes"})
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

// asked makes a fault of each number or name that a preset leaves to the job.
func (r *runner) asked(p decision.Preset, h *job.Hold) {
	given := map[string]bool{"document": h.Document != "", "page": h.Page != "", "level": h.Reach.Given() || h.Limit.Given(),
		"minutes": h.Minutes != nil, "rise": h.MaxRise.Given() || h.Limit.Given()}
	key := map[string]string{"level": "limit (or reach)", "rise": "max_rise (or limit)"}
	for _, a := range p.Asks {
		if given[a] {
			continue
		}
		k := a
		if key[a] != "" {
			k = key[a]
		}
		r.faults = append(r.faults, fault.Fault{Kind: fault.Job, Code: "acceptance-incomplete", File: "job.toml", Key: "hold." + a,
			Found: fmt.Sprintf("acceptance = %q has no numbers of its own and [hold] has no %s", p.Name, k), Expected: k,
			Mend: fmt.Sprintf("copy %s from the document into [hold]", k)})
	}
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
