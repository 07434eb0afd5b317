package issue

import (
	"errors"
	"io/fs"

	"dryhold/analysis/fault"
	"dryhold/analysis/record"
)

// Load is a stub until analysis/load is there.
func Load(fsys fs.FS, name, companyName string, company []byte) (*Work, fault.List) {
	return nil, fault.List{{File: name, Found: "not written yet"}}
}

func (w *Work) run(software record.Software, revision int) fault.List {
	return fault.List{{Found: "not written yet"}}
}

// Archive draws the record for one audience: the same bytes for the same job.
func (w *Work) Archive(audience string) ([]byte, int, error) {
	return nil, 0, errors.New("not written yet")
}
