package job

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strings"
	"time"
	"unicode/utf8"

	"dryhold/analysis/fault"
	"dryhold/analysis/quantity"
)

var (
	number   = regexp.MustCompile(`^[A-Za-z0-9_-]([A-Za-z0-9._-]{0,62}[A-Za-z0-9_-])?$`)
	reserved = regexp.MustCompile(`(?i)^(con|prn|aux|nul|com[0-9]|lpt[0-9])(\.|$)`) // file names that Windows keeps for devices
)

// check looks at what only several keys together can show, and at values that
// no job has.
func (d *decoder) check() {
	d.checkNumber()
	d.checkAmends()
	d.checkAir()
	d.checkInstruments()
	d.checkReadings()
	d.checkHold()
	d.checkAttempts()
	d.checkPressureTest()
	d.checkPressures()
	d.checkTemperatures()
	d.checkReferences()
	d.checkSizes()
	d.checkRefrigerant()
	z := d.job.Job.Timezone
	if _, err := loadZone(z); err == nil && !strings.Contains(z, "/") && z != "UTC" && z != "GMT" {
		d.faultIn("job.timezone", fault.Fault{Code: "zone", Doubt: true, Found: fmt.Sprintf("%q names no place", z),
			Expected: "a zone that changes its clocks as the site does", Mend: fmt.Sprintf("write a place, such as timezone = %q", cmp.Or(nearestZone(z), "America/Denver"))})
	}
	if z == "" && d.from["job.timezone"].src == nil {
		d.faultIn("job.timezone", fault.Fault{Code: "zone", Doubt: true, Found: "no time zone is stated; times are taken as UTC", Mend: `write timezone = "America/Denver" (or your own) under [job]`})
	}
}

// digest is how a record that is amended is named; a copy without the customer withholds it.
var digest = regexp.MustCompile(`^[0-9a-f]{64}$|^withheld:`)

func (d *decoder) checkAmends() {
	a := d.job.Record.Amends
	if a == "" || digest.MatchString(a) {
		return
	}
	f := fault.Fault{Code: "digest", Found: fmt.Sprintf("%q", a), Expected: "the digest of the record that this one amends: 64 characters, 0 to 9 and a to f",
		Mend: "copy it from dryhold verify RECORD.pdf"}
	if whole := strings.ToLower(strings.Join(strings.Fields(a), "")); digest.MatchString(whole) {
		f.Mend = fmt.Sprintf("write amends = %q", whole)
	}
	d.faultIn("record.amends", f)
}

func (d *decoder) checkNumber() {
	if n := d.job.Job.Number; n != "" {
		if f := badNumber(n); f != nil {
			d.faultIn("job.number", *f)
		}
	}
}

// badNumber says why a text cannot be a job's number, which names the record's
// files on every system; nil where it can.
func badNumber(n string) *fault.Fault {
	f := &fault.Fault{Code: "number", Found: fmt.Sprintf("%q cannot be part of a file's name", n),
		Expected: "at most 64 letters (without accents), digits and . _ -, with no point at the beginning or the end"}
	switch {
	case number.MatchString(n) && !reserved.MatchString(n):
		return nil
	case reserved.MatchString(n):
		f.Found, f.Expected = fmt.Sprintf("%q, a name that Windows keeps for a device", n), "another number"
		f.Mend = fmt.Sprintf("write number = %q", "J-"+n)
	case len(n) > 64:
		f.Found, f.Mend = fmt.Sprintf("a number of %d characters", utf8.RuneCountInString(n)), "write a shorter one"
	default:
		mended := strings.Trim(regexp.MustCompile(`[^A-Za-z0-9._-]+`).ReplaceAllString(strings.TrimSpace(n), "-"), ".-")
		if number.MatchString(mended) {
			f.Mend = fmt.Sprintf("write number = %q", mended)
		}
	}
	return f
}

func (d *decoder) checkAir() {
	b, a := d.job.Job.Barometer, d.job.Job.Altitude
	if a.Given() && (a.SI < -450 || a.SI > 6000) {
		d.implausible("job.altitude", a.Text, "an altitude from -450 m to 6000 m")
		return
	}
	if b.Given() {
		d.station("job.barometer", b)
	}
}

var measured = map[string][]quantity.Dimension{
	"vacuum": {quantity.DimPressure}, "pressure": {quantity.DimPressure}, "mass": {quantity.DimMass},
	"temperature": {quantity.DimTemperature, quantity.DimDifference},
	"electrical":  {quantity.DimVoltage, quantity.DimCurrent, quantity.DimResistance},
}

