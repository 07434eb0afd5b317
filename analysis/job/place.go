package job

import (
	"regexp"
	"strings"

	"dryhold/analysis/fault"
)

// place is where a value stands.
type place struct {
	src *source
	at  span
}

// fault adds f at a path of the source being read. A path without a place is
// shown at the table around it.
func (d *decoder) fault(path string, f fault.Fault) {
	at, ok := d.src.places.at[path]
	for p := path; !ok && p != ""; {
		p = parent(p)
		at, ok = d.src.places.at[p]
	}
	offset := at.key
	if f.Key == "" {
		f.Key = path
		offset = at.start
	}
	d.faultAt(place{d.src, span{key: offset}}, ok, f)
}

// faultIn adds f at the place where a value of the Job came from.
func (d *decoder) faultIn(path string, f fault.Fault) {
	d.job.from = d.from
	f = d.job.Place(path, f)
	if f.File == "" {
		f.File = d.src.name
	}
	d.keep(f)
}

// Place completes a fault with file, line, column and key of a value of the
// job, such as "hold.acceptance" or "readings[0].file": that of the value, or
// of the table around one that is absent. What is absent is told in job.toml even
// where only company.toml has the table.
func (j *Job) Place(path string, f fault.Fault) fault.Fault {
	if f.Key == "" {
		f.Key = keyOf(path)
	}
	p, ok := j.from[path]
	offset := p.at.start
	for q := path; !ok && q != ""; {
		q = parent(q)
		p, ok = j.from[q]
		ok = ok && (p.src == j.from[""].src || strings.HasSuffix(q, "]"))
		offset = p.at.key
	}
	if p.src != nil {
		f.File = p.src.name
		f.Line, f.Column = p.src.position(offset)
	}
	return f
}

func (d *decoder) faultAt(p place, known bool, f fault.Fault) {
	f.File, f.Key = p.src.name, keyOf(f.Key)
	if known {
		f.Line, f.Column = p.src.position(p.at.key)
	}
	d.keep(f)
}

// maxTold bounds the faults that are told; files with more are made to do harm.
const maxTold = 300

func (d *decoder) full() bool { return len(d.faults) >= maxTold }

func (d *decoder) keep(f fault.Fault) {
	if f.Mend == "" && !f.Doubt {
		f.Mend = d.ordinary(f)
	}
	if !d.full() {
		d.faults = append(d.faults, f)
	}
}

var index = regexp.MustCompile(`\[\d+\]`)

// keyOf is a path as messages show it: the line says which [[table]] is meant.
func keyOf(path string) string { return index.ReplaceAllString(path, "") }

func parent(path string) string {
	for i := len(path) - 1; i >= 0; i-- {
		if path[i] == '.' || path[i] == '[' {
			return path[:i]
		}
	}
	return ""
}
