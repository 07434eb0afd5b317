package issue

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"dryhold/analysis/fault"
	"dryhold/analysis/form"
	"dryhold/analysis/job"
)

// filled reads the form that a job follows; nil where it follows none.
func (s Source) filled() *form.Filled {
	if !s.Form {
		return nil
	}
	path := filepath.Join(s.Dir, formName)
	info, err := os.Stat(path)
	if err == nil && (!info.Mode().IsRegular() || info.Size() > form.MaxFile) {
		err = fmt.Errorf("no ordinary file of at most %d MB", form.MaxFile>>20)
	}
	var data []byte
	if err == nil {
		data, err = os.ReadFile(path)
	}
	if err != nil {
		return &form.Filled{Faults: fault.List{{Code: "unreadable", File: formName, Found: "the form cannot be read: " + err.Error(),
			Expected: "a file that can be read", Mend: "close it in other programs, and look at who may read it"}}}
	}
	return form.Read(job.File{Name: formName, Data: data})
}

// JobFile is the text of the job file: as it is, or as its form makes it; nil
// where it cannot be read.
func (s Source) JobFile() []byte {
	if f := s.filled(); f != nil {
		return f.JobFile
	}
	info, err := os.Stat(s.Path()) // before it is opened: opening a pipe waits for ever
	if err != nil || !info.Mode().IsRegular() || info.Size() > job.MaxFile {
		return nil
	}
	data, err := os.ReadFile(s.Path())
	if err != nil {
		return nil
	}
	return data
}

// Told puts faults of the job file at the cells of its form, where it follows one.
func (s Source) Told(list fault.List) fault.List {
	if f := s.filled(); f != nil {
		return f.Cells(list)
	}
	return list
}

// Load reads the job as Load does. Of a job that follows its form, faults are
// told at the form's cells, and job.toml need not be there.
func (s Source) Load(fsys fs.FS, firm Firm) (*Work, fault.List) {
	f := s.filled()
	switch {
	case f == nil:
		return Load(fsys, firm)
	case f.JobFile == nil:
		return &Work{Job: &job.Job{}, form: f}, f.Faults
	}
	w, faults := loadJob(fsys, firm, f.JobFile)
	w.form = f
	return w, f.All(faults)
}

// keep writes the job file that a form made beside it, whole or not at all.
func (s Source) keep(w *Work) error {
	if w.form == nil {
		return nil
	}
	path := s.Path()
	if old, err := os.ReadFile(path); err == nil && bytes.Equal(old, w.form.JobFile) {
		return nil
	}
	f, err := os.CreateTemp(s.Dir, ".dryhold-*.part")
	if err != nil {
		return err
	}
	_, err = f.Write(w.form.JobFile)
	if err = errors.Join(err, f.Chmod(0o644), f.Close()); err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		return errors.Join(err, os.Remove(f.Name()))
	}
	return nil
}
