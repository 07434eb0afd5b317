package readings

import "time"

// Mark says how far a reading can be used.
type Mark uint8

const (
	Used       Mark = iota // a number within range
	OverRange              // at or above the top of the range: P is NaN, or the number written
	UnderRange             // below what the gauge resolves, or a small negative zero offset
)

// Series is one recording in SI units and in time order. All slices have the
// same length, but for Ambient, which is nil where the file has no temperature.
type Series struct {
	ID      string    // the [[readings]] id
	Start   time.Time // instant of T = 0, in the job's time zone
	T       []float64 // s after Start, strictly increasing
	P       []float64 // Pa, absolute; NaN where Mark says out of range and no number was written
	Ambient []float64 // K; NaN where a row has none
	Mark    []Mark
	File    []uint16 // index into Inputs
	Row     []int32  // row in the file, counted from 1 as a spreadsheet does
	Inputs  []Input  // what was read, one per file, in the order given
}

// Len is the number of readings.
func (s *Series) Len() int { return len(s.T) }

// At is the instant of reading i.
func (s *Series) At(i int) time.Time {
	return s.Start.Add(time.Duration(s.T[i] * float64(time.Second)))
}

// Input says what was understood of one file and what was set aside.
// Rows = Used + OverRange + UnderRange + NotANumber + Duplicates + Unused.
type Input struct {
	File       string // name relative to the job's folder
	SHA256     string // of the file's bytes, lower-case hex
	Bytes      int64
	Kind       string // "csv", "xlsx", "csv gzip"
	Encoding   string // "UTF-8", "UTF-16LE", "Windows-1252"; empty for workbooks
	Separator  string // ",", ";", "tab", "blanks"
	Sheet      string
	HeaderRow  int               // 0 where the file has no header
	Columns    map[string]Column // by role: "time", "date", "am/pm", "ms", "zone", "elapsed", "pressure", "status", "ambient"
	DateOrder  string            // "ISO 8601", "day first", "month first", "month by name", "serial 1900", "serial 1904", "since 1970", "time of day", "elapsed"
	DateWhy    string            // what decided it
	TimeZone   string
	Rows       int // all data rows
	Used       int
	OverRange  int
	UnderRange int
	NotANumber int
	Duplicates int
	Unused     int // rows outside the recording, for example summary lines
	OutOfOrder int // events: a step backwards in the file
	Gaps       int // events: more than 3 median intervals
	First      time.Time
	Last       time.Time
	Interval   float64 // median, s
}

// Column is a column that was chosen and why.
type Column struct {
	Letter string // "B"
	Header string
	Unit   string
	Why    string
}
