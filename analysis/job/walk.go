package job

import (
	"encoding"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"
	"time"

	"dryhold/analysis/fault"
)

// table decodes a tree into a struct; src is its path in the source, dst in the Job.
func (d *decoder) table(v reflect.Value, tree map[string]any, src, dst string) {
	fields := fieldsOf(v.Type())
	for _, key := range sortedKeys(tree) {
		path := join(src, key)
		f, ok := fields[key]
		if !ok {
			d.unknown(path, key, v.Type())
			continue
		}
		d.value(v.Field(f.index), tree[key], f, path, join(dst, key))
	}
}

func (d *decoder) value(v reflect.Value, x any, f field, src, dst string) {
	d.from[dst] = place{d.src, d.src.places.at[src]}
	switch p := v.Addr().Interface().(type) {
	case *Date:
		d.date(p, x, src)
	case *DateTime:
		d.dateTime(p, x, src)
	case *Texts:
		d.texts(p, x, f, src, dst)
	case encoding.TextUnmarshaler:
		d.quantity(p, v, x, src)
	default:
		d.plain(v, x, f, src, dst)
	}
}

func (d *decoder) plain(v reflect.Value, x any, f field, src, dst string) {
	switch v.Kind() {
	case reflect.Pointer:
		d.pointer(v, x, f, src, dst)
	case reflect.Struct:
		if tree, ok := x.(map[string]any); ok {
			d.table(v, tree, src, dst)
		} else {
			d.wrong(src, x, "a table", fmt.Sprintf("write [%s] on a line of its own", src))
		}
	case reflect.Slice:
		d.slice(v, x, f, src, dst)
	case reflect.String:
		if s, ok := x.(string); ok {
			v.SetString(d.text(s, f, src))
		} else {
			d.wrong(src, x, "a text between quotation marks", d.quoteMend(src, f.name))
		}
	case reflect.Bool:
		if b, ok := x.(bool); ok {
			v.SetBool(b)
		} else {
			d.wrong(src, x, "true or false, without quotation marks", fmt.Sprintf("write %s = true or %s = false", f.name, f.name))
		}
	default:
		d.number(v, x, src)
	}
}

// pointer decodes what may be absent; a single value that was refused stays absent.
func (d *decoder) pointer(v reflect.Value, x any, f field, src, dst string) {
	target := v
	if v.IsNil() {
		target = reflect.New(v.Type().Elem())
	}
	before := len(d.faults)
	d.value(target.Elem(), x, f, src, dst)
	if len(d.faults) == before || target.Elem().Kind() == reflect.Struct {
		v.Set(target)
	}
}

func (d *decoder) number(v reflect.Value, x any, src string) {
	switch n := x.(type) {
	case int64:
		if v.Kind() == reflect.Float64 {
			v.SetFloat(float64(n))
		} else if n >= 0 && n <= math.MaxInt32 {
			v.SetInt(n)
		} else {
			d.wrong(src, x, "a whole number that is not negative", "")
		}
		return
	case float64:
		if v.Kind() == reflect.Float64 && !math.IsNaN(n) && !math.IsInf(n, 0) {
			v.SetFloat(n)
			return
		}
	}
	expected := "a whole number, without quotation marks"
	if v.Kind() == reflect.Float64 {
		expected = "a number, without quotation marks and without a unit"
	}
	mend := ""
	text, _ := x.(string)
	if text = strings.TrimSpace(strings.TrimSuffix(text, "min")); v.Kind() == reflect.Float64 && plainNumber.MatchString(text) {
		mend = fmt.Sprintf("write %s = %s", src[strings.LastIndexByte(src, '.')+1:], text)
	}
	d.wrong(src, x, expected, mend)
}

// plainNumber is one that TOML takes too.
var plainNumber = regexp.MustCompile(`^(0|[1-9]\d*)(\.\d+)?$`)

