package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryhold/analysis/decision"
	"dryhold/analysis/fluid"
	"dryhold/analysis/form"
	"dryhold/analysis/job"
	"dryhold/cmd/dryhold/internal/issue"
)

func (a *app) formCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "form DIR",
		Short: "write job.xlsx, a form to be filled in instead of job.toml",
		Long: "The form has labelled cells, drop-down lists, the firm's instruments from company.toml and the\n" +
			"exports that are in the folder. A folder with a filled job.xlsx and the exports is a job: make\n" +
			"turns it into job.toml beside it. The form leads until somebody edits job.toml by hand.",
		Example: "  dryhold form jobs/EX-0412",
		Args:    args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			dir := list[0]
			if s, found := issue.In(dir); found && !s.Form {
				return badFile(fmt.Errorf("%s is there already and stands for the job: a form beside it would not be read", s.Path()),
					"nothing was changed; move it away to begin with a form")
			}
			firm, err := issue.Nearest(dir)
			if err != nil {
				return &failure{codeJob, err, ""}
			}
			defer firm.Close()
			if err := os.MkdirAll(dir, 0o777); err != nil {
				return badFile(err, "")
			}
			stated := a.statedBy(firm)
			known := form.Known{Instruments: stated.Instruments, Criteria: criteria(), Units: stated.Record.Units,
				Offers: map[string][]string{"job.timezone": job.Zones(), "system.refrigerant": fluid.Refrigerants()}}
			if known.Recordings, err = exports(dir, known.Instruments, job.Facts{}, a.remarks()); err != nil {
				return badFile(err, "")
			}
			text, err := form.Template(known)
			if err != nil {
				return err
			}
			path := filepath.Join(dir, "job.xlsx")
			if err := create(path, text); err != nil {
				return err
			}
			if a.quiet {
				return nil
			}
			_, err = fmt.Fprintf(a.out, "%s: %s; fill it in, save it, then: dryhold check %s\n", path, foundIn(dir, len(known.Recordings)), pasted(dir))
			return err
		},
	}
}

// foundIn says how many recordings a folder has.
func foundIn(dir string, n int) string {
	if n == 0 {
		return "no export of an instrument found (copy it into " + pasted(dir) + ")"
	}
	return counted(n, "recording") + " found"
}

// criteria are the names that hold.acceptance takes.
func criteria() (names []string) {
	for _, p := range decision.Presets() {
		names = append(names, p.Name)
	}
	return names
}

// statedBy is what company.toml states, as far as it can be read.
func (a *app) statedBy(firm issue.Firm) *job.Job {
	if firm.Data == nil {
		return new(job.Job)
	}
	j, list := job.Decode(job.File{Name: "job.toml", Data: []byte("format = 1\n")}, &job.File{Name: "company.toml", Data: firm.Data}, nil)
	for _, one := range list {
		if one.File == "company.toml" && !one.Doubt {
			a.fault(&faults{shown: func(string) string { return shorter(firm.Path) }, source: func(string) []byte { return firm.Data }}, one)
		}
	}
	return j
}

// create writes a new file and never over another.
func create(path string, data []byte) error {
	f, err := os.OpenFile(path, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
	if errors.Is(err, os.ErrExist) {
		return badFile(fmt.Errorf("%s is there already", path), "nothing was changed; move it away to begin anew")
	}
	if err != nil {
		return badFile(err, "")
	}
	_, err = f.Write(data)
	if err := errors.Join(err, f.Close()); err != nil {
		return badFile(errors.Join(err, os.Remove(path)), "")
	}
	return nil
}
