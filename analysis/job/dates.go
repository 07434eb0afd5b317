package job

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"dryhold/analysis/fault"
)

// The TOML library marks local dates and times by the name of their location.
const (
	localDateTime = "datetime-local"
	localDate     = "date-local"
	localTime     = "time-local"
)

// instant is how a date with a time is written.
const instant = "2006-01-02T15:04:05"

// layouts are other ways to write a day, the month first before the day first.
var layouts = []string{"2006-1-2", "2006/1/2", "1/2/2006", "2/1/2006", "1-2-2006", "2-1-2006", "1.2.2006", "2.1.2006", "2 January 2006", "January 2, 2006", "January 2 2006", "2 Jan 2006", "Jan 2, 2006", "Jan 2 2006", "2-Jan-2006"}

var clocks = []string{"", " 15:04", " 15:04:05", "T15:04", "T15:04:05", " 3:04 PM", " 3:04:05 PM", " 3:04PM", " 3:04:05PM"}

// Days reads a day, or a day with a time, that is written in another form, and
// writes it in the given layout: both ways where it can be read in two, each with
// its day in words, and none where in none.
func Days(written, layout string) (ways []string) {
	for _, day := range layouts {
		for _, clock := range clocks {
			t, err := time.Parse(day+clock, strings.ToUpper(strings.TrimSpace(written)))
			if err != nil || clock == "" && layout != time.DateOnly {
				continue
			}
			if way := t.Format(layout + " (2 January)"); !slices.Contains(ways, way) {
				ways = append(ways, way)
			}
		}
	}
	if len(ways) == 1 {
		ways[0], _, _ = strings.Cut(ways[0], " (")
	}
	return ways
}

// meant is the line to write for a day in another form, "" for none.
func meant(src, written, layout string) string {
	key := last(src)
	ways := Days(written, layout)
	for i := range ways {
		ways[i] = key + " = " + ways[i]
	}
	if len(ways) == 0 {
		return ""
	}
	return "write " + strings.Join(ways, " or ")
}

// last is a key without its table.
func last(path string) string { return path[strings.LastIndexByte(path, '.')+1:] }

// day is the job's own, for examples, before and after it was decoded.
func (d *decoder) day() string {
	table, _ := d.src.tree["job"].(map[string]any)
	if t, ok := table["date"].(time.Time); ok {
		return t.Format(time.DateOnly)
	}
	return exampleDay.Format(time.DateOnly)
}

// oddYear refuses a day that no job can be of, nor a calibration, and which a slip
// of the pen makes; nil for any other.
func oddYear(t time.Time) *fault.Fault {
	const first, last = 1990, 2199
	if y := t.Year(); y < first || y > last {
		return &fault.Fault{Code: "date", Found: fmt.Sprintf("the year %d", y), Expected: fmt.Sprintf("a year from %d to %d", first, last), Mend: "correct the year"}
	}
	return nil
}

func (d *decoder) date(p *Date, x any, src string) {
	t, ok := x.(time.Time)
	if !ok || t.Location().String() != localDate {
		f := fault.Fault{Code: "date", Found: describe(x), Expected: "a date such as " + d.day() + ", without quotation marks"}
		if s, isText := x.(string); isText {
			f.Mend = first(meant(src, s, time.DateOnly), d.withYear(last(src), s, ""))
		} else if ok && t.Location().String() != localTime {
			f.Found, f.Mend = "a date with a time", "write only "+t.Format(time.DateOnly)
		}
		d.fault(src, f)
		return
	}
	if odd := oddYear(t); odd != nil {
		d.fault(src, *odd)
		return
	}
	p.Time = time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, d.job.Zone)
}

func (d *decoder) dateTime(p *DateTime, x any, src string) {
	expected := "a date and time such as " + d.day() + "T13:05:00, without quotation marks"
	t, ok := x.(time.Time)
	kind := ""
	if ok {
		kind = t.Location().String()
	}
	f := fault.Fault{Code: "date", Found: describe(x), Expected: expected}
	switch {
	case !ok:
		if s, isText := x.(string); isText {
			f.Mend = first(meant(src, s, instant), d.withYear(last(src), s, "T13:05:00"))
		}
	case kind == localDate:
		f.Found, f.Mend = "a date without a time", "write "+t.Format(time.DateOnly)+"T13:05:00 with the right time"
	case kind == localTime:
		f.Found, f.Mend = "a time without a date", "write the date before it, for example "+d.day()+"T"+t.Format(time.TimeOnly)
	case oddYear(t) != nil:
		f = *oddYear(t)
	case kind == localDateTime:
		d.local(p, t, src)
		return
	default:
		p.Time = t.In(d.job.Zone)
		return
	}
	d.fault(src, f)
}

// local gives a wall clock its instant, or says why there is none or two.
func (d *decoder) local(p *DateTime, wall time.Time, src string) {
	instants := resolve(wall, d.job.Zone)
	written, zone := wall.Format(instant), d.job.Zone
	switch len(instants) {
	case 1:
		p.Time = instants[0]
	case 0:
		d.fault(src, fault.Fault{Code: "clock-gap", Found: fmt.Sprintf("%s does not exist in %s: the clocks went forward over it", written, zone),
			Expected: "a time that existed", Mend: "write the right time; if the recorder's clock was not put forward, write " + wall.Add(time.Hour).Format(instant)})
	default:
		d.fault(src, fault.Fault{Code: "clock-fold", Found: fmt.Sprintf("%s came twice in %s: the clocks went back", written, zone),
			Expected: "an offset that says which", Mend: "write " + instants[0].Format(time.RFC3339) + " (the first) or " + instants[1].Format(time.RFC3339) + " (the second)"})
	}
}
