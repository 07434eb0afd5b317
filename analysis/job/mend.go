package job

import (
	"fmt"
	"reflect"
	"strings"
	"time"

	"dryhold/analysis/fault"
)

// ordinary says what to do about a fault that knows nothing better: how the key
// is written, and that one which no record needs can be left out.
func (d *decoder) ordinary(f fault.Fault) string {
	field, t, ok := fieldAt(f.Key)
	if !ok {
		return ""
	}
	leave := ", or delete the line"
	if field.has("required") {
		leave = ""
	}
	example := d.example(field, t)
	switch {
	case f.Code == "quantity" && strings.HasSuffix(f.Found, "the unit is missing"):
		return "write the unit behind the number"
	case f.Code == "quantity":
		return "write a number with its unit as in the example" + leave
	case len(field.words) > 0:
		return "write one of these words" + leave
	case structUnder(t).NumField() > 0:
		return ""
	case t.Kind() == reflect.Slice && t != reflect.TypeFor[Texts]():
		return fmt.Sprintf("write it in the form %s = [%s]%s", field.name, example, leave)
	}
	return fmt.Sprintf("write it in the form %s = %s%s", field.name, example, leave)
}

// example is how the value of a key can be written.
func (d *decoder) example(f field, t reflect.Type) string {
	if t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case len(f.words) > 0:
		return fmt.Sprintf("%q", f.words[0])
	case f.name == "format":
		return "1"
	case f.name == "number":
		return `"2031-0147"`
	case f.name == "file":
		return `"gauge.csv"`
	case t == reflect.TypeFor[Date]():
		return d.day()
	case t == reflect.TypeFor[DateTime]():
		return d.day() + "T13:05:00"
	case t.Kind() == reflect.Int, t.Kind() == reflect.Float64:
		return "10"
	case t.Kind() == reflect.Bool:
		return "true"
	case t != reflect.TypeFor[Texts]() && isLeaf(elementOf(t)):
		one, _, _ := strings.Cut(exampleOf(elementOf(t)), ",")
		one, _, _ = strings.Cut(one, " or ")
		return one
	}
	return `"…"`
}

// fieldAt finds the field of a key such as "system.line.wall".
func fieldAt(key string) (f field, t reflect.Type, ok bool) {
	t = jobType
	for _, name := range strings.Split(key, ".") {
		under := structUnder(t)
		if f, ok = fieldsOf(under)[name]; !ok {
			return f, t, false
		}
		t = under.Field(f.index).Type
	}
	return f, t, true
}

// yearless are ways to write a day without its year.
var yearless = []string{"2 January", "2 Jan", "January 2", "Jan 2", "2.1.", "1/2"}

// withYear is the line to write for a day without its year, "" for another text.
func (d *decoder) withYear(key, written, clock string) string {
	for _, layout := range yearless {
		if t, err := time.Parse(layout, strings.TrimSpace(written)); err == nil {
			return fmt.Sprintf("write the year too, this or another: %s = %s-%s%s", key, d.day()[:4], t.Format("01-02"), clock)
		}
	}
	return ""
}
