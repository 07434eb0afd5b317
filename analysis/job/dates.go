package job

import (
	"fmt"
	"regexp"
	"time"

	"dryhold/analysis/fault"
)

// The TOML library marks local dates and times by the name of their location.
const (
	localDateTime = "datetime-local"
	localDate     = "date-local"
	localTime     = "time-local"
)

var isoDate = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}`)

func (d *decoder) date(p *Date, x any, src string) {
	t, ok := x.(time.Time)
	if !ok || t.Location().String() != localDate {
		f := fault.Fault{Code: "date", Found: describe(x), Expected: "a date such as 2031-04-09, without quotation marks"}
		if s, isText := x.(string); isText && isoDate.MatchString(s) {
			f.Mend = "write it without quotation marks: " + s[:10]
		} else if ok && t.Location().String() != localTime {
			f.Found, f.Mend = "a date with a time", "write only "+t.Format(time.DateOnly)
		}
		d.fault(src, f)
		return
	}
	if t.Year() < 1990 || t.Year() > 2199 {
		d.fault(src, fault.Fault{Code: "date", Found: fmt.Sprintf("the year %d", t.Year()), Expected: "a year from 1990 to 2199"})
		return
	}
	p.Time = time.Date(t.Year(), t.Month(), t.Day(), 0, 0, 0, 0, d.job.Zone)
}

func (d *decoder) dateTime(p *DateTime, x any, src string) {
	const expected = "a date and time such as 2031-04-09T13:05:00, without quotation marks"
	t, ok := x.(time.Time)
	kind := ""
	if ok {
		kind = t.Location().String()
	}
	f := fault.Fault{Code: "date", Found: describe(x), Expected: expected}
	switch {
	case !ok:
		if s, isText := x.(string); isText && isoDate.MatchString(s) {
			f.Mend = "write it without quotation marks"
		}
	case kind == localDate:
		f.Found, f.Mend = "a date without a time", "write "+t.Format(time.DateOnly)+"T13:05:00 with the right time"
	case kind == localTime:
		f.Found, f.Mend = "a time without a date", "write the date before it, for example 2031-04-09T"+t.Format(time.TimeOnly)
	case t.Year() < 1990 || t.Year() > 2199:
		f.Found, f.Expected = fmt.Sprintf("the year %d", t.Year()), "a year from 1990 to 2199"
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
	written, zone := wall.Format("2006-01-02T15:04:05"), d.job.Zone
	switch len(instants) {
	case 1:
		p.Time = instants[0]
	case 0:
		d.fault(src, fault.Fault{Code: "clock-gap", Found: fmt.Sprintf("%s does not exist in %s: the clocks went forward over it", written, zone),
			Expected: "a time that existed", Mend: "write the right time, or the offset from UTC behind it"})
	default:
		d.fault(src, fault.Fault{Code: "clock-fold", Found: fmt.Sprintf("%s came twice in %s: the clocks went back", written, zone),
			Expected: "an offset that says which", Mend: "write " + instants[0].Format(time.RFC3339) + " (the first) or " + instants[1].Format(time.RFC3339) + " (the second)"})
	}
}
