// Package load reads one whole job from a file system: job.toml over the
// defaults of company.toml, the recordings and the pictures. The same code
// serves a folder (through os.Root, which keeps links from leading out) and the
// attachments of a record.
package load

import (
	"fmt"
	"io/fs"
	"path"
	"slices"
	"time"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/readings"
)

// MaxReadings is the greatest size in bytes of a recording.
const MaxReadings = 256 << 20

// Limits of pictures: bytes of a logo or a signature's image, how many photographs
// a job has, and the dots a side that are kept of one.
const (
	MaxImage       = 8 << 20
	MaxPhotographs = 12
	keptSide       = 1600
)

// Options is what the job's folder does not tell.
type Options struct {
	Glyph   func(rune) bool // whether the record can print a rune; nil: every one up to U+FFFF
	JobFile []byte          // what the job's form makes, in place of the file; nil: the file
	Company fs.FS           // the folder of company.toml, for the logo that it names; nil: none
}

// Loaded is a job with everything that it rests on.
type Loaded struct {
	Job     *job.Job
	JobFile []byte
	Company []byte                      // nil where there is no company.toml
	Series  map[string]*readings.Series // by [[readings]] id
	Files   []NamedFile                 // every other file read, in the order of the job file, each once
}

// NamedFile is a file that belongs to the job. Name is as job.toml has it; a
// file that company.toml names stands under "company/".
type NamedFile struct {
	Name string
	Role string // "readings", "logo", "image", "photograph"
	Data []byte
}

// Load reads the job file at jobPath and all that it names. Faults of the job
// file have the kind fault.Job, those of recordings fault.Readings. Loaded is
// never nil; it is to be used only where the faults do not stop.
func Load(fsys fs.FS, jobPath string, company *job.File, o Options) (*Loaded, fault.List) {
	name := path.Base(jobPath)
	l := &loader{fsys: fsys, o: o, company: company, out: &Loaded{Series: map[string]*readings.Series{}}}
	if dir := path.Dir(jobPath); dir != "." {
		if sub, err := fs.Sub(fsys, dir); err == nil {
			l.fsys = sub
		}
	}
	data := o.JobFile
	if data == nil {
		var f *fault.Fault
		if data, f = readFile(l.fsys, name, job.MaxFile+1); f != nil {
			f.File = name
			switch f.Code {
			case "size":
				f.Expected, f.Mend = "a job file of at most 1 MiB", "name the right file; recordings belong in [[readings]]"
			case "folder":
				f.Expected, f.Mend = "a text file, the job file", "give the folder another name; dryhold new begins a job file"
			}
			l.out.Job, _ = job.Decode(job.File{Name: name}, nil, nil)
			return l.out, fault.List{*f}
		}
	}
	l.out.JobFile = data
	if company != nil {
		l.out.Company = company.Data
	}
	l.out.Job, l.faults = job.Decode(job.File{Name: name, Data: data}, company, o.Glyph)
	for i := range l.out.Job.Readings {
		l.recording(i)
	}
	l.images()
	l.dated()
	l.apart()
	l.faults.Sort()
	return l.out, l.faults
}

type loader struct {
	fsys    fs.FS
	o       Options
	company *job.File
	out     *Loaded
	faults  fault.List
}

// recording reads the files of one [[readings]] and makes a series of them.
func (l *loader) recording(i int) {
	j := l.out.Job
	in := j.Readings[i]
	var files []readings.File
	for k, name := range in.File {
		at := fmt.Sprintf("readings[%d].file[%d]", i, k)
		if slices.ContainsFunc(in.File[:k], func(other string) bool { return alike(other, name) }) {
			l.fault(at, fault.Fault{Code: "twice", Found: fmt.Sprintf("the file %q is named twice", name), Expected: "each file once", Mend: "delete one of the two names"})
			return
		}
		if data := l.read(l.fsys, name, at, "readings", MaxReadings, fault.Readings); data != nil {
			files = append(files, readings.File{Name: name, Data: data})
		}
	}
	if len(files) == 0 || len(files) < len(in.File) || in.ID == "" {
		return
	}
	s, faults := readings.Read(files, l.options(in))
	for _, f := range faults {
		f.Kind = fault.Readings
		l.faults = append(l.faults, f)
	}
	if s != nil {
		l.out.Series[in.ID] = s
	}
}

