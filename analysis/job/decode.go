package job

import (
	"fmt"
	"slices"
	"sort"
	"time"

	"dryhold/analysis/fault"
)

// Format is the newest job file format that this version reads.
const Format = 1

// File is a file's name, as messages show it, and its bytes.
type File struct {
	Name string
	Data []byte
}

// decoder fills a Job from one or two sources and remembers where each value
// of the Job came from.
type decoder struct {
	job    *Job
	src    *source          // the one being read
	from   map[string]place // by path in the Job
	glyph  func(rune) bool
	faults fault.List
}

// Decode reads job.toml over the defaults of company.toml (nil if there is
// none). glyph reports whether the record's font can print a rune; nil allows
// every one up to U+FFFF. All faults of both files come at once; the Job is to
// be used only where the list does not stop.
func Decode(jobFile File, company *File, glyph func(rune) bool) (*Job, fault.List) {
	d := &decoder{job: &Job{Zone: time.UTC}, from: map[string]place{}, glyph: glyph}
	own := open(jobFile)
	sources := []*source{own}
	if company != nil {
		firm := open(*company)
		sources = []*source{firm, own}
	}
	for _, s := range sources {
		d.faults = append(d.faults, s.faults...)
	}
	for _, s := range sources {
		if !s.parsed || !d.formatKnown(s) {
			d.faults.Sort()
			return d.job, d.faults
		}
	}
	d.setZone(sources)
	for _, s := range sources {
		d.src = s
		if s == own {
			d.prefer(own.tree)
		} else {
			d.onlyDefaults()
		}
		d.from[""] = place{src: s} // what is missing altogether is told in line 1
		d.table(valueOfJob(d.job), s.tree, "", "")
	}
	d.settle(own)
	d.required()
	d.check()
	d.job.from = d.from
	d.faults.Sort()
	return d.job, slices.CompactFunc(d.faults, func(a, b fault.Fault) bool { return a == b })
}

// formatKnown refuses a file of a newer format before anything else is said of it.
func (d *decoder) formatKnown(s *source) bool {
	n, ok := s.tree["format"].(int64)
	if !ok || n == Format {
		return true
	}
	d.src = s
	f := fault.Fault{Code: "format", Found: fmt.Sprintf("format %d", n), Expected: fmt.Sprintf("format %d", Format)}
	f.Mend = "write format = 1"
	if n > Format {
		f.Mend = fmt.Sprintf("this file needs a dryhold that reads format %d: install a newer version", n)
	}
	d.fault("format", f)
	return false
}

// setZone finds the job's time zone, which every later date-time needs.
func (d *decoder) setZone(sources []*source) {
	for _, s := range sources {
		table, _ := s.tree["job"].(map[string]any)
		name, ok := table["timezone"].(string)
		if !ok {
			continue
		}
		zone, err := loadZone(name)
		if err == nil {
			d.job.Zone = zone
			continue
		}
		d.src = s
		f := fault.Fault{Code: "zone", Found: fmt.Sprintf("%q is not a known time zone", name), Expected: `a name of the IANA time zone database, such as "America/Denver"`}
		f.Mend = `write a place in the same zone, such as timezone = "America/Denver"`
		if near := nearestZone(name); near != "" {
			f.Mend = fmt.Sprintf("did you mean timezone = %q?", near)
		}
		d.fault("job.timezone", f)
	}
}

// inCompany lists what company.toml may hold; nil stands for all keys of a table.
var inCompany = map[string][]string{
	"format": nil, "key": nil, "company": nil, "technician": nil, "instrument": nil, "record": nil,
	"job":  {"timezone", "altitude"},
	"hold": criterion,
}

// criterion are the keys of [hold] that together say when it is accepted.
var criterion = []string{"acceptance", "reach", "limit", "minutes", "max_rise", "document", "page"}

// onlyDefaults removes from company.toml, with a fault, what belongs to one job.
func (d *decoder) onlyDefaults() {
	for key, v := range d.src.tree {
		allowed, ok := inCompany[key]
		if !ok && fieldsOf(jobType)[key].name != "" {
			d.misplaced(key)
			delete(d.src.tree, key)
		}
		table, isTable := v.(map[string]any)
		if !ok || allowed == nil || !isTable {
			continue
		}
		for k := range table {
			if _, known := fieldsOf(tableType(key))[k]; known && !slices.Contains(allowed, k) {
				d.misplaced(join(key, k))
				delete(table, k)
			}
		}
	}
}

func (d *decoder) misplaced(path string) {
	d.fault(path, fault.Fault{Code: "company-key", Key: path, Found: "this belongs to one job", Expected: "in company.toml only what holds for all jobs",
		Mend: "move it to job.toml"})
}

// prefer drops the company's criterion where the job states its own: two halves
// of two criteria would be a third one that nobody agreed.
func (d *decoder) prefer(tree map[string]any) {
	table, _ := tree["hold"].(map[string]any)
	for _, k := range criterion {
		if _, ok := table[k]; ok {
			d.job.Hold = nil
		}
	}
	if _, ok := tree["key"]; ok {
		d.fault("key", fault.Fault{Code: "unknown-key", Key: "key", Found: "the signing key is not a matter of one job", Expected: "key in company.toml", Mend: "move it to company.toml"})
		delete(tree, "key")
	}
}

// settle fills what follows from the rest: the one recording there is, and no
// hold where only the company's criterion speaks of one.
func (d *decoder) settle(own *source) {
	j := d.job
	_, stated := own.tree["hold"]
	if !stated && j.Evacuation == nil && len(j.Readings) == 0 {
		j.Hold = nil
	}
	only := ""
	if len(j.Readings) == 1 {
		only = j.Readings[0].ID
	}
	if j.Evacuation != nil && j.Hold != nil && slices.ContainsFunc(j.Readings, func(r Reading) bool { return r.ID == j.Hold.Readings }) {
		j.Evacuation.Readings = first(j.Evacuation.Readings, j.Hold.Readings)
	}
	if j.Evacuation != nil {
		j.Evacuation.Readings = first(j.Evacuation.Readings, only)
		only = first(j.Evacuation.Readings, only)
	}
	if j.Hold != nil {
		j.Hold.Readings = first(j.Hold.Readings, only)
	}
}

func first(texts ...string) string {
	for _, t := range texts {
		if t != "" {
			return t
		}
	}
	return ""
}

func sortedKeys(m map[string]any) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
