package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"sync"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"

	"dryhold/analysis/fault"
	"dryhold/cmd/dryhold/internal/issue"
	"dryhold/report/seal"
)

// make runs a batch: every job gets its outcome, whatever becomes of the others.
func (a *app) make(ctx context.Context, paths []string, o makeOptions) error {
	if o.workers < 1 {
		return usage(fmt.Errorf("%s cannot do the work", counted(o.workers, "worker")), "give --workers 1 or more")
	}
	jobs, err := a.findJobs(paths)
	if err != nil {
		a.worse(a.report(err))
	}
	if len(jobs) == 0 {
		return nil
	}
	issuer, err := a.issuer(o)
	if err != nil {
		return err
	}
	if !o.dryRun {
		defer issuer.Out.Close()
	}
	b := &batch{app: a, issuer: issuer, jobs: jobs, outcomes: make([]*issue.Outcome, len(jobs)), twins: twins(jobs)}
	b.run(ctx, o.workers)
	if o.json {
		err = a.outcomesJSON(b.outcomes, o.out)
	} else {
		err = a.table(b.outcomes, o.out)
	}
	if ctx.Err() != nil {
		a.interrupted(b)
	}
	return err
}

type batch struct {
	app      *app
	issuer   *issue.Issuer
	jobs     []issue.Source
	twins    map[int]*faults
	outcomes []*issue.Outcome // nil where the job was not reached
	bar      *progressbar.ProgressBar

	mu   sync.Mutex
	done int
}

func (b *batch) run(ctx context.Context, workers int) {
	if len(b.jobs) > 1 {
		// A job's memory is short-lived, so it is collected seldom, and at the latest at 48 MB a worker. A batch of 100 jobs
		// with two workers takes 1.07 s for 1.5 s and 105 MB for 45 MB, and a thousand jobs take as much as a hundred. Files that
		// need more get it: six of 360,000 rows take 120 MB, a fourth longer than with 400 MB. One job alone gains nothing.
		defer debug.SetGCPercent(debug.SetGCPercent(800))
		defer debug.SetMemoryLimit(debug.SetMemoryLimit(int64(workers) * 48 << 20))
	}
	next := make(chan int)
	var wg sync.WaitGroup
	b.bar = b.app.bar(len(b.jobs))
	// As many jobs as there are workers are worked on, and as many may wait for the disk meanwhile: on a disk that others
	// use too, 100 jobs with two workers take 1.5 s for 1.7 s.
	b.issuer.Turn = make(chan struct{}, workers)
	key := b.issuer.Key
	b.issuer.Key = func(name, holder string) (*seal.Key, error) { // which may have something to tell, like tell
		b.mu.Lock()
		defer b.mu.Unlock()
		return key(name, holder)
	}
	for range min(2*workers, len(b.jobs)) {
		wg.Go(func() {
			for i := range next {
				b.one(ctx, i)
			}
		})
	}
	for i := range b.jobs {
		if ctx.Err() != nil {
			break
		}
		select {
		case next <- i:
		case <-ctx.Done():
		}
	}
	close(next)
	wg.Wait()
	if b.bar != nil {
		b.bar.Finish()
		fmt.Fprintln(b.app.err)
	}
}

