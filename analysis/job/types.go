package job

import (
	"encoding"
	"reflect"
	"strings"
	"sync"
)

// field is what the tags of a struct field say.
type field struct {
	name  string // toml key
	index int
	rules []string
	words []string
}

func (f field) has(rule string) bool {
	for _, r := range f.rules {
		if r == rule {
			return true
		}
	}
	return false
}

var jobType = reflect.TypeFor[Job]()

func valueOfJob(j *Job) reflect.Value { return reflect.ValueOf(j).Elem() }

var known sync.Map // reflect.Type -> map[string]field

// fieldsOf gives a table's fields by key.
func fieldsOf(t reflect.Type) map[string]field {
	if f, ok := known.Load(t); ok {
		return f.(map[string]field)
	}
	fields := map[string]field{}
	defer known.Store(t, fields)
	for i := range t.NumField() {
		sf := t.Field(i)
		name, tagged := sf.Tag.Lookup("toml")
		if name == "-" {
			continue
		}
		if !tagged {
			name = strings.ToLower(sf.Name)
		}
		f := field{name: name, index: i}
		if r := sf.Tag.Get("rule"); r != "" {
			f.rules = strings.Split(r, ",")
		}
		if w := sf.Tag.Get("words"); w != "" {
			f.words = strings.Split(w, "|")
		}
		fields[name] = f
	}
	return fields
}

// tableType is the struct of a top-level table or array of tables.
func tableType(key string) reflect.Type {
	f, ok := fieldsOf(jobType)[key]
	if !ok {
		return reflect.TypeFor[struct{}]()
	}
	return structUnder(jobType.Field(f.index).Type)
}

// structUnder unwraps pointers and slices down to a table's struct; a type that
// is no table gives an empty one.
func structUnder(t reflect.Type) reflect.Type {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || isLeaf(t) {
		return reflect.TypeFor[struct{}]()
	}
	return t
}

var textType = reflect.TypeFor[encoding.TextUnmarshaler]()

// isLeaf reports whether a type is written as one value, not as a table.
func isLeaf(t reflect.Type) bool {
	return t == reflect.TypeFor[Date]() || t == reflect.TypeFor[DateTime]() || reflect.PointerTo(t).Implements(textType)
}
