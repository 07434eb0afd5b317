package main

import (
	"bytes"
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryhold/analysis/form"
	"dryhold/analysis/job"
	"dryhold/cmd/dryhold/internal/issue"
	"dryhold/report"
)

func (a *app) formCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "form DIR",
		Short: "write job.xlsx, a form to be filled in instead of job.toml",
		Long: "The form has labelled cells, drop-down lists and the firm's instruments from company.toml.\n" +
			"A folder with a filled job.xlsx and the exports is a job: make and check turn it into job.toml beside it.",
		Args: args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			dir := list[0]
			firm, err := issue.Nearest(dir)
			if err != nil {
				return &failure{codeJob, err, ""}
			}
			defer firm.Close()
			text, err := form.Template(instrumentsOf(firm)...)
			if err != nil {
				return err
			}
			if err := os.MkdirAll(dir, 0o777); err != nil {
				return badFile(err, "")
			}
			path := filepath.Join(dir, "job.xlsx")
			if err := create(path, text); err != nil {
				return err
			}
			_, err = fmt.Fprintf(a.out, "%s: fill it in, then: dryhold make %s\n", path, dir)
			return err
		},
	}
}

// instrumentsOf are those of company.toml, as far as it can be read.
func instrumentsOf(firm issue.Firm) []job.Instrument {
	if firm.Data == nil {
		return nil
	}
	j, _ := job.Decode(job.File{Name: "job.toml", Data: []byte("format = 1\n")}, &job.File{Name: "company.toml", Data: firm.Data}, nil)
	return j.Instruments
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

// maxForm bounds a form; the form's own reader refuses more.
const maxForm = 8 << 20

// fromForm turns a filled job.xlsx into job.toml beside it; with write false it
// only looks whether it could.
func fromForm(s issue.Source, write bool) error {
	data, err := readLimited(filepath.Join(s.Dir, "job.xlsx"), maxForm)
	if err != nil {
		return &failure{codeJob, err, ""}
	}
	firm, err := issue.Nearest(s.Dir)
	if err != nil {
		return &failure{codeJob, err, ""}
	}
	defer firm.Close()
	var company *job.File
	if firm.Data != nil {
		company = &job.File{Name: "company.toml", Data: firm.Data}
	}
	text, list := form.Read(job.File{Name: "job.xlsx", Data: data}, company, report.HasGlyph)
	if list.Stops() {
		return &faults{list: list, shown: func(name string) string { return filepath.Join(s.Dir, name) }}
	}
	if !write {
		return nil
	}
	return replace(s.Path(), text)
}

// replace puts a job file that the form made in the place of an older one, whole or not at all.
func replace(path string, text []byte) error {
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, text) {
		return nil
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".dryhold-*.part")
	if err != nil {
		return badFile(err, "")
	}
	_, err = f.Write(text)
	if err = errors.Join(err, f.Chmod(0o644), f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return badFile(errors.Join(err, os.Remove(f.Name())), "")
	}
	return nil
}
