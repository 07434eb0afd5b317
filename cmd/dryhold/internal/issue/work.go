package issue

import (
	"dryhold/analysis/fault"
	"dryhold/analysis/form"
	"dryhold/analysis/job"
	"dryhold/analysis/readings"
	"dryhold/analysis/record"
	"dryhold/report/seal"
)

const (
	resultsFile = "results.json"
	companyFile = "company.toml"
)

// Work is a job that was loaded and, after run, worked out.
type Work struct {
	Job     *job.Job
	Series  map[string]*readings.Series
	Files   []seal.Attachment // everything that was read, packed once for all audiences
	Record  *record.Record
	Results []byte // results.json
	Doubts  fault.List

	form     *form.Filled      // that the job follows, nil for none
	images   map[string][]byte // by the names that the record uses
	wording  []byte            // a template file, nil for none
	wordsFor string            // its audience, empty for all
}
