package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryhold/analysis/job"
	"dryhold/cmd/dryhold/internal/issue"
)

func (a *app) newCommand() *cobra.Command {
	var f facts
	var company bool
	c := &cobra.Command{
		Use:   "new DIR",
		Short: "begin a job: look at the exports in a folder and write a commented job.toml",
		Long: "What no option gives is asked for at a terminal, and left as a comment otherwise; only the\n" +
			"number has to be given. The acceptance is written out: the maker's value where it is given,\n" +
			"else common practice, and the file says so.",
		Example: "  dryhold new jobs --company\n  dryhold new jobs/EX-0412 --number EX-0412 --date 2031-04-12 --refrigerant R-454B",
		Args:    args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			if company && f.stated() {
				return usage(errors.New("--company and what is known of a job do not go together"), "begin company.toml first, then the job")
			}
			if company {
				return a.newCompany(list[0])
			}
			return a.newJob(list[0], &f)
		},
	}
	o := c.Flags()
	o.StringVar(&f.Number, "number", "", "the job's number")
	o.StringVar(&f.Kind, "kind", "", "new, replacement, repair, relocation or retrofit")
	o.StringVar(&f.date, "date", "", "day of the job, such as 2031-04-12")
	o.StringVar(&f.Timezone, "timezone", "", "time zone of the site, such as America/Denver")
	o.StringVar(&f.Altitude, "altitude", "", "altitude of the site, such as \"1609 m\"")
	o.StringVar(&f.Refrigerant, "refrigerant", "", "refrigerant, such as R-454B")
	o.StringVar(&f.Customer, "customer", "", "name of the customer")
	o.StringVar(&f.Address, "address", "", "address of the site")
	o.StringVar(&f.Maker.Limit, "limit", "", "the equipment maker's limit of the hold, such as \"500 micron\"")
	o.StringVar(&f.Maker.Minutes, "minutes", "", "minutes after which the maker's limit counts")
	o.StringVar(&f.Maker.Document, "document", "", "title and number of the maker's instruction")
	o.StringVar(&f.Maker.Page, "page", "", "page of the instruction that has the limit")
	o.BoolVar(&company, "company", false, "write a commented company.toml instead: what the firm states once for all jobs below the folder")
	return c
}

// newCompany begins a company.toml; its examples are of today.
func (a *app) newCompany(dir string) error {
	path := filepath.Join(dir, "company.toml")
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return badFile(err, "")
	}
	if err := create(path, job.CompanySkeleton(a.now())); err != nil {
		return err
	}
	_, err := fmt.Fprintf(a.out, "%s: complete it; then begin a job in a folder below it, with dryhold new or dryhold form\n", path)
	return err
}

func (a *app) newJob(dir string, f *facts) error {
	path := filepath.Join(dir, "job.toml")
	if _, err := os.Lstat(path); err == nil {
		return badFile(fmt.Errorf("%s is there already", path), "nothing was changed; dryhold check says what is wrong with it")
	}
	if err := f.wrong(); err != nil {
		return err
	}
	firm, err := issue.Nearest(dir)
	if err != nil {
		return &failure{codeJob, err, ""}
	}
	defer firm.Close()
	f.Company = firm.Data != nil
	instruments := a.statedBy(firm).Instruments
	for _, i := range instruments {
		if i.Measures == "vacuum" {
			f.Instruments = append(f.Instruments, i.ID)
		}
	}
	if a.terminal() { // the first look is for the day to ask for
		if f.Recordings, err = exports(dir, instruments, f.Facts, io.Discard); err != nil {
			return badFile(err, "")
		}
		if err := a.ask(a.in, f); err != nil {
			return err
		}
	}
	if err := f.missing(); err != nil {
		return err
	}
	if f.Recordings, err = exports(dir, instruments, f.Facts, a.remarks()); err != nil {
		return badFile(err, "")
	}
	return a.begin(dir, path, f)
}

// begin writes the job file and the schema for editors.
func (a *app) begin(dir, path string, f *facts) error {
	f.Schema = "job.schema.json"
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return badFile(err, "")
	}
	if err := create(path, job.Skeleton(f.Facts)); err != nil {
		return err
	}
	if err := create(filepath.Join(dir, f.Schema), job.Schema()); err != nil && codeOf(err) != codeInternal {
		return err
	}
	if a.quiet {
		return nil
	}
	_, err := fmt.Fprintf(a.out, "%s: %s; complete it, then: dryhold check %s\n", path, foundIn(dir, len(f.Recordings)), pasted(dir))
	return err
}
