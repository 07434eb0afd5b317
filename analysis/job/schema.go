package job

import (
	"encoding/json"
	"reflect"
	"strings"

	"dryhold/analysis/quantity"
)

// Schema is a JSON Schema (draft 2020-12) of job.toml for editors that know
// schemas, worked out from the same types and tags that Decode uses. It can
// say less than Decode: not that a unit suits, only how one is written.
func Schema() []byte {
	s := object(jobType)
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = "dryhold job file, format 1"
	s["properties"].(map[string]any)["format"] = map[string]any{"const": Format}
	b, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic(err) // maps, texts and numbers only
	}
	return append(b, '\n')
}

func object(t reflect.Type) map[string]any {
	properties := map[string]any{}
	var required []string
	for i := range t.NumField() {
		for name, f := range fieldsOf(t) {
			if f.index != i {
				continue
			}
			properties[name] = property(t.Field(i).Type, f)
			if f.has("required") {
				required = append(required, name)
			}
		}
	}
	o := map[string]any{"type": "object", "additionalProperties": false, "properties": properties}
	if len(required) > 0 {
		o["required"] = required
	}
	return o
}

func property(t reflect.Type, f field) map[string]any {
	text := map[string]any{"type": "string"}
	if len(f.words) > 0 {
		text["enum"] = f.words
	}
	if f.has("path") {
		text["description"] = "a file in the job's folder, / between folder and file"
	}
	if f.has("instrument") || f.has("readings") {
		text["description"] = "the id of one [[" + f.rules[0] + "]]"
	}
	switch {
	case t.Kind() == reflect.Pointer:
		return property(t.Elem(), f)
	case t == reflect.TypeFor[Texts]():
		return map[string]any{"oneOf": []any{text, map[string]any{"type": "array", "items": text}}}
	case t == reflect.TypeFor[Date]():
		return map[string]any{"description": "a date without quotation marks: 2031-04-09"}
	case t == reflect.TypeFor[DateTime]():
		return map[string]any{"description": "a date and time without quotation marks, in the job's time zone or with its offset: 2031-04-09T13:05:00"}
	case isLeaf(t):
		text["description"] = "for example " + exampleOf(t)
		text["pattern"] = `[0-9]`
		return text
	case t.Kind() == reflect.Slice:
		return map[string]any{"type": "array", "items": property(t.Elem(), field{})}
	case t.Kind() == reflect.Struct:
		return object(t)
	case t.Kind() == reflect.Bool:
		return map[string]any{"type": "boolean"}
	case t.Kind() == reflect.Int:
		return map[string]any{"type": "integer", "minimum": 0}
	case t.Kind() == reflect.Float64:
		return map[string]any{"type": "number", "exclusiveMinimum": 0}
	}
	return text
}

// Key is one key of the job file, for forms and lists made from the types.
type Key struct {
	Path     string // dotted, without indexes: "system.line.length"
	Words    []string
	Required bool
	Ref      string // "instrument" or "readings" where it is the id of one
	Kind     Kind
	Many     bool               // a list of quantities
	Dim      quantity.Dimension // of a quantity; DimNone where the unit decides
	Example  string             // how a quantity is written
}

// Kind is how a value is written.
type Kind uint8

// The kinds of values.
const (
	Text Kind = iota
	List      // one text or several
	Quantity
	Day
	Instant
	YesNo
	Number
)

// Keys lists the keys of a table ("job", "instrument", "system.line") that are
// single values or lists, in the order of the types; nil for no such table.
func Keys(table string) (keys []Key) {
	t := jobType
	for _, name := range strings.Split(table, ".") {
		f, ok := fieldsOf(t)[name]
		if !ok {
			return nil
		}
		t = structUnder(t.Field(f.index).Type)
	}
	byIndex := make([]field, t.NumField())
	for _, f := range fieldsOf(t) {
		byIndex[f.index] = f
	}
	for i, f := range byIndex {
		ft := t.Field(i).Type
		if ft.Kind() == reflect.Pointer {
			ft = ft.Elem()
		}
		if f.name == "" || structUnder(ft).NumField() > 0 {
			continue
		}
		k := Key{Path: join(table, f.name), Words: f.words, Required: f.has("required"), Kind: kindOf(ft)}
		if f.has("instrument") || f.has("readings") {
			k.Ref = f.rules[0]
		}
		if k.Kind == Quantity {
			k.Example, k.Dim, k.Many = exampleOf(elementOf(ft)), dims[elementOf(ft)], ft.Kind() == reflect.Slice
		}
		keys = append(keys, k)
	}
	return keys
}

func elementOf(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Slice {
		return t.Elem()
	}
	return t
}

func kindOf(t reflect.Type) Kind {
	switch {
	case t == reflect.TypeFor[Texts]():
		return List
	case t == reflect.TypeFor[Date]():
		return Day
	case t == reflect.TypeFor[DateTime]():
		return Instant
	case isLeaf(elementOf(t)):
		return Quantity
	case t.Kind() == reflect.Bool:
		return YesNo
	case t.Kind() == reflect.Int || t.Kind() == reflect.Float64:
		return Number
	}
	return Text
}
