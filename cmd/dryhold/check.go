package main

import (
	"fmt"
	"os"
	"strings"

	"github.com/spf13/cobra"

	"dryhold/analysis/fault"
	"dryhold/analysis/readings"
	"dryhold/cmd/dryhold/internal/issue"
)

func (a *app) checkCommand() *cobra.Command {
	var explain string
	var asJSON bool
	c := &cobra.Command{
		Use:   "check JOB...",
		Short: "say what was understood of a job, and everything that is wrong or doubtful",
		Long: "For each readings file: which columns were taken and why, how many rows were used and set\n" +
			"aside, and a small picture of the pressure. Then every fault and doubt, worst first, each\n" +
			"with its place and its mend. Nothing is written.",
		Example: "  dryhold check samples/slow-leak\n  dryhold check --explain missing-file",
		RunE: func(_ *cobra.Command, list []string) error {
			if explain != "" {
				return a.explain(explain)
			}
			if len(list) == 0 {
				return usage(fmt.Errorf("which job?"), "dryhold check FOLDER")
			}
			jobs, err := a.findJobs(list)
			if err != nil {
				a.worse(a.report(err))
			}
			return a.checkAll(jobs, asJSON)
		},
	}
	c.Flags().StringVar(&explain, "explain", "", "tell about a fault by its code")
	c.Flags().BoolVar(&asJSON, "json", false, "print the findings as JSON")
	return c
}

// checked is what check says of one job.
type checked struct {
	Job    string           `json:"job"`
	Files  []readings.Input `json:"files"`
	Faults []faultJSON      `json:"faults"`
}

func (a *app) checkAll(jobs []issue.Source, asJSON bool) error {
	all := []checked{}
	same := twins(jobs)
	var stopped []string
	for i, s := range jobs {
		w, list, company, err := loadJob(s)
		if err != nil {
			a.worse(a.report(err))
			stopped = append(stopped, s.Shown())
			continue
		}
		if twin := same[i]; twin != nil {
			list = append(list, twin.list...)
		}
		list.Sort()
		found := a.faultsOf(s, company, list)
		a.worse(found.code())
		if list.Stops() {
			stopped = append(stopped, s.Shown())
		}
		if asJSON {
			all = append(all, checked{s.Path(), inputsOf(w), faultsJSON(list)})
			continue
		}
		a.showJob(s, w)
		a.showFaults(found)
	}
	if asJSON {
		return a.printJSON(all)
	}
	if len(jobs) > 1 && !a.quiet {
		a.showStopped(len(jobs), stopped)
	}
	return nil
}

// loadJob reads a job and, where it can be read, works it out: what stops a
// record there is a fault like any other.
func loadJob(s issue.Source) (*issue.Work, fault.List, string, error) {
	root, err := os.OpenRoot(s.Dir)
	if err != nil {
		return nil, nil, "", err
	}
	defer root.Close()
	firm, err := issue.Nearest(s.Dir)
	if err != nil {
		return nil, nil, firm.Path, err
	}
	defer firm.Close()
	w, list := s.Load(root.FS(), firm)
	if !list.Stops() {
		list = append(list, w.Run(software())...)
	}
	return w, list, firm.Path, nil
}

func inputsOf(w *issue.Work) []readings.Input {
	list := []readings.Input{}
	for _, s := range seriesOf(w) {
		list = append(list, s.Inputs...)
	}
	return list
}

func seriesOf(w *issue.Work) []*readings.Series {
	var list []*readings.Series
	for _, r := range w.Job.Readings {
		if s := w.Series[r.ID]; s != nil {
			list = append(list, s)
		}
	}
	return list
}

// explain prints the manual's section about a code.
func (a *app) explain(code string) error {
	text, err := manual.ReadFile("help/faults.md")
	if err != nil {
		return err
	}
	_, rest, found := strings.Cut(string(text), "\n## "+code+"\n")
	if !found {
		return usage(fmt.Errorf("there is no fault with the code %q", code), "dryhold help faults lists them; --verbose shows the code beside each message")
	}
	rest, _, _ = strings.Cut(rest, "\n## ")
	_, err = fmt.Fprintf(a.out, "%s\n%s\n", code, strings.TrimRight(rest, "\n"))
	return err
}