func (d *decoder) checkInstruments() {
	for i, in := range d.job.Instruments {
		at := fmt.Sprintf("instrument[%d].", i)
		d.suits(at+"range", in.Range.Text, in.Range.High.Unit.Dim, in.Measures)
		d.suits(at+"accuracy", in.Accuracy.Text, in.Accuracy.Dim, in.Measures)
		d.suits(at+"resolution", in.Resolution.Text, in.Resolution.Unit.Dim, in.Measures)
		d.suits(at+"zero_stability", in.ZeroStability.Text, in.ZeroStability.Unit.Dim, in.Measures)
		if a := in.Accuracy; max(a.Relative, a.OfRange) > 1 {
			d.implausible(at+"accuracy", a.Text, "at most 100 %")
		}
		if in.Resolution.SI < 0 {
			d.implausible(at+"resolution", in.Resolution.Text, "not less than zero")
		}
		if in.ZeroStability.SI < 0 {
			d.implausible(at+"zero_stability", in.ZeroStability.Text, "not less than zero")
		}
		if in.Calibrated.Given() && in.Due.Given() && in.Due.Before(in.Calibrated.Time) {
			d.faultIn(at+"due", fault.Fault{Code: "order", Found: in.Due.Format(time.DateOnly), Expected: "a day after the calibration on " + in.Calibrated.Format(time.DateOnly), Mend: "correct whichever of the two is wrong"})
		}
	}
}

// suits checks that a property of an instrument has a unit of what it measures.
func (d *decoder) suits(path, text string, dim quantity.Dimension, measures string) {
	dims := measured[measures]
	if text == "" || dim == quantity.DimNone || len(dims) == 0 {
		return
	}
	for _, ok := range dims {
		if ok == dim {
			return
		}
	}
	d.faultIn(path, fault.Fault{Code: "quantity", Found: fmt.Sprintf("%q has a unit of %s", text, dim), Expected: fmt.Sprintf("a unit of %s: the instrument measures %s", dims[0], measures),
		Mend: "write it as the data sheet has it, or correct what the instrument measures"})
}

// checkReadings doubts a recording that no test names: a test may be told from
// half of what was recorded.
func (d *decoder) checkReadings() {
	j := d.job
	used := map[string]bool{}
	if j.Evacuation != nil {
		used[j.Evacuation.Readings] = true
	}
	if j.Hold != nil {
		used[j.Hold.Readings] = true
	}
	if j.PressureTest != nil {
		used[j.PressureTest.Readings] = true
	}
	for _, a := range j.Attempts {
		used[a.Readings] = true
	}
	for i, r := range j.Readings {
		if r.ID != "" && !used[r.ID] {
			d.faultIn(fmt.Sprintf("readings[%d].id", i), fault.Fault{Code: "recording-unused", Doubt: true, Found: fmt.Sprintf("no test uses the recording %q", r.ID),
				Expected: "its name under readings of the hold, the evacuation, the pressure test or an earlier attempt",
				Mend:     "name it there; or, where several files are one recording, list them in one file = [...]"})
		}
	}
}

func (d *decoder) checkHold() {
	h, c := d.job.Hold, d.job.Charge
	if h == nil {
		return
	}
	if h.Minutes != nil && !(*h.Minutes > 0 && *h.Minutes <= 2880) {
		d.implausible("hold.minutes", fmt.Sprint(*h.Minutes), "more than 0 and at most 2880 minutes (two days)")
	}
	for path, q := range map[string]quantity.Pressure{"hold.reach": h.Reach, "hold.limit": h.Limit, "hold.max_rise": h.MaxRise} {
		if q.Given() && (q.Unit.Ref != quantity.Absolute || q.SI <= 0 || q.SI > 10e3) {
			d.implausible(path, q.Text, "an absolute vacuum pressure above zero, at most 10 kPa")
		}
	}
	d.lasts("hold.", h.Start, h.End)
	if c != nil {
		d.ordered("charge.time", "hold.start", c.Time, h.Start)
		if !h.Start.Given() || !c.Time.Given() || !c.Time.Before(h.Start.Time) {
			d.ordered("charge.time", "hold.end", c.Time, h.End)
		}
	}
	if day := d.job.Job.Date; day.Given() && h.Start.Given() && math.Abs(h.Start.Sub(day.Time).Hours()) > 31*24 {
		d.faultIn("hold.start", fault.Fault{Code: "order", Doubt: true, Found: h.Start.Format(time.DateOnly) + " is more than a month from the date of the job", Expected: "a day near " + day.Format(time.DateOnly), Mend: "check the year and the month"})
	}
}

func (d *decoder) checkAttempts() {
	for i, a := range d.job.Attempts {
		at := fmt.Sprintf("attempt[%d].", i)
		d.lasts(at, a.Start, a.End)
	}
}

// lasts checks that what is in the table at begins before it ends, where both are given.
func (d *decoder) lasts(at string, start, end DateTime) {
	if start.Given() && end.Given() && !end.After(start.Time) {
		d.disorder(at+"end", at+"start", end, start)
	}
}

// ordered checks that late is not before early, where both are given.
func (d *decoder) ordered(late, early string, l, e DateTime) {
	if l.Given() && e.Given() && l.Before(e.Time) {
		d.disorder(late, early, l, e)
	}
}

func (d *decoder) disorder(late, early string, l, e DateTime) {
	d.faultIn(late, fault.Fault{Code: "order", Found: Told(l.Time, d.job.Zone), Expected: fmt.Sprintf("a time after %s, %s", early, Told(e.Time, d.job.Zone)), Mend: "correct whichever of the two is wrong"})
}

func (d *decoder) implausible(path, found, expected string) {
	d.faultIn(path, fault.Fault{Code: "plausible", Found: found, Expected: expected, Mend: "look for a slipped decimal point or another unit"})
}
