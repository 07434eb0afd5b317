package readings

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"dryhold/analysis/fault"
)

// offset is how far the times of a whole column are from UTC, as its header, the
// job's own words on it, or a line above the header say.
type offset struct {
	ns  int64 // ns east of UTC
	why string
}

var (
	fromUTC = regexp.MustCompile(`(?i)\b(?:utc|gmt)(?:\s+offset)?\s*[(\[]?\s*([+\-−])\s*(\d{1,2})(?::?(\d{2}))?`)
	atUTC   = regexp.MustCompile(`(?i)\b(?:utc|gmt|zulu|z)\b`)
	signed  = regexp.MustCompile(`[(\[]\s*([+\-−])(\d{2}):?(\d{2})\s*[)\]]`)
)

// offsetIn finds an offset from UTC in a text: "UTC", "GMT-06:00", "(+0200)".
func offsetIn(s string) (offset int64, found bool) {
	m := fromUTC.FindStringSubmatch(s)
	if m == nil {
		m = signed.FindStringSubmatch(s)
	}
	if m == nil {
		return 0, atUTC.MatchString(s) && !strings.Contains(strings.ToLower(s), "not utc")
	}
	h, _ := strconv.Atoi(m[2])
	min, _ := strconv.Atoi(m[3])
	offset = int64(h*3600+min*60) * 1e9
	if (m[1] != "+") != strings.Contains(strings.ToLower(s), "etc/") { // Etc/GMT+6 is west of Greenwich
		offset = -offset
	}
	return offset, h <= 14 && min < 60
}

// otherZones are abbreviations of times that most sites do not keep: a header that
// names one of them and is read as the site's own would shift the recording.
var otherZones = map[string]bool{"est": true, "edt": true, "cst": true, "cdt": true, "mst": true, "mdt": true, "pst": true, "pdt": true,
	"akst": true, "akdt": true, "hst": true, "ast": true, "adt": true, "nst": true, "ndt": true, "cet": true, "cest": true, "wet": true, "west": true,
	"eet": true, "eest": true, "bst": true, "ist": true, "jst": true, "kst": true, "aest": true, "aedt": true, "awst": true, "nzst": true, "nzdt": true,
	"mez": true, "mesz": true}

// stated looks for the zone of the times, nil where the file names none. It
// reports false where a header names one that is not the site's.
func (c *clock) stated() (*offset, bool) {
	for _, col := range []int{c.lay.timeColumn(), c.lay.date} {
		if col < 0 {
			continue
		}
		h := c.lay.heads[col]
		for _, s := range append([]string{h.unit, h.text}, c.under(col)...) {
			if ns, ok := offsetIn(s); ok {
				return &offset{ns, fmt.Sprintf("the header %q says how far its times are from UTC", h.text)}, true
			}
		}
		for _, w := range strings.FieldsFunc(h.text, func(r rune) bool { return !unicode.IsLetter(r) }) {
			if ns, ok := c.stamps.zones[foldWord(w)]; ok && w == strings.ToUpper(w) {
				return &offset{ns, fmt.Sprintf("the header %q names it", h.text)}, true
			}
			if otherZones[foldWord(w)] && w == strings.ToUpper(w) {
				c.rep.add(fault.Fault{Code: "zone", File: c.t.file, Sheet: c.t.sheet, Line: lineOf(c.t, c.lay),
					Found:    fmt.Sprintf("column %s %q has times in %s, which is not the time of %s", letter(col), h.text, w, c.o.Zone),
					Expected: "the site's own time, or an offset from UTC",
					Mend:     "say how far they are from UTC, in job.toml, with the right hours: [[readings]] " + c.lay.choices("time", []int{col}, "UTC-05:00")})
				return nil, false
			}
		}
	}
	return c.above(), true
}

// under is what stands in a column between its header and the first row.
func (c *clock) under(col int) (list []string) {
	for i := c.lay.header + 1; i > 0 && i < c.lay.first; i++ {
		b := c.t.trimmed(c.t.at(i, col))
		list = append(list, string(b[:min(len(b), longestUnit)]))
	}
	return list
}

// zoneWords begin a line above the header that tells the time zone.
var zoneWords = []string{"time zone", "timezone", "zeitzone", "zona horaria", "huso horario", "fuseau", "times", "timestamps", "zeiten", "horas", "heures"}

// above looks for the zone in the lines above the header. The site's offset in
// winter beside a name is that zone as operating systems write it, in summer too,
// "(UTC-07:00) Mountain Time", and changes nothing.
func (c *clock) above() *offset {
	for i := range max(0, c.lay.header) {
		line := foldWord(c.line(i))
		if !slices.ContainsFunc(zoneWords, func(w string) bool { return strings.Contains(line, w) }) {
			continue
		}
		for _, x := range c.t.row(i) {
			b := c.t.trimmed(x)
			cell := foldWord(string(b[:min(len(b), longestHead)]))
			if ns, ok := offsetIn(cell); ok && !(ns == c.standard() && hasName(cell)) {
				return &offset{ns, fmt.Sprintf("row %d says how far its times are from UTC", c.t.rows[i].number)}
			}
		}
	}
	return nil
}

// standard is the site's offset from UTC in winter.
func (c *clock) standard() int64 {
	least := int64(math.MaxInt64)
	for _, ns := range c.stamps.zones {
		least = min(least, ns)
	}
	return least
}

// hasName reports a text with more than an offset from UTC and the words for it.
func hasName(s string) bool {
	for _, w := range zoneWords {
		s = strings.ReplaceAll(s, w, "")
	}
	s = atUTC.ReplaceAllString(fromUTC.ReplaceAllString(s, ""), "")
	return strings.ContainsFunc(s, unicode.IsLetter)
}

// line is the text of a row above the header, as far as it matters.
func (c *clock) line(i int) string {
	var b strings.Builder
	for _, x := range c.t.row(i) {
		if b.Len() > longestHead {
			break
		}
		b.Write(c.t.trimmed(x))
		b.WriteByte(' ')
	}
	s := b.String()
	return s[:min(len(s), 2*longestHead)]
}

// shift takes the offset off every time, which is UTC then.
func (c *clock) shift(z *offset) {
	for i := c.lay.first; i < len(c.wall); i++ {
		if c.wall[i] != none {
			c.wall[i] -= z.ns
		}
	}
	c.absolute = true
	c.why += "; " + z.why
}

// siteDay is the day in UTC, as ns since 1970, on which a time of day lies whose
// day at the site is the job's.
func (c *clock) siteDay(clock int64) int64 {
	_, m, d := c.o.JobDate.Date()
	base := c.o.jobDay() * day
	if c.offset == nil {
		return base
	}
	for _, off := range []int64{0, -day, day} {
		at := time.Unix(0, base+off+clock-c.offset.ns).In(c.o.Zone)
		if at.Day() == d && at.Month() == m {
			return base + off
		}
	}
	return base
}
