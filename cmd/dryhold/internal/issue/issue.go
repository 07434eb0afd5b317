// Package issue takes one job from its folder to its signed records: load, work
// out, draw for each audience, seal, check the seal, and place the files. The
// batch, verify and check all take these steps here.
package issue

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/place"
	"dryhold/report"
	"dryhold/report/seal"
)

// Issuer issues the jobs of a batch. It may be used by several goroutines.
type Issuer struct {
	Software record.Software
	Out      *place.Folder
	Key      func(name, holder string) (*seal.Key, error)
	Now      func() time.Time
	Stamper  seal.Stamper // nil for none
	Amend    bool
	DryRun   bool
	Plots    string // "svg" or "png": the figures as files too; "" for none
	Withhold bool   // copies without the customer too

	// Turn is held by a job while it is worked on, and not while it waits for the
	// disk; nil where jobs need not take turns.
	Turn chan struct{}
}

// Issue takes one job all the way. A panic is an outcome like any other fault.
func (i *Issuer) Issue(ctx context.Context, s Source) (o *Outcome) {
	o = &Outcome{Source: s, State: Failed}
	if i.Turn != nil {
		i.Turn <- struct{}{}
		defer func() { <-i.Turn }()
	}
	defer func() {
		if p := recover(); p != nil {
			o.State, o.Err = Failed, fmt.Errorf("internal: %v\n%s", p, debug.Stack())
		}
	}()
	root, err := os.OpenRoot(s.Dir)
	if err != nil {
		o.Err = err
		return o
	}
	defer root.Close()
	firm, err := Nearest(s.Dir)
	o.Company = firm.Path
	if err != nil {
		o.Err = err
		return o
	}
	defer firm.Close()
	w, faults := s.Load(root.FS(), firm)
	if o.Faults = faults; faults.Stops() {
		return o
	}
	// While the first job is worked out: one job alone takes 41 ms for 46. Beside the
	// reading of a large workbook it would take another 20 MB of memory.
	go report.Prepare()
	if !i.DryRun {
		if o.Err = s.keep(w); o.Err != nil {
			return o
		}
	}
	o.Number = strings.Clone(w.Job.Job.Number) // not a part of the job file's whole text
	o.Doubts, o.Faults = faults, nil
	if i.Withhold { // before anything is issued
		if _, _, o.Faults, o.Err = w.stranger(nil); o.Err != nil || o.Faults.Stops() {
			return o
		}
	}
	if o.Err = i.issue(ctx, w, o); i.Withhold && o.Err == nil && o.State != Failed {
		if o.Err = i.withhold(ctx, w, o); o.Err != nil {
			o.State = Failed
		}
	}
	return o
}

// issue decides which revision is due and makes it.
func (i *Issuer) issue(ctx context.Context, w *Work, o *Outcome) error {
	amends := w.Job.Record.Amends
	last := latest(i.Out, o.Number)
	switch {
	case last == 0 && amends != "":
		o.Revision = 2 // the record that it amends was issued elsewhere
	case last == 0:
		o.Revision = 1
	default:
		before, err := i.before(o.Number, last)
		if err != nil {
			return err
		}
		o.Revision = last
		changed := before.changed(w)
		if len(changed) == 0 {
			return i.complete(ctx, w, o, before)
		}
		if !i.Amend {
			if k := slices.Index(changed, jobName); k >= 0 {
				changed[k] = filepath.Base(o.Source.Shown()) // what the office fills in
			}
			return fmt.Errorf("%w: %s", ErrChanged, strings.Join(changed, ", "))
		}
		if w.Job.Record.Reason == "" || amends != before.digest {
			return &AmendError{before.digest}
		}
		o.Revision = last + 1
	}
	if faults := w.run(i.Software, o.Revision); faults.Stops() {
		o.Faults = faults
		return nil
	}
	o.tell(w)
	return i.make(ctx, w, o, w.Record.Show.Audience, Issued)
}

// complete adds the files of an issued record that are missing, as after a run
// that was killed.
func (i *Issuer) complete(ctx context.Context, w *Work, o *Outcome, before *issued) error {
	software := i.Software
	if before.record != nil {
		software = before.record.Software
	}
	if faults := w.run(software, o.Revision); faults.Stops() {
		o.Faults = faults
		return nil
	}
	o.tell(w)
	var missing []string
	for _, audience := range w.Record.Show.Audience {
		name := pdfName(o.Number, o.Revision, audience)
		if !i.Out.Exists(name) {
			missing = append(missing, audience)
			continue
		}
		o.Files = append(o.Files, name)
	}
	results := i.Out.Exists(resultsName(o.Number, o.Revision))
	if len(missing) == 0 && results {
		o.Digest, o.State = before.digest, Unchanged
		return nil
	}
	if o.Digest != before.digest {
		return fmt.Errorf("files of the record are missing, and it was made by version %s: take the missing ones from a copy, or make it with that version", software.Version)
	}
	return i.make(ctx, w, o, missing, Completed)
}

// make draws, seals and places the record for the audiences.
func (i *Issuer) make(ctx context.Context, w *Work, o *Outcome, audiences []string, state string) error {
	var files []place.File
	if name := resultsName(o.Number, o.Revision); !i.Out.Exists(name) {
		files = append(files, place.File{Name: name, Data: w.Results})
	}
	var key Signer
	var private *seal.Key
	if !i.DryRun && len(audiences) > 0 {
		var err error
		if private, err = i.Key(w.Job.Key, w.Job.Company.Name); err != nil {
			return err
		}
		key = SignerOf(private.Certificate())
	}
	for _, audience := range audiences {
		archived, pages, err := w.Archive(audience, key)
		if err != nil {
			return fmt.Errorf("drawing for %s: %w", audience, err)
		}
		o.Pages += pages
		name := pdfName(o.Number, o.Revision, audience)
		o.Files = append(o.Files, name)
		if i.DryRun {
			continue
		}
		signed, err := i.seal(ctx, archived, private)
		if err != nil {
			return err
		}
		files = append(files, place.File{Name: name, Data: signed})
	}
	if i.DryRun {
		o.State = Planned
		return nil
	}
	if i.Plots != "" && state == Issued {
		figures, err := w.plots(o, i.Plots)
		if err != nil {
			return err
		}
		files = append(files, figures...)
	}
	if err := i.place(files); err != nil {
		return err
	}
	o.State = state
	return nil
}
