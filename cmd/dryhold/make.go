package main

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"github.com/spf13/cobra"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/cmd/dryhold/internal/issue"
	"dryhold/cmd/dryhold/internal/keys"
	"dryhold/cmd/dryhold/internal/place"
	"dryhold/report/seal"
	"dryhold/report/seal/stamp"
)

type makeOptions struct {
	out, timestamp, withhold, plots string
	workers                         int
	json, dryRun, amend             bool
}

func (a *app) makeCommand() *cobra.Command {
	var o makeOptions
	c := &cobra.Command{
		Use:   "make JOB...",
		Short: "make the signed records of one job or many",
		Long: "JOB is a job.toml or a filled job.xlsx, the folder that holds it, or a folder of such folders.\n\n" +
			"For each job it writes NUMBER.AUDIENCE.pdf and NUMBER.results.json. A record that was\n" +
			"issued is never overwritten: when the job has changed since, --amend makes a revision,\n" +
			"and the job file must say what it amends, and why.\n\n" +
			"--withhold customer also writes NUMBER.AUDIENCE.withheld.pdf, copies that tell neither the\n" +
			"customer nor the site, and NUMBER.withheld.toml, by which the firm can show later who it was.",
		Example: "  dryhold make samples/slow-leak --out records\n  dryhold make jobs --out records --workers 4\n" +
			"  dryhold make jobs/EX-0412 --withhold customer",
		Args: args(cobra.MinimumNArgs(1)),
		RunE: func(c *cobra.Command, list []string) error { return a.make(c.Context(), list, o) },
	}
	f := c.Flags()
	f.StringVarP(&o.out, "out", "o", "records", "folder for the records; made where it is missing")
	f.IntVar(&o.workers, "workers", runtime.NumCPU(), "jobs worked on at the same time")
	f.BoolVar(&o.json, "json", false, "print the outcomes as JSON")
	f.BoolVar(&o.dryRun, "dry-run", false, "work everything out and write nothing")
	f.BoolVar(&o.amend, "amend", false, "issue a revision of a record whose job has changed")
	f.StringVar(&o.plots, "plots", "", "write the figures as files too; give svg or png")
	f.StringVar(&o.withhold, "withhold", "", "also make copies that do not tell the customer and the site; give the word customer")
	f.StringVar(&o.timestamp, "timestamp", "", "address of a time-stamp server (RFC 3161); the only use of the network")
	return c
}

// besideJobs is where the records of dropped folders and files go: into the one
// folder, or beside several.
func besideJobs(paths []string) string {
	path := paths[0]
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		path = filepath.Dir(path)
	}
	if len(paths) > 1 {
		path = filepath.Dir(path)
	}
	return filepath.Join(path, "records")
}

// findJobs lists the jobs at all paths, each once.
func (a *app) findJobs(paths []string) ([]issue.Source, error) {
	var all []issue.Source
	seen := map[string]bool{}
	var faults []error
	begin := "give a job.toml, a job.xlsx, its folder, or a folder of job folders; dryhold form DIR or dryhold new DIR begins a job"
	for _, path := range paths {
		jobs, left, err := issue.Find(path)
		if err != nil {
			if len(left) > 0 { // one thing is wrong, and told once
				err = fmt.Errorf("%w: %s, but neither job.toml nor job.xlsx", issue.ErrNoJob, holding(left))
				begin = fmt.Sprintf("dryhold form %s writes a form to fill in; dryhold new %s asks for what the job needs", pasted(left[0]), pasted(left[0]))
				left = nil
			}
			faults = append(faults, err)
		}
		for _, s := range jobs {
			whole, err := filepath.Abs(s.Path())
			if err != nil || seen[whole] {
				continue
			}
			seen[whole] = true
			all = append(all, s)
			if open := lockOf(s.Dir, filepath.Base(s.Shown())); open != "" {
				fmt.Fprintf(a.err, "dryhold: note: %s is open in a spreadsheet program (%s is there); only what was saved is read\n", s.Shown(), open)
			}
			if s.Left {
				fmt.Fprintf(a.err, "dryhold: note: %s was edited by hand and stands for itself; the form beside it is not read. Delete job.toml to follow the form again\n", s.Path())
			}
		}
		for _, dir := range left {
			fmt.Fprintf(a.err, "dryhold: note: %s holds spreadsheets and no job file; dryhold form or dryhold new makes one\n", dir)
		}
	}
	if err := errors.Join(faults...); err != nil {
		return all, &failure{codeJob, err, begin}
	}
	return all, nil
}

