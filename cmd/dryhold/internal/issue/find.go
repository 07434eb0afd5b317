package issue

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"dryhold/analysis/form"
	"dryhold/analysis/job"
)

// Source is a job that was found: its folder and the name of its job file, or of
// the form that is still to become one.
type Source struct {
	Dir  string
	Name string // "job.toml"
	Form bool   // the job is kept in its form: job.xlsx, from which job.toml is made
	Left bool   // there is a form, which job.toml no longer follows: it was edited by hand
}

// Path is the job file's path.
func (s Source) Path() string { return filepath.Join(s.Dir, s.Name) }

// Shown is the path of what the office fills in: the job file, or its form.
func (s Source) Shown() string {
	if s.Form {
		return filepath.Join(s.Dir, formName)
	}
	return s.Path()
}

const (
	jobName  = "job.toml"
	formName = "job.xlsx"
)

// ErrNoJob says that a path holds no job.
var ErrNoJob = errors.New("no job there")

// Find lists the jobs at a path: a job file, its folder, or a folder of jobs at
// any depth. Folders that hold spreadsheets and no job file are named in left.
func Find(path string) (jobs []Source, left []string, err error) {
	info, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil, fmt.Errorf("%w: there is no file or folder %s", ErrNoJob, path)
	}
	if err != nil {
		return nil, nil, fmt.Errorf("%w: %w", ErrNoJob, err)
	}
	if !info.IsDir() {
		return findFile(path)
	}
	err = filepath.WalkDir(path, func(dir string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if !d.IsDir() {
			return nil
		}
		if dir != path && strings.HasPrefix(d.Name(), ".") {
			return fs.SkipDir
		}
		if s, ok := In(dir); ok {
			jobs = append(jobs, s)
			return fs.SkipDir
		}
		if sheets(dir) {
			left = append(left, dir)
		}
		return nil
	})
	if err == nil && len(jobs) == 0 {
		err = fmt.Errorf("%w: %s holds neither job.toml nor job.xlsx, and no folder in it does", ErrNoJob, path)
	}
	return jobs, left, err
}

func findFile(path string) ([]Source, []string, error) {
	switch name := filepath.Base(path); {
	case name == jobName || name == formName:
		return []Source{inside(filepath.Dir(path))}, nil, nil
	case strings.ToLower(filepath.Ext(path)) == ".toml":
		return nil, nil, fmt.Errorf("%w: %s; a job file is called job.toml", ErrNoJob, path)
	case strings.ToLower(filepath.Ext(path)) == ".xlsx":
		return nil, nil, fmt.Errorf("%w: %s is a workbook; expected job.toml, job.xlsx or the job's folder", ErrNoJob, path)
	default:
		return nil, nil, fmt.Errorf("%w: %s is not a job file; expected job.toml or the job's folder", ErrNoJob, path)
	}
}

// inside is the job of a folder, led by its form or by its job file.
func inside(dir string) Source {
	s := Source{Dir: dir, Name: jobName, Form: formLeads(dir)}
	s.Left = !s.Form && exists(dir, formName)
	return s
}

func exists(dir, name string) bool {
	_, err := os.Lstat(filepath.Join(dir, name))
	return err == nil
}

// In is the job of a folder; found is false where there is none.
func In(dir string) (s Source, found bool) {
	s = inside(dir)
	return s, s.Form || exists(dir, jobName)
}

// formLeads reports whether a folder's job is kept in its form: there is a job.xlsx, and job.toml is missing or still as the
// form made it. One that was edited by hand stands for itself.
func formLeads(dir string) bool {
	if !exists(dir, formName) {
		return false
	}
	made := filepath.Join(dir, jobName)
	info, err := os.Lstat(made)
	if errors.Is(err, os.ErrNotExist) {
		return true
	}
	if err != nil || !info.Mode().IsRegular() || info.Size() > job.MaxFile {
		return false
	}
	data, err := os.ReadFile(made)
	return err == nil && form.Made(data)
}

// sheets reports whether the folder holds what looks like an export, and is not
// a folder of records with their register.
func sheets(dir string) bool {
	if records, _ := filepath.Glob(filepath.Join(dir, "*.results.json")); len(records) > 0 {
		return false
	}
	for _, pattern := range []string{"*.csv", "*.tsv", "*.xlsx"} {
		if found, _ := filepath.Glob(filepath.Join(dir, pattern)); len(found) > 0 {
			return true
		}
	}
	return false
}

// maxCompany bounds company.toml.
const maxCompany = 1 << 20

// Close lets go of the folder.
func (f Firm) Close() error {
	if f.root == nil {
		return nil
	}
	return f.root.Close()
}

// FirmError says why there is no reading company.toml.
type FirmError struct{ error }

// Unwrap gives the cause.
func (e FirmError) Unwrap() error { return e.error }

// Nearest reads the company.toml in the folder or the nearest one above.
func Nearest(dir string) (Firm, error) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return Firm{}, err
	}
	for {
		f := Firm{Path: filepath.Join(dir, companyFile)}
		info, err := os.Stat(f.Path)
		switch {
		case err == nil && info.Mode().IsRegular() && info.Size() <= maxCompany:
			if f.root, err = os.OpenRoot(dir); err != nil {
				return f, err
			}
			f.FS = firmFiles{f.root.FS()}
			if f.Data, err = f.root.ReadFile(companyFile); err != nil {
				return f, FirmError{err}
			}
			return f, nil
		case err == nil:
			return f, FirmError{fmt.Errorf("%s is no ordinary file of at most 1 MB; expected a text file: correct it or move it away", f.Path)}
		case !errors.Is(err, fs.ErrNotExist):
			return f, FirmError{err}
		}
		up := filepath.Dir(dir)
		if up == dir {
			return Firm{}, nil
		}
		dir = up
	}
}
