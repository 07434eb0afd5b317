package issue

import (
	"fmt"
	"io/fs"
	"os"
	"path"
	"strings"

	"dryhold/analysis"
	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/load"
	"dryhold/analysis/record"
	"dryhold/report"
	"dryhold/report/seal"
)

// Firm is the company.toml that applies to a job.
type Firm struct {
	Path string // as it is on this computer; empty where there is none
	Data []byte
	FS   fs.FS // its folder, for the logo
	root *os.Root
}

// Load reads the job in fsys. Messages and attachments call its files job.toml
// and company.toml wherever they are, so that the record does not depend on it.
func Load(fsys fs.FS, firm Firm) (*Work, fault.List) { return loadJob(fsys, firm, nil) }

// loadJob takes made, where it is given, for the job file.
func loadJob(fsys fs.FS, firm Firm, made []byte) (*Work, fault.List) {
	var company *job.File
	if firm.Data != nil {
		company = &job.File{Name: companyFile, Data: firm.Data}
	}
	loaded, faults := load.Load(fsys, jobName, company, load.Options{Glyph: report.HasGlyph, Company: firm.FS, JobFile: made})
	w := &Work{Job: loaded.Job, Series: loaded.Series, Doubts: faults}
	if faults.Stops() {
		return w, faults
	}
	w.attach(jobName, "job description", loaded.JobFile)
	if loaded.Company != nil {
		w.attach(companyFile, "the firm's defaults, as read", loaded.Company)
	}
	for _, f := range loaded.Files {
		name := path.Clean(f.Name)
		have := w.attached(name)
		switch {
		case name == resultsFile || have != nil && string(have) != string(f.Data):
			faults = append(faults, fault.Fault{Code: "name-taken", File: jobName, Found: fmt.Sprintf("a file of the job is called %q", f.Name),
				Expected: "another name: the record carries a file of its own with this one", Mend: "rename the file, here and in the job file"})
		case have == nil:
			w.attach(name, f.Role, f.Data)
		}
		w.picture(f)
	}
	if f := w.template(fsys, firm); f != nil {
		faults = append(faults, *f)
	}
	if f := w.tooLarge(); f != nil {
		return w, append(faults, *f)
	}
	w.Files = seal.Pack(w.Files)
	return w, faults
}

// tooLarge is more than a record can carry.
func (w *Work) tooLarge() *fault.Fault {
	size := 0
	for _, f := range w.Files {
		size += len(f.Data)
	}
	if size <= seal.MaxAttached*15/16 { // results.json has to go with them
		return nil
	}
	return &fault.Fault{Code: "size", File: jobName, Found: fmt.Sprintf("the files of the job have %d MB together", size>>20),
		Expected: fmt.Sprintf("at most %d MB, which a record can carry", seal.MaxAttached*15/16>>20), Mend: "export only the hours of this job, and take smaller pictures"}
}

func (w *Work) attached(name string) []byte {
	for _, a := range w.Files {
		if a.Name == name {
			return a.Data
		}
	}
	return nil
}

func (w *Work) attach(name, about string, data []byte) {
	w.Files = append(w.Files, seal.Attachment{Name: name, MIME: mediaType(name), Description: about, Relationship: seal.Source, Data: data})
}

// mediaType does not ask the system, whose answers differ.
func mediaType(name string) string {
	switch strings.ToLower(path.Ext(name)) {
	case ".toml":
		return "application/toml"
	case ".csv":
		return "text/csv"
	case ".tsv", ".txt":
		return "text/plain"
	case ".xlsx":
		return "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
	case ".json":
		return "application/json"
	case ".png":
		return "image/png"
	case ".jpg", ".jpeg":
		return "image/jpeg"
	case ".gz":
		return "application/gzip"
	default:
		return "application/octet-stream"
	}
}

// run works the job out. The record is read back from results.json, so that the
// pages tell what the file says, to its nine digits, here and in verify.
func (w *Work) run(software record.Software, revision int) fault.List {
	rec, faults := analysis.Run(w.Job, w.Series, analysis.Options{Software: software, Revision: revision, Doubts: w.Doubts})
	if faults.Stops() && w.form != nil {
		return w.form.Cells(faults)
	}
	if faults.Stops() {
		return faults
	}
	var err error
	if w.Results, w.Record, err = rec.Written(); err != nil {
		panic(err) // a value that is no number: a fault of the analysis
	}
	return nil
}

// Run works the job out as a first issue, for check.
func (w *Work) Run(software record.Software) fault.List { return w.run(software, 1) }
