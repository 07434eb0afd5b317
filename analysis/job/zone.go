package job

import (
	"fmt"
	"slices"
	"strings"
	"time"
	_ "time/tzdata" // a machine without a zone database reads the job the same way
)

var knownZones = []string{"America/New_York", "America/Chicago", "America/Denver", "America/Phoenix", "America/Los_Angeles",
	"America/Anchorage", "America/Boise", "America/Detroit", "America/Halifax", "America/Toronto", "America/Winnipeg", "America/Vancouver",
	"America/Mexico_City", "America/Puerto_Rico", "Pacific/Honolulu", "Europe/London", "Europe/Berlin", "Europe/Madrid", "Australia/Sydney", "UTC"}

// Zones are the time zones that a form offers; every other one of the IANA time
// zone database is taken too.
func Zones() []string { return slices.Clone(knownZones) }

// loadZone finds a zone by its IANA name. "Local" would depend on the machine.
func loadZone(name string) (*time.Location, error) {
	if name == "" || name == "Local" {
		return nil, fmt.Errorf("%q is not a time zone", name)
	}
	return time.LoadLocation(name)
}

// inWords are zones as people in North America call them, by their first letters.
var inWords = map[string]string{"eastern": "America/New_York", "est": "America/New_York", "edt": "America/New_York", "central": "America/Chicago",
	"cst": "America/Chicago", "cdt": "America/Chicago", "mountain": "America/Denver", "mst": "America/Denver", "mdt": "America/Denver",
	"pacific": "America/Los_Angeles", "pst": "America/Los_Angeles", "pdt": "America/Los_Angeles"}

// nearestZone is the zone that was probably meant: one of that name in words, of
// that city, or of a like name.
func nearestZone(name string) string {
	if words := strings.FieldsFunc(strings.ToLower(name), func(r rune) bool { return r < 'a' || r > 'z' }); len(words) > 0 && inWords[words[0]] != "" {
		return inWords[words[0]]
	}
	for _, z := range knownZones {
		if city := z[strings.IndexByte(z, '/')+1:]; strings.EqualFold(strings.ReplaceAll(name, " ", "_"), city) {
			return z
		}
	}
	return Nearest(name, knownZones)
}

// Written is an instant as a job file has it: in the zone's time, with its offset
// only in the hour that comes twice when the clocks go back.
func Written(t time.Time, zone *time.Location) string {
	if zone == nil {
		zone = time.UTC
	}
	t = t.In(zone)
	if len(resolve(t, zone)) > 1 {
		return t.Format(instant + "Z07:00")
	}
	return t.Format(instant)
}

// Told is an instant as a message tells it, "2031-11-02 01:30:00-06:00": Written
// with a blank.
func Told(t time.Time, zone *time.Location) string {
	return strings.Replace(Written(t, zone), "T", " ", 1)
}

// resolve gives the instants that a wall clock in zone may mean: none inside the
// gap when clocks go forward, two inside the fold when they go back.
func resolve(wall time.Time, zone *time.Location) (instants []time.Time) {
	utc := time.Date(wall.Year(), wall.Month(), wall.Day(), wall.Hour(), wall.Minute(), wall.Second(), wall.Nanosecond(), time.UTC)
	_, before := utc.Add(-26 * time.Hour).In(zone).Zone()
	_, after := utc.Add(26 * time.Hour).In(zone).Zone()
	offsets := []int{before, after}
	if before == after {
		offsets = offsets[:1]
	}
	for _, o := range offsets {
		t := utc.Add(-time.Duration(o) * time.Second).In(zone)
		if _, real := t.Zone(); real == o {
			instants = append(instants, t)
		}
	}
	if len(instants) == 2 && instants[1].Before(instants[0]) {
		instants[0], instants[1] = instants[1], instants[0]
	}
	return instants
}