// options is what the job tells about a recording.
func (l *loader) options(in job.Reading) readings.Options {
	j := l.out.Job
	pa, _, _ := j.Atmosphere()
	o := readings.Options{ID: in.ID, Sheet: in.Sheet, Time: in.Time, Pressure: in.Pressure, Ambient: in.Ambient, Decimal: in.Decimal, Start: in.Start.Time,
		Zone: j.Zone, JobDate: j.Job.Date.Time, Atmosphere: pa}
	for _, g := range j.Instruments {
		if g.ID == in.Instrument && g.Range.Given() && (g.Measures == "vacuum" || g.Measures == "pressure") {
			o.RangeLow, o.RangeHigh = g.Range.Low.Pa(pa), g.Range.High.Pa(pa)
		}
	}
	if l.forPressure(in.ID) {
		o.Quantity = readings.Pressure
	}
	if h := j.Hold; h != nil && h.Readings == in.ID {
		o.HoldStart, o.HoldEnd = h.Start.Time, h.End.Time
	}
	return o
}

// dated tells a job without its date on which day the readings begin.
func (l *loader) dated() {
	var first time.Time
	for _, s := range l.out.Series {
		if s.Len() > 0 && (first.IsZero() || s.At(0).Before(first)) {
			first = s.At(0)
		}
	}
	for i, f := range l.faults {
		if f.Code == "required" && f.Key == "job.date" && !first.IsZero() {
			day := first.In(l.out.Job.Zone).Format(time.DateOnly)
			l.faults[i].Expected = "the day of the work; the readings begin on " + day
			l.faults[i].Mend = fmt.Sprintf("if that is the day, write date = %s under [job]", day)
		}
	}
}

// apart doubts a stated hold that begins after the last of its readings or ends
// before the first: most often a slip in the day or the hour.
func (l *loader) apart() {
	h := l.out.Job.Hold
	if h == nil {
		return
	}
	s := l.out.Series[h.Readings]
	if s == nil || len(s.Inputs) == 0 {
		return
	}
	first, last := s.Inputs[0].First, s.Inputs[0].Last
	for _, in := range s.Inputs {
		if in.First.Before(first) {
			first = in.First
		}
		if in.Last.After(last) {
			last = in.Last
		}
	}
	at, t := "hold.start", h.Start
	switch {
	case h.Start.Given() && h.Start.After(last):
	case h.End.Given() && h.End.Before(first):
		at, t = "hold.end", h.End
	default:
		return
	}
	zone := l.out.Job.Zone
	l.fault(at, fault.Fault{Code: "order", Doubt: true, Found: job.Told(t.Time, zone) + ": the hold is at no time in its readings",
		Expected: fmt.Sprintf("a time from %s to %s", job.Told(first, zone), job.Told(last, zone)), Mend: "look at the day and the hour"})
}

// forPressure reports whether a recording is of a standing pressure test.
func (l *loader) forPressure(id string) bool {
	j := l.out.Job
	if j.Hold != nil && j.Hold.Readings == id || j.Evacuation != nil && j.Evacuation.Readings == id {
		return false
	}
	for _, a := range j.Attempts {
		if a.Readings == id {
			return a.Test == "pressure"
		}
	}
	return j.PressureTest != nil && j.PressureTest.Readings == id
}

func (l *loader) fault(at string, f fault.Fault) {
	l.faults = append(l.faults, l.out.Job.Place(at, f))
}

// read gives a file's bytes and lists it, or reports at its key why it can't.
func (l *loader) read(fsys fs.FS, name, at, role string, limit int64, kind fault.Kind) []byte {
	if name == "" {
		return nil
	}
	if f := leaves(name); f != nil {
		l.fault(at, *f)
		return nil
	}
	for _, have := range l.out.Files {
		if have.Name == name && (role == have.Role || role == "photograph") {
			return have.Data
		}
	}
	data, f := readFile(fsys, path.Clean(name), limit)
	if f != nil {
		if f.Code != "outside" {
			f.Kind = kind
		}
		if f.Code == "size" && role != "readings" {
			f.Expected, f.Mend = "a picture for a page", "save it smaller"
		}
		l.fault(at, *f)
		return nil
	}
	l.out.Files = append(l.out.Files, NamedFile{name, role, data})
	return data
}
