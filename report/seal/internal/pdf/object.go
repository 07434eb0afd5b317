// Package pdf reads and writes the objects of a PDF file (ISO 32000-1, clause 7)
// as far as a sealed record needs them: one revision with a plain
// cross-reference table, and one incremental update after it.
package pdf

import (
	"bytes"
	"cmp"
	"slices"
)

// Object is nil, bool, int, float64, Name, String, Array, Dict, *Stream or Ref.
type Object any

// Name is a name object, decoded and without its slash.
type Name string

// String is a string object, decoded.
type String string

// Array is an array object.
type Array []Object

// Dict is a dictionary in the order in which it was written.
type Dict []Entry

// Entry is one entry of a Dict.
type Entry struct {
	Key   Name
	Value Object
}

// Ref is a reference to an indirect object.
type Ref struct{ Num, Gen int }

// Stream is a stream object; Raw is still encoded.
type Stream struct {
	Dict Dict
	Raw  []byte
}

// Get returns the value of key, nil where there is none.
func (d Dict) Get(key Name) Object {
	for _, e := range d {
		if e.Key == key {
			return e.Value
		}
	}
	return nil
}

// Set replaces the value of key in place, or adds it at the end.
func (d *Dict) Set(key Name, value Object) {
	for i := range *d {
		if (*d)[i].Key == key {
			(*d)[i].Value = value
			return
		}
	}
	*d = append(*d, Entry{key, value})
}

// Delete removes keys.
func (d *Dict) Delete(keys ...Name) {
	*d = slices.DeleteFunc(*d, func(e Entry) bool { return slices.Contains(keys, e.Key) })
}

// Without returns a copy that lacks keys.
func (d Dict) Without(keys ...Name) Dict {
	c := slices.Clone(d)
	c.Delete(keys...)
	return c
}

// Equal reports whether two objects mean the same. The order of a dictionary's
// entries, null entries, and 1 or 1.0 make no difference.
func Equal(a, b Object) bool {
	switch a := a.(type) {
	case Array:
		b, ok := b.(Array)
		return ok && slices.EqualFunc(a, b, Equal)
	case Dict:
		b, ok := b.(Dict)
		return ok && equalDict(a, b)
	case *Stream:
		b, ok := b.(*Stream)
		return ok && equalDict(a.Dict.Without("Length"), b.Dict.Without("Length")) && bytes.Equal(a.Raw, b.Raw)
	case int:
		f, ok := b.(float64)
		return b == Object(a) || ok && float64(a) == f
	case float64:
		i, ok := b.(int)
		return b == Object(a) || ok && a == float64(i)
	}
	// Comparing unlike dynamic types is false; a is comparable here, and b is of
	// the same type whenever its value is looked at.
	return a == b
}

func equalDict(a, b Dict) bool { return slices.EqualFunc(sorted(a), sorted(b), equalEntry) }

func equalEntry(a, b Entry) bool { return a.Key == b.Key && Equal(a.Value, b.Value) }

func sorted(d Dict) Dict {
	c := slices.DeleteFunc(slices.Clone(d), func(e Entry) bool { return e.Value == nil })
	slices.SortFunc(c, func(a, b Entry) int { return cmp.Compare(a.Key, b.Key) })
	return c
}
