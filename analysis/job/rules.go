package job

import (
	"fmt"
	"reflect"
	"slices"
	"sort"
	"strings"

	"dryhold/analysis/fault"
)

// required walks the whole Job for what must be there and for references.
func (d *decoder) required() {
	ids := map[string][]string{
		"instrument": idsOf(len(d.job.Instruments), func(i int) string { return d.job.Instruments[i].ID }),
		"readings":   idsOf(len(d.job.Readings), func(i int) string { return d.job.Readings[i].ID }),
	}
	for kind, list := range ids {
		for i, id := range list {
			if first := slices.Index(list, id); first < i && id != "" {
				d.faultIn(fmt.Sprintf("%s[%d].id", kind, i), d.twice(id, fmt.Sprintf("%s[%d].id", kind, first)))
			}
		}
	}
	d.rules(valueOfJob(d.job), "", ids)
}

// twice tells of an id that another has already.
func (d *decoder) twice(id, other string) fault.Fault {
	p, line := d.from[other], 0
	if p.src != nil {
		line, _ = p.src.position(p.at.start)
	}
	return fault.Fault{Code: "twice", Found: fmt.Sprintf("the id %q is given twice, first in line %d", id, line), Expected: "each id once",
		Mend: "give one of the two another id, and write that wherever it is meant; if both are the same, delete one"}
}

func idsOf(n int, id func(int) string) []string {
	list := make([]string, n)
	for i := range list {
		list[i] = id(i)
	}
	return list
}

func (d *decoder) rules(v reflect.Value, path string, ids map[string][]string) {
	switch {
	case v.Kind() == reflect.Pointer:
		if !v.IsNil() {
			d.rules(v.Elem(), path, ids)
		}
	case isLeaf(v.Type()):
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			d.rules(v.Index(i), fmt.Sprintf("%s[%d]", path, i), ids)
		}
	case v.Kind() == reflect.Struct:
		fields := fieldsOf(v.Type())
		names := make([]string, 0, len(fields))
		for n := range fields {
			names = append(names, n)
		}
		sort.Strings(names)
		for _, n := range names {
			f := fields[n]
			d.rule(v.Field(f.index), f, path, ids)
			d.rules(v.Field(f.index), join(path, n), ids)
		}
	}
}

func (d *decoder) rule(v reflect.Value, f field, table string, ids map[string][]string) {
	path := join(table, f.name)
	for _, r := range f.rules {
		switch {
		case r == "required" && (v.IsZero() || v.Kind() == reflect.Slice && v.Len() == 0):
			if !d.refusedAt(path) {
				d.missing(path, f, v.Type())
			}
		case ids[r] != nil && v.String() != "":
			d.reference(path, v.String(), r, ids[r])
		case (r == "instrument" || r == "readings") && v.String() != "":
			d.reference(path, v.String(), r, nil)
		}
	}
}

// refusedAt reports whether a key is there, but was refused with a fault of its own.
func (d *decoder) refusedAt(path string) bool {
	for _, f := range d.faults {
		if f.Key == keyOf(path) {
			return true
		}
	}
	return false
}

func (d *decoder) missing(path string, f field, t reflect.Type) {
	mend := fmt.Sprintf("write %s = %s", f.name, d.example(f, t))
	if table := parent(path); table != "" && !strings.HasSuffix(table, "]") {
		mend += fmt.Sprintf(" under [%s]", table)
	}
	d.faultIn(path, fault.Fault{Code: "required", Found: "missing", Expected: "a value", Mend: mend})
}

// listed names the first few.
func listed(names []string) string {
	const most = 12
	if len(names) > most {
		return strings.Join(names[:most], ", ") + fmt.Sprintf(" and %d more", len(names)-most)
	}
	return strings.Join(names, ", ")
}

func (d *decoder) reference(path, id, kind string, ids []string) {
	for _, known := range ids {
		if known == id {
			return
		}
	}
	if d.full() {
		return
	}
	f := fault.Fault{Code: "reference", Found: fmt.Sprintf("no %s has the id %q", strings.Replace(kind, "readings", "recording", 1), id), Expected: "the id of one: " + listed(ids)}
	if len(ids) == 0 {
		f.Expected = map[string]string{"instrument": "an [[instrument]] with this id, here or in company.toml", "readings": "[[readings]] with this id"}[kind]
	}
	f.Mend = fmt.Sprintf("write one of these ids, or list this one in [[%s]]", kind)
	if len(ids) == 0 {
		f.Mend = fmt.Sprintf("list it in [[%s]], with id = %q", kind, id)
	}
	if near := Nearest(id, ids); near != "" {
		f.Mend = fmt.Sprintf("did you mean %q?", near)
	}
	d.faultIn(path, f)
}
