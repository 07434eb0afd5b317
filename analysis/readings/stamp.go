package readings

import (
	"bytes"
	"time"
)

const day = int64(24 * time.Hour)

// stamp is one time as written: a date, a time of day, an offset, each if there.
type stamp struct {
	date   int32 // index into stamper.dates, or noDate
	clock  int64 // ns of the day, or -1
	offset int64 // ns east of UTC, where zoned
	zoned  bool
}

const noDate = -1

// numerals is a date as written. Which of a and b is the day is decided from
// the whole column, unless form says it.
type numerals struct {
	a, b, year int
	form       form
	short      bool   // the year has two digits
	text       string // as the file has it
	row        int    // first row that has it
}

type form uint8

const (
	yearFirst form = iota // a is the month, b the day
	named                 // the month by name: a is the day, b the month
	dotted                // day.month.year
	slashed               // a/b/year or a-b-year
)

// stamper reads the times of a column. Neighbours mostly differ in the clock
// only, so the last date and everything around the clock are remembered.
type stamper struct {
	dates          []numerals
	zones          map[string]int64 // abbreviations of the job's zone
	before, behind []byte           // around hh:mm:ss in the last stamp
	last           stamp
	ready          bool
	row            int
	pattern, said  string // the order of a date that the file names, and where
	apart          bool   // the date stands in a column of its own
}

// read reads one cell; ok is false where it is not a time.
func (s *stamper) read(b []byte) (stamp, bool) {
	if len(b) > longestHead {
		return stamp{}, false
	}
	n := len(s.before)
	if end := n + 8; s.ready && len(b) == end+len(s.behind) && bytes.Equal(b[:n], s.before) && bytes.Equal(b[end:], s.behind) {
		if clock, ok := fixedClock(b[n:end]); ok {
			st := s.last
			st.clock = clock
			return st, true
		}
	}
	p := parts{s: s, text: b}
	st, ok := p.read()
	if ok && p.clockEnd-p.clockAt == 8 && p.meridiem == 0 {
		s.before, s.behind, s.last, s.ready = b[:p.clockAt], b[p.clockEnd:], st, true
	}
	return st, ok
}

// fixedClock reads "hh:mm:ss".
func fixedClock(b []byte) (int64, bool) {
	if b[2] != ':' || b[5] != ':' {
		return 0, false
	}
	var d [6]int64
	for k, i := range [...]int{0, 1, 3, 4, 6, 7} {
		c := b[i] - '0'
		if c > 9 {
			return 0, false
		}
		d[k] = int64(c)
	}
	h, m, sec := d[0]*10+d[1], d[2]*10+d[3], d[4]*10+d[5]
	if h > 23 || m > 59 || sec > 59 {
		return 0, false
	}
	return (h*3600 + m*60 + sec) * 1e9, true
}

// index remembers a date, written so, and gives its number.
func (s *stamper) index(d numerals, written []byte) int32 {
	for k := len(s.dates) - 1; k >= 0 && k >= len(s.dates)-4; k-- {
		if e := s.dates[k]; e.a == d.a && e.b == d.b && e.year == d.year && e.form == d.form {
			return int32(k)
		}
	}
	d.text, d.row = clip(trim(written)), s.row
	s.dates = append(s.dates, d)
	return int32(len(s.dates) - 1)
}