// slice decodes an array of tables or of quantities. Instruments merge by id
// over those of company.toml; every other array replaces the company's.
func (d *decoder) slice(v reflect.Value, x any, f field, src, dst string) {
	list, ok := elements(x)
	tables := structUnder(v.Type()).NumField() > 0
	if !ok {
		mend := ""
		if tables {
			mend = fmt.Sprintf("write [[%s]] with two brackets on each side", src)
		}
		expected := fmt.Sprintf("a list such as [%s]", exampleOf(v.Type().Elem()))
		if text, one := x.(string); one && !tables {
			mend = fmt.Sprintf("write %s = [%q]", f.name, text)
		}
		if tables {
			expected = "one or more tables of this name"
		}
		d.wrong(src, x, expected, mend)
		return
	}
	merge := f.name == "instrument" && dst == "instrument"
	inherited := v.Len()
	if !merge {
		v.Set(reflect.MakeSlice(v.Type(), 0, len(list)))
		inherited = 0
	}
	merged := map[int]bool{}
	for i, element := range list {
		k := v.Len()
		if merge {
			k = d.sameInstrument(element, inherited)
			if at := fmt.Sprintf("%s[%d]", src, i); k < inherited && merged[k] {
				d.fault(at+".id", d.twice(d.job.Instruments[k].ID, fmt.Sprintf("%s[%d].id", dst, k)))
			}
			merged[k] = true
		}
		if k == v.Len() {
			v.Set(reflect.Append(v, reflect.Zero(v.Type().Elem())))
		}
		d.value(v.Index(k), element, field{name: f.name}, fmt.Sprintf("%s[%d]", src, i), fmt.Sprintf("%s[%d]", dst, k))
	}
}

// sameInstrument is the index of the inherited instrument with the element's id,
// or the index behind the last.
func (d *decoder) sameInstrument(element any, inherited int) int {
	table, _ := element.(map[string]any)
	id, _ := table["id"].(string)
	for k := range inherited {
		if d.job.Instruments[k].ID == id {
			return k
		}
	}
	return len(d.job.Instruments)
}

func elements(x any) ([]any, bool) {
	switch list := x.(type) {
	case []any:
		return list, true
	case []map[string]any:
		out := make([]any, len(list))
		for i := range list {
			out[i] = list[i]
		}
		return out, true
	}
	return nil, false
}

// quantity decodes what reads itself from a text.
func (d *decoder) quantity(p encoding.TextUnmarshaler, v reflect.Value, x any, src string) {
	example := exampleOf(v.Type())
	s, ok := x.(string)
	if !ok {
		d.wrong(src, x, "a text with a number and a unit, such as "+example, "put it between quotation marks, with its unit")
		return
	}
	if d.text(s, field{}, src) == "" && s != "" {
		return
	}
	err := p.UnmarshalText([]byte(s))
	if err == nil {
		return
	}
	v.SetZero()
	found, mend, _ := strings.Cut(err.Error(), "; write ")
	if !strings.Contains(found, s) {
		found = fmt.Sprintf("%q: %s", s, found)
	}
	f := fault.Fault{Code: "quantity", Found: found, Expected: "for example " + example}
	if mend != "" && mend != example {
		f.Mend = "write " + mend
	}
	d.fault(src, f)
}

func (d *decoder) wrong(src string, x any, expected, mend string) {
	d.fault(src, fault.Fault{Code: "wrong-type", Found: describe(x), Expected: expected, Mend: mend})
}

// quoteMend shows the value as it stands, between quotation marks.
func (d *decoder) quoteMend(src, key string) string {
	at, ok := d.src.places.at[src]
	if !ok || at.end-at.start > 60 || strings.ContainsAny(d.src.text[at.start:at.end], "\"\n[{") {
		return ""
	}
	return fmt.Sprintf("write %s = %q", key, d.src.text[at.start:at.end])
}

func describe(x any) string {
	switch v := x.(type) {
	case string:
		if len(v) > 60 {
			return "a long text"
		}
		return fmt.Sprintf("the text %q", v)
	case int64, float64:
		return fmt.Sprintf("the number %v", v)
	case bool:
		return fmt.Sprintf("%t", v)
	case time.Time:
		return "a date or time"
	case map[string]any:
		return "a table"
	}
	return "a list"
}
