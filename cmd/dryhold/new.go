package main

import (
	"bufio"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"dryhold/analysis/job"
	"dryhold/cmd/dryhold/internal/issue"
)

func (a *app) newCommand() *cobra.Command {
	var f job.Facts
	var date string
	c := &cobra.Command{
		Use:   "new DIR",
		Short: "begin a job: look at the exports in a folder and write a commented job.toml",
		Long: "What no option gives is asked for at a terminal, and left as a comment otherwise; only the\n" +
			"number has to be given. The acceptance\n" +
			"is written out: the maker's value where it is given, else common practice, and the file says so.",
		Example: `  dryhold new jobs/EX-0412 --number EX-0412 --date 2031-04-12 --refrigerant R-454B`,
		Args:    args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			return a.newJob(list[0], f, date)
		},
	}
	o := c.Flags()
	o.StringVar(&f.Number, "number", "", "the job's number")
	o.StringVar(&f.Kind, "kind", "", "new, replacement, repair, relocation or retrofit")
	o.StringVar(&date, "date", "", "day of the job, such as 2031-04-12")
	o.StringVar(&f.Timezone, "timezone", "", "time zone of the site, such as America/Denver")
	o.StringVar(&f.Altitude, "altitude", "", "altitude of the site, such as \"1609 m\"")
	o.StringVar(&f.Refrigerant, "refrigerant", "", "refrigerant, such as R-454B")
	o.StringVar(&f.Customer, "customer", "", "name of the customer")
	o.StringVar(&f.Address, "address", "", "address of the site")
	o.StringVar(&f.Maker.Limit, "limit", "", "the equipment maker's limit of the hold, such as \"500 micron\"")
	o.StringVar(&f.Maker.Minutes, "minutes", "", "minutes after which the maker's limit counts")
	o.StringVar(&f.Maker.Document, "document", "", "title and number of the maker's instruction")
	o.StringVar(&f.Maker.Page, "page", "", "page of the instruction that has the limit")
	return c
}

func (a *app) newJob(dir string, f job.Facts, date string) error {
	path := filepath.Join(dir, "job.toml")
	if _, err := os.Lstat(path); err == nil {
		return badFile(fmt.Errorf("%s is there already", path), "nothing was changed; dryhold check says what is wrong with it")
	}
	if err := a.ask(&f, &date); err != nil {
		return err
	}
	if date != "" {
		var err error
		if f.Date, err = time.Parse(time.DateOnly, date); err != nil {
			return usage(fmt.Errorf("%q is not a day", date), "write it as 2031-04-12")
		}
	}
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return badFile(err, "")
	}
	firm, err := issue.Nearest(dir)
	if err != nil {
		return &failure{codeJob, err, ""}
	}
	defer firm.Close()
	f.Company = firm.Data != nil
	instruments := instrumentsOf(firm)
	for _, i := range instruments {
		if i.Measures == "vacuum" {
			f.Instruments = append(f.Instruments, i.ID)
		}
	}
	if f.Recordings, err = a.exports(dir, instruments, f); err != nil {
		return badFile(err, "")
	}
	f.Schema = "job.schema.json"
	if err := create(path, job.Skeleton(f)); err != nil {
		return err
	}
	if err := create(filepath.Join(dir, f.Schema), job.Schema()); err != nil && codeOf(err) != codeInternal {
		return err
	}
	_, err = fmt.Fprintf(a.out, "%s: %s found; complete it, then: dryhold check %s\n", path, counted(len(f.Recordings), "recording"), dir)
	return err
}

// ask puts the questions that no option answers, at a terminal only.
func (a *app) ask(f *job.Facts, date *string) error {
	in, ok := a.in.(*os.File)
	if !ok || !term.IsTerminal(int(in.Fd())) {
		if f.Number == "" {
			return usage(errors.New("the job has no number"), "give it by --number")
		}
		return nil
	}
	s := bufio.NewScanner(in)
	for _, q := range []struct {
		text string
		to   *string
	}{
		{"job number", &f.Number}, {"day of the job (2031-04-12)", date}, {"kind (new, replacement, repair, relocation, retrofit)", &f.Kind},
		{"time zone of the site (America/Denver)", &f.Timezone}, {"altitude of the site (1609 m)", &f.Altitude}, {"customer", &f.Customer},
		{"address of the site", &f.Address}, {"refrigerant (R-454B)", &f.Refrigerant},
		{"the maker's limit of the hold (500 micron; empty: common practice)", &f.Maker.Limit},
		{"minutes after which it counts", &f.Maker.Minutes}, {"title of the maker's instruction", &f.Maker.Document}, {"page that has the limit", &f.Maker.Page},
	} {
		makers := q.to == &f.Maker.Minutes || q.to == &f.Maker.Document || q.to == &f.Maker.Page
		if *q.to != "" || makers && f.Maker.Limit == "" {
			continue
		}
		fmt.Fprintf(a.err, "%s: ", q.text)
		if !s.Scan() {
			break
		}
		*q.to = strings.TrimSpace(s.Text())
	}
	return s.Err()
}
