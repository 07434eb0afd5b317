package job

import (
	"fmt"
	"reflect"
	"sort"
	"strings"
	"unicode"

	"dryhold/analysis/fault"
	"dryhold/analysis/quantity"
)

// unknown reports a key that the format does not have, with the nearest one or
// the table where it belongs.
func (d *decoder) unknown(path, key string, t reflect.Type) {
	if d.full() {
		return
	}
	var names []string
	for n := range fieldsOf(t) {
		names = append(names, n)
	}
	sort.Strings(names)
	f := fault.Fault{Code: "unknown-key", Key: path, Found: "no such key", Expected: "one of " + strings.Join(names, ", ")}
	if where := homes(key); len(where) > 0 && Nearest(key, names) == "" {
		f.Mend = "it belongs in " + strings.Join(where, " or ")
	} else if near := Nearest(key, names); near != "" {
		f.Expected, f.Mend = near, fmt.Sprintf("did you mean %s?", near)
	} else {
		f.Mend = "delete the line, or put # before it to keep it as a remark; dryhold help job-file lists all keys"
	}
	d.fault(path, f)
}

// homes lists the tables that have a key, those within tables too.
func homes(key string) (tables []string) {
	var look func(t reflect.Type, path string)
	look = func(t reflect.Type, path string) {
		for name, f := range fieldsOf(t) {
			under := structUnder(t.Field(f.index).Type)
			if under.NumField() == 0 {
				continue
			}
			table := join(path, name)
			look(under, table)
			if _, ok := fieldsOf(under)[key]; !ok {
				continue
			}
			if t.Field(f.index).Type.Kind() == reflect.Slice {
				table = "[" + table + "]"
			}
			tables = append(tables, "["+table+"]")
		}
	}
	look(jobType, "")
	sort.Strings(tables)
	return tables
}

// texts decodes one text or an array of texts.
func (d *decoder) texts(p *Texts, x any, f field, src, dst string) {
	if s, ok := x.(string); ok {
		d.from[dst+"[0]"] = d.from[dst]
		*p = Texts{d.text(s, f, src)}
		return
	}
	list, ok := x.([]any)
	if !ok {
		d.wrong(src, x, "a text or a list of texts", d.quoteMend(src, f.name))
		return
	}
	*p = make(Texts, 0, len(list))
	for i, e := range list {
		at := fmt.Sprintf("%s[%d]", src, i)
		d.from[fmt.Sprintf("%s[%d]", dst, i)] = place{d.src, d.src.places.at[at]}
		if s, ok := e.(string); ok {
			*p = append(*p, d.text(s, f, at))
		} else {
			d.wrong(at, e, "a text between quotation marks", "")
		}
	}
}

// text checks one text: its characters, its words, its path. It returns "" for
// one that was refused.
func (d *decoder) text(s string, f field, src string) string {
	if f.has("path") && strings.ContainsAny(s, "\\\b\f\n\r\t\x1b\v\a") {
		d.backslash(s, src)
		return ""
	}
	if s == "" && f.has("path") && f.has("required") {
		d.fault(src, fault.Fault{Code: "path", Found: "an empty text", Expected: "the name of a file in the job's folder", Mend: `write its name, such as "gauge.csv"`})
	}
	for _, r := range s {
		if what := d.refused(r); what != "" {
			d.unprintable(s, r, what, src)
			return ""
		}
	}
	if len(f.words) > 0 {
		return d.word(s, f.words, src)
	}
	return s
}

// rightToLeft are scripts that the pages would print backwards.
var rightToLeft = []*unicode.RangeTable{unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko}

func (d *decoder) refused(r rune) string {
	switch {
	case r == '\n' || r == '\t':
		return ""
	case r < 0x20 || r >= 0x7f && r < 0xa0:
		return "a control character"
	case unicode.In(r, rightToLeft...):
		return "a letter of a script written from right to left, which the record would turn round"
	case r > 0xffff || d.glyph != nil && !d.glyph(r):
		return "a character that the record's font cannot print"
	}
	return ""
}

func (d *decoder) unprintable(s string, r rune, what, src string) {
	name := fmt.Sprintf("U+%04X", r)
	if what[:9] != "a control" {
		name = fmt.Sprintf("%c (U+%04X)", r, r)
	}
	f := fault.Fault{Code: "text", Key: src, Found: fmt.Sprintf("%s: %s", name, what), Expected: "letters, digits and signs of Latin script", Mend: "write it without this character"}
	at, ok := d.src.places.at[src]
	offset := at.start
	if ok {
		if n := strings.IndexRune(d.src.text[at.start:at.end], r); n >= 0 {
			offset += n
		}
	}
	d.faultAt(place{d.src, span{key: offset}}, ok, f)
}

// backslash explains a path written the Windows way. In "logs\new.csv" TOML has
// already made a line break of \n, so the mend is worked out from the source.
func (d *decoder) backslash(s, src string) {
	f := fault.Fault{Code: "backslash", Found: "a backslash in a path", Expected: "/ between folder and file, on Windows too"}
	written := fmt.Sprintf("%q", s)
	if at, ok := d.src.places.at[src]; ok {
		written = d.src.text[at.start:at.end]
	}
	f.Mend = "write " + forward(strings.ReplaceAll(written, "'", `"`))
	if len(s) > 1 && (s[1] == ':' || s[0] == '\\') { // C:\logs or \\server
		f.Mend = "copy the file into the folder of job.toml and write its name only"
	}
	d.fault(src, f)
}

func (d *decoder) word(s string, words []string, src string) string {
	for _, w := range words {
		if s == w {
			return s
		}
	}
	list := make([]string, len(words))
	for i, w := range words {
		list[i] = fmt.Sprintf("%q", w)
	}
	f := fault.Fault{Code: "word", Found: fmt.Sprintf("%q", s), Expected: strings.Join(list, ", ")}
	if len(list) > 1 {
		f.Expected = "one of " + f.Expected
	}
	near := Nearest(s, words)
	for _, w := range words {
		if near == "" && len(s) > 1 && strings.HasPrefix(w, strings.ToLower(s)) {
			near = w
		}
	}
	if near != "" {
		f.Mend = fmt.Sprintf("did you mean %q?", near)
	}
	d.fault(src, f)
	return ""
}

// dims is the kind of quantity of each type that has one.
var dims = map[reflect.Type]quantity.Dimension{
	reflect.TypeFor[quantity.Pressure](): quantity.DimPressure, reflect.TypeFor[quantity.Temperature](): quantity.DimTemperature,
	reflect.TypeFor[quantity.Difference](): quantity.DimDifference, reflect.TypeFor[quantity.Length](): quantity.DimLength,
	reflect.TypeFor[quantity.Volume](): quantity.DimVolume, reflect.TypeFor[quantity.Mass](): quantity.DimMass,
	reflect.TypeFor[quantity.Time](): quantity.DimTime, reflect.TypeFor[quantity.Flow](): quantity.DimFlow,
	reflect.TypeFor[quantity.Voltage](): quantity.DimVoltage, reflect.TypeFor[quantity.Current](): quantity.DimCurrent,
	reflect.TypeFor[quantity.Resistance](): quantity.DimResistance,
}

// exampleOf is how a type of package quantity is written.
func exampleOf(t reflect.Type) string {
	if dim, ok := dims[t]; ok {
		return dim.Example()
	}
	switch t {
	case reflect.TypeFor[quantity.Accuracy]():
		return `"10 % + 5 micron"`
	case reflect.TypeFor[quantity.Range]():
		return `"0 to 20000 micron"`
	}
	return `"1 micron"`
}
