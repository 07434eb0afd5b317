package issue

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing/fstest"

	"dryhold/analysis/record"
	"dryhold/report/seal"
)

// tolerance is the relative difference up to which two machines' numbers are the same.
const tolerance = 1e-6

// Check is what was found when a sealed record was computed again from what it carries.
type Check struct {
	Record      *record.Record
	Digest      string
	SameVersion bool
	Identical   bool                // results and pages, byte for byte
	Audience    string              // the telling whose pages are identical
	Differences []record.Difference // of the numbers
	Err         error               // why the record does not reproduce; nil where it does
}

// Recompute works out a sealed record again. hint is an audience to try first.
// The same version has to give the same pages; another machine's build of it the
// same numbers and, from the attached results, the same pages; another version
// the same numbers, decisions and causes.
func Recompute(s *seal.Sealed, own record.Software, hint string) *Check {
	c := &Check{}
	was, err := fromSealed(s)
	if err != nil {
		c.Err = err
		return c
	}
	c.Record, c.Digest = was.record, was.digest
	c.SameVersion = was.record.Software.Name == own.Name && was.record.Software.Version == own.Version
	w, err := again(was)
	if err != nil {
		c.Err = err
		if !c.SameVersion {
			c.Err = fmt.Errorf("nothing has changed since it was signed, but version %s cannot work out what version %s did: %w",
				own.Version, was.record.Software.Version, err)
		}
		return c
	}
	c.Identical = bytes.Equal(w.Results, was.result)
	if !c.Identical {
		if c.Differences, c.Err = record.Diff(was.result, w.Results, tolerance); c.Err != nil {
			return c
		}
		switch {
		case len(c.Differences) == 0:
		case c.SameVersion:
			c.Err = errors.New("the same version computes other results from the attached files")
			return c
		case material(c.Differences):
			c.Err = fmt.Errorf("nothing has changed since it was signed, but version %s computes another decision or cause, or a value outside its stated interval, than version %s did",
				own.Version, was.record.Software.Version)
			return c
		}
	}
	if !c.SameVersion {
		return c
	}
	// The pages are drawn from the results that the record carries.
	w.Record, w.Results = was.record, was.result
	c.Audience, c.Err = redraw(w, s, hint)
	return c
}

// again loads and runs the job from the attachments.
func again(was *issued) (*Work, error) {
	memory := fstest.MapFS{}
	for name, data := range was.files {
		memory[name] = &fstest.MapFile{Data: data, Mode: 0o444}
	}
	firm := Firm{Data: was.files[companyFile], FS: firmFiles{memory}}
	w, faults := Load(memory, firm)
	if faults.Stops() {
		return nil, fmt.Errorf("the attached job cannot be read: %w", faults)
	}
	if faults := w.run(was.record.Software, was.record.Job.Revision); faults.Stops() {
		return nil, fmt.Errorf("the attached job cannot be worked out: %w", faults)
	}
	return w, nil
}

func material(list []record.Difference) bool {
	return slices.ContainsFunc(list, func(d record.Difference) bool { return d.Material })
}

// redraw finds the audience whose pages are those of the record.
func redraw(w *Work, s *seal.Sealed, hint string) (string, error) {
	order := slices.Clone(w.Record.Show.Audience)
	slices.SortStableFunc(order, func(a, b string) int {
		return strings.Compare(fmt.Sprint(a != hint), fmt.Sprint(b != hint))
	})
	for _, audience := range order {
		archived, _, err := w.Archive(audience, SignerOf(s.Signature.Certificate))
		if err != nil {
			return "", fmt.Errorf("drawing again: %w", err)
		}
		if bytes.Equal(archived, s.Unsigned) {
			return audience, nil
		}
	}
	return "", errors.New("the pages are not those that the same version draws from the attached results")
}
