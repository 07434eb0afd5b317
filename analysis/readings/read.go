package readings

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"strings"
	"time"

	"dryhold/analysis/fault"
)

// File is one export: its name relative to the job's folder, and its bytes.
type File struct {
	Name string
	Data []byte
}

// Quantity is what a recording measures.
type Quantity uint8

const (
	Vacuum   Quantity = iota // absolute pressure in the circuit while it is evacuated
	Pressure                 // a standing pressure test; Ambient is the temperature of the pipe
)

// Options is what the job says about a recording.
type Options struct {
	ID string
	// Sheet and column headers, where the job states them. A header may carry
	// the unit that the file leaves out: "Vacuum [psia]"; of times also how far they
	// are from UTC, or the order of day and month: "Time [UTC-06:00]",
	// "Time [dd/mm/yyyy]". "column B" names a column that has no header.
	Sheet, Time, Pressure, Ambient string
	Decimal                        string         // "point" or "comma"; empty where the file shows it
	Start                          time.Time      // of logs that count elapsed time; zero when not given
	Zone                           *time.Location // of local times; UTC when nil
	JobDate                        time.Time
	Atmosphere                     float64 // Pa, for gauge and vacuum columns; 0 when unknown
	RangeLow, RangeHigh            float64 // Pa, of the instrument; 0 when unknown
	Quantity                       Quantity
	HoldStart, HoldEnd             time.Time // as stated; zero when found in the readings
}

// jobDay is the job's date as days since 1970.
func (o Options) jobDay() int64 {
	y, m, d := o.JobDate.Date()
	return time.Date(y, m, d, 0, 0, 0, 0, time.UTC).Unix() / 86400
}

// Read turns the files of one recording into one series. The series is nil when
// a fault stops it; doubts come with a series. Every data row of every file is
// counted once in its Input.
func Read(files []File, o Options) (*Series, fault.List) {
	if o.Zone == nil {
		o.Zone = time.UTC
	}
	rep := &report{}
	s := &Series{ID: o.ID}
	var parts []*recording
	for _, f := range files {
		if skipped(f.Name) {
			rep.add(fault.Fault{Code: "skipped", File: f.Name, Doubt: true, Found: "a lock file or a hidden file, left out"})
			continue
		}
		if part := readFile(f, o, rep); part != nil {
			for i := range part.rows {
				part.rows[i].file = uint16(len(parts))
			}
			parts = append(parts, part)
			s.Inputs = append(s.Inputs, part.input)
		}
	}
	if len(files) == 0 || len(parts) == 0 && !rep.stops() {
		rep.add(fault.Fault{Code: "no-file", Found: fmt.Sprintf("no readings file for %q", o.ID),
			Expected: "a CSV, TSV or XLSX file", Mend: `say which in job.toml, for example: [[readings]] file = "gauge.csv"`})
	}
	if rep.stops() {
		return nil, rep.list()
	}
	join(s, parts, o, rep)
	if rep.stops() {
		return nil, rep.list()
	}
	return s, rep.list()
}

// skipped reports names that spreadsheets and file systems make beside the
// real file: ~$name locks and hidden files.
func skipped(name string) bool {
	base := path.Base(strings.ReplaceAll(name, `\`, "/"))
	return strings.HasPrefix(base, "~$") || strings.HasPrefix(base, ".")
}

// recording is one file read: its rows in file order, with instants.
type recording struct {
	input Input
	rows  []reading
}

// reading is one data row that has a time.
type reading struct {
	at      int64 // ns since 1970: of the wall clock first, of UTC once placed
	p       float64
	ambient float64
	row     int32
	file    uint16
	mark    Mark
}

// readFile reads one file up to its placed readings, or reports why it can't.
func readFile(f File, o Options, rep *report) *recording {
	in := Input{File: f.Name, Bytes: int64(len(f.Data)), Columns: map[string]Column{}, TimeZone: o.Zone.String()}
	digest := make(chan [sha256.Size]byte, 1)
	go func() { digest <- sha256.Sum256(f.Data) }()
	rep.start(f.Name)
	t, lay := open(f, o, &in, rep)
	sum := <-digest
	if t == nil || rep.fileStops() {
		return nil
	}
	in.SHA256 = hex.EncodeToString(sum[:])
	part := &recording{input: in}
	if !convert(t, lay, o, part, rep) {
		return nil
	}
	return part
}

// report collects faults, the first few of each code in a file.
type report struct {
	faults fault.List
	file   string
	seen   map[string]int
	first  int // index of the first fault of the file in work
}

const shownOfACode = 3

func (r *report) start(file string) {
	r.flush()
	r.file, r.seen, r.first = file, map[string]int{}, len(r.faults)
}

func (r *report) add(f fault.Fault) {
	f.Kind = fault.Readings
	if r.seen == nil {
		r.seen = map[string]int{}
	}
	r.seen[f.Code]++
	if r.seen[f.Code] <= shownOfACode {
		r.faults = append(r.faults, f)
	}
}

// flush says how many faults of the file were left out of the list.
func (r *report) flush() {
	n := 0
	for _, k := range r.seen {
		n += max(0, k-shownOfACode)
	}
	if n > 0 {
		r.faults = append(r.faults, fault.Fault{Kind: fault.Readings, Code: fault.More, File: r.file, Doubt: true,
			Found: fmt.Sprintf("%d more like these", n)})
	}
	r.seen = nil
}

func (r *report) stops() bool     { return r.faults.Stops() }
func (r *report) fileStops() bool { return r.faults[r.first:].Stops() }

func (r *report) list() fault.List {
	r.flush()
	r.faults.Sort()
	return r.faults
}
