package readings

import (
	"fmt"
	"slices"
	"time"

	"dryhold/analysis/fault"
)

// orders are the ways to read a date whose numbers do not say it.
const (
	isoOrder   = "ISO 8601"
	dayFirst   = "day first"
	monthFirst = "month first"
	byName     = "month by name" // and the day wherever it stands
)

// days gives the date as days since 1970 under an order, and whether there is
// such a date.
func (d numerals) days(order string) (int64, bool) {
	dd, mm := d.a, d.b
	if d.form == yearFirst || d.form != named && order == monthFirst {
		dd, mm = d.b, d.a
	}
	if mm < 1 || mm > 12 || dd < 1 || dd > 31 || d.year < firstYear || d.year > lastYear {
		return 0, false
	}
	u := time.Date(d.year, time.Month(mm), dd, 0, 0, 0, 0, time.UTC)
	return u.Unix() / 86400, u.Day() == dd
}

// Years that a recording can be of. A clock that was never set begins before, and
// a slip of the pen lies behind.
const firstYear, lastYear = 1970, 2200

// odd says why a date is none under an order.
func (d numerals) odd(order string) fault.Fault {
	if d.year < firstYear || d.year > lastYear {
		return oddYear(d.text, d.year)
	}
	how := ""
	if d.form == slashed || d.form == dotted {
		how = ", read " + order
	}
	return fault.Fault{Found: fmt.Sprintf("%q is no day of the calendar%s", d.text, how), Expected: "a month from 1 to 12, and a day that this month has", Mend: correctCell}
}

func oddYear(text string, year int) fault.Fault {
	return fault.Fault{Found: fmt.Sprintf("the year %d in %q", year, text), Expected: fmt.Sprintf("a year from %d to %d", firstYear, lastYear),
		Mend: "the recorder's clock was not set, or the cell is no date: correct the dates in a copy of the file, and keep the original beside it"}
}

// order decides day or month first from all dates of a column, then from the
// job's date; why says what decided it.
func (s *stamper) order(o Options) (order, why string, f *fault.Fault) {
	if s.shortYearFirst(o) {
		if s.pattern == isoOrder {
			return isoOrder, s.said, nil
		}
		return isoOrder, "the year comes first: only so is a date near the job's, " + o.JobDate.Format(time.DateOnly), nil
	}
	var day, month *numerals
	free, dots, names, same := 0, 0, 0, 0
	for k := range s.dates {
		d := &s.dates[k]
		switch {
		case d.form == yearFirst:
		case d.form == named:
			names++
		case d.form == dotted && d.a > 12, d.form == slashed && d.a > 12:
			day = first(day, d)
		case d.b > 12:
			month = first(month, d)
		case d.form == dotted:
			dots++
		case d.a == d.b:
			same++
		default:
			free++
		}
	}
	switch {
	case day != nil && month != nil:
		return "", "", &fault.Fault{Code: "date-order", Found: fmt.Sprintf("%s can only be day first and %s only month first", day.text, month.text),
			Expected: "one order of day and month in the whole column", Mend: "export again with dates in the form 2031-04-09"}
	case day != nil:
		return dayFirst, fmt.Sprintf("%s in row %d can't be month first", day.text, day.row), nil
	case month != nil:
		return monthFirst, fmt.Sprintf("%s in row %d can't be day first", month.text, month.row), nil
	case free == 0 && dots > 0:
		return dayFirst, "the date is written with points", nil
	case free == 0 && same > 0:
		return dayFirst, "day and month are the same number", nil
	case free == 0 && names > 0:
		return byName, "it cannot be taken for the day", nil
	case free == 0:
		return isoOrder, "the year comes first", nil
	}
	if s.pattern == dayFirst || s.pattern == monthFirst {
		return s.pattern, s.said, nil
	}
	return s.byJobDate(o)
}

// shortYearFirst turns dates such as 31/04/09 round where the file says that the
// year comes first, or only so are all of them days near the job's.
func (s *stamper) shortYearFirst(o Options) bool {
	said := s.pattern == isoOrder
	if len(s.dates) == 0 || !said && (s.pattern != "" || o.JobDate.IsZero()) {
		return false
	}
	j := o.jobDay()
	turned := slices.Clone(s.dates)
	for k, d := range turned {
		for _, order := range []string{dayFirst, monthFirst} {
			if v, ok := d.days(order); ok && within(v, j, near) && !said {
				return false
			}
		}
		turned[k] = numerals{a: d.b, b: d.year - 2000, year: 2000 + d.a, form: yearFirst, text: d.text, row: d.row}
		if v, ok := turned[k].days(isoOrder); !d.short || !ok || !said && !within(v, j, near) {
			return false
		}
	}
	s.dates = turned
	return true
}

// near is how many days a recording may lie from the job's date and still be
// recognised by it.
const near = 7

func (s *stamper) byJobDate(o Options) (order, why string, f *fault.Fault) {
	d := s.dates[0]
	for _, e := range s.dates {
		if e.form == slashed && e.a != e.b {
			d = e
			break
		}
	}
	dm, _ := d.days(dayFirst)
	md, _ := d.days(monthFirst)
	if !o.JobDate.IsZero() {
		j := o.jobDay()
		isDay, isMonth := within(dm, j, near), within(md, j, near)
		if isDay != isMonth {
			why = "no date in the file decides it; " + o.JobDate.Format(time.DateOnly) + " is the job's date"
			if isDay {
				return dayFirst, why, nil
			}
			return monthFirst, why, nil
		}
	}
	say := func(days int64, layout string) string { return time.Unix(days*86400, 0).UTC().Format(layout) }
	const long, iso = "2 January 2006", time.DateOnly
	found := fmt.Sprintf("%s can be %s or %s, and no row decides it", d.text, say(dm, long), say(md, long))
	if !o.JobDate.IsZero() {
		found += fmt.Sprintf("; the job's date, %s, is near neither", o.JobDate.Format(iso))
	}
	return "", "", &fault.Fault{Code: "date-order", Line: d.row, Found: found, Expected: "a date that can be read in one way",
		Mend: fmt.Sprintf("write the right day into job.toml: [job] date = %s (%s) or date = %s (%s); or export again with the year first",
			say(dm, iso), say(dm, long), say(md, iso), say(md, long))}
}

// within reports two days that are no more than limit apart.
func within(a, b, limit int64) bool { return a-b <= limit && b-a <= limit }

func first(have, d *numerals) *numerals {
	if have != nil {
		return have
	}
	return d
}