// one issues job i and says what happened. A job that has begun is finished even
// after an interrupt, so that its files are whole.
func (b *batch) one(ctx context.Context, i int) {
	s := b.jobs[i]
	var o *issue.Outcome
	if twin := b.twins[i]; twin != nil {
		o = &issue.Outcome{Source: s, State: issue.Failed, Faults: twin.list}
	} else {
		o = b.issuer.Issue(context.WithoutCancel(ctx), s)
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.outcomes[i] = o
	b.done++
	b.app.tell(b, o)
}

// bar is a progress bar for a batch on a terminal; nil otherwise.
func (a *app) bar(n int) *progressbar.ProgressBar {
	c, ok := a.err.(clean)
	f, file := c.to.(*os.File)
	if a.quiet || n < 2 || !ok || !file || !term.IsTerminal(int(f.Fd())) {
		return nil
	}
	return progressbar.NewOptions(n, progressbar.OptionSetWriter(f), progressbar.OptionSetDescription("jobs"),
		progressbar.OptionShowCount(), progressbar.OptionSetWidth(30), progressbar.OptionClearOnFinish())
}

// tell prints what became of one job, while the others go on.
func (a *app) tell(b *batch, o *issue.Outcome) {
	if b.bar != nil {
		b.bar.Clear()
		defer b.bar.Add(1)
	} else if !a.quiet && len(b.jobs) > 1 {
		fmt.Fprintf(a.err, "dryhold: [%d/%d] %s: %s\n", b.done, len(b.jobs), o.Source.Shown(), o.State)
	}
	if err := a.explained(o); err != nil {
		a.worse(a.report(err))
	}
	if list := jobDoubts(o); len(list) > 0 && o.State != issue.Unchanged {
		a.faults(a.faultsOf(o.Source, o.Company, list))
	}
}

// jobDoubts are those that the job file can mend before the record goes out.
func jobDoubts(o *issue.Outcome) fault.List {
	var list fault.List
	for _, f := range o.Doubts {
		if f.Doubt && f.Kind == fault.Job && o.State != issue.Failed {
			list = append(list, f)
		}
	}
	return list
}

// whyAmended stands for what the office has to write.
const whyAmended = "what was wrong and what changed"

// explained is the error of an outcome with its exit code and hint, nil for none.
func (a *app) explained(o *issue.Outcome) error {
	var amend *issue.AmendError
	var unsealed *issue.SealError
	var unstamped *stampError
	where := func(err error) error { return fmt.Errorf("%s: %w", o.Source.Shown(), err) }
	switch {
	case len(o.Faults) > 0 && o.Faults.Stops():
		return a.faultsOf(o.Source, o.Company, o.Faults)
	case o.Err == nil:
		return nil
	case errors.Is(o.Err, issue.ErrChanged):
		return &failure{codeUsage, where(o.Err), "the record stays as it is. If the job was corrected, --amend issues a revision beside it; if this is another job, give it a number of its own"}
	case errors.As(o.Err, &amend):
		hint := fmt.Sprintf("put this into the job file:\n[record]\namends = %q\nreason = %q", amend.Digest, whyAmended)
		if o.Source.Form {
			f := fault.Fault{Key: "record.amends", Mend: fmt.Sprintf("write under [record]:\namends = %q\nreason = %q", amend.Digest, whyAmended)}
			for _, told := range o.Source.Told(fault.List{f}) {
				hint = told.Mend
			}
		}
		return &failure{codeJob, where(o.Err), hint}
	case errors.As(o.Err, &unstamped):
		return &failure{codeKey, where(o.Err), "see whether the address is right and the time-stamp server can be reached, or make the record without --timestamp; nothing was issued"}
	case errors.As(o.Err, &unsealed):
		return &failure{codeKey, where(o.Err), "dryhold key show tells about the key"}
	case errors.Is(o.Err, os.ErrPermission) || errors.Is(o.Err, os.ErrNotExist):
		return &failure{codeOf(o.Err), where(o.Err), "see whether the folder and its files can be read and written"}
	default:
		return where(o.Err)
	}
}

// faultsOf joins faults with the texts that they point into.
func (a *app) faultsOf(s issue.Source, company string, list fault.List) *faults {
	path := func(name string) string {
		switch {
		case filepath.IsAbs(name):
			return name
		case filepath.Base(name) == "company.toml" && company != "":
			return shorter(company)
		default:
			return filepath.Join(s.Dir, filepath.FromSlash(name))
		}
	}
	return &faults{list: list, shown: path, source: func(name string) []byte { return head(path(name)) }}
}

func (a *app) interrupted(b *batch) {
	var left []string
	for i, o := range b.outcomes {
		if o == nil {
			left = append(left, b.jobs[i].Path())
		}
	}
	fmt.Fprintf(a.err, "dryhold: interrupted; finished records are whole; not begun: %d of %d jobs\n", len(left), len(b.jobs))
	for _, path := range left {
		fmt.Fprintf(a.err, "  %s\n", path)
	}
}