// holding says that folders hold spreadsheets.
func holding(dirs []string) string {
	if len(dirs) == 1 {
		return dirs[0] + " holds spreadsheets"
	}
	return fmt.Sprintf("%s and %s hold spreadsheets", dirs[0], counted(len(dirs)-1, "more folder"))
}

// twins finds numbers that are given to more than one job, case apart.
func twins(jobs []issue.Source) map[int]*faults {
	numbers, claims := make([]string, len(jobs)), map[string][]int{}
	for i, s := range jobs {
		if numbers[i] = job.NumberOf(job.File{Data: s.JobFile()}); numbers[i] != "" {
			name := strings.ToLower(numbers[i])
			claims[name] = append(claims[name], i)
		}
	}
	out := map[int]*faults{}
	for _, list := range claims {
		for k, i := range list {
			if len(list) < 2 {
				continue
			}
			f := fault.Fault{Code: "number-twice", File: jobs[i].Name, Key: "job.number",
				Found:    fmt.Sprintf("the number %s is also that of %s", numbers[i], jobs[list[(k+1)%len(list)]].Shown()),
				Expected: "a number of its own for each job of a batch, case apart", Mend: "give one of them another number"}
			out[i] = &faults{list: jobs[i].Told(fault.List{f})}
		}
	}
	return out
}

func (a *app) issuer(o makeOptions) (*issue.Issuer, error) {
	i := &issue.Issuer{Software: software(), Now: a.now, Amend: o.amend, DryRun: o.dryRun, Plots: o.plots, Withhold: o.withhold != "", Key: a.signingKey}
	if o.withhold != "" && o.withhold != "customer" {
		return nil, usage(fmt.Errorf("%q cannot be withheld", o.withhold), "only customer can be withheld: --withhold customer")
	}
	if o.plots != "" && o.plots != "svg" && o.plots != "png" {
		return nil, usage(fmt.Errorf("figures cannot be written as %q", o.plots), "give --plots svg or --plots png")
	}
	if o.timestamp != "" {
		u, err := url.Parse(o.timestamp)
		if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" {
			return nil, usage(fmt.Errorf("%q is not the address of a time-stamp server", o.timestamp), "give one that begins with http:// or https://")
		}
		i.Stamper = stamper(o.timestamp)
	}
	if o.dryRun {
		i.Out = &place.Folder{Dir: o.out}
		return i, nil
	}
	var err error
	if i.Out, err = place.Open(o.out); err != nil {
		return nil, badFile(fmt.Errorf("the output folder cannot be used: %w", plainly(err)), "give another folder by --out")
	}
	return i, nil
}

// stampError says that the time-stamp server gave none.
type stampError struct{ err error }

func (e *stampError) Error() string { return e.err.Error() }
func (e *stampError) Unwrap() error { return e.err }

func stamper(address string) seal.Stamper {
	ask := stamp.HTTP(address)
	return func(ctx context.Context, digest []byte) ([]byte, error) {
		token, err := ask(ctx, digest)
		if err != nil {
			return nil, &stampError{err}
		}
		return token, nil
	}
}

const unnamedFirm = "unnamed firm"

// signingKey opens the job's key, or makes it on first use and says so.
func (a *app) signingKey(name, holder string) (*seal.Key, error) {
	if name == "" {
		name = keys.Default
	}
	holder = cmp.Or(holder, unnamedFirm)
	k, made, err := a.store.GetOrMake(name, holder, a.now())
	if made {
		path, _ := keys.Path(name)
		fmt.Fprintf(a.err, "dryhold: a signing key for %q was made: %s; keep a copy in a safe place\n", holder, path)
		if holder == unnamedFirm {
			a.hint("the job names no firm: write name = \"...\" under [company] in company.toml, then dryhold key make \"...\" --key NAME, and key = \"NAME\" there")
		}
	}
	if err == nil {
		a.otherHolder(name, holder, k.Certificate().Subject.CommonName)
	}
	return k, err
}

// otherHolder says once that a key was made in another name than the firm's, as
// by a first record without the firm's name.
func (a *app) otherHolder(name, firm, holder string) {
	if _, told := a.told.LoadOrStore(name+"\x00"+firm, true); told || holder == firm {
		return
	}
	if firm == unnamedFirm {
		fmt.Fprintf(a.err, "dryhold: note: the key %q is in the name of %q, and the job names no firm: write name = \"...\" under [company] in company.toml\n", name, holder)
		return
	}
	fmt.Fprintf(a.err, "dryhold: note: the key %q is in the name of %q, and records of %q are signed with it; "+
		"dryhold key make %q --key NAME makes another, and key = \"NAME\" in company.toml takes it\n", name, holder, firm, firm)
}
