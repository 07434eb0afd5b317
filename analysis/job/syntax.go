package job

import (
	"fmt"
	"regexp"
	"strings"
	"time"

	"github.com/BurntSushi/toml"

	"dryhold/analysis/fault"
)

// syntax tells one complaint of the TOML library in the words of the office;
// from is the first line concerned, counted from 0.
func (s *source) syntax(pe toml.ParseError, from int) {
	line := s.line(from)
	offset := s.starts[from] + indent(line)
	f := fault.Fault{Code: "syntax", Key: s.keyAt(from)}
	if first, ok := s.places.twice[offset]; ok {
		n, _ := s.position(first)
		f.Code, f.Found = "duplicate-key", fmt.Sprintf("given twice, first in line %d", n)
		f.Expected, f.Mend = "each key once", "delete one of the two lines"
		if header.MatchString(line) {
			f.Expected, f.Mend = "each table once", fmt.Sprintf("move the lines below it to the first, in line %d, and delete this one", n)
		}
		s.add(offset, f)
		return
	}
	if pe.Position.Line-1 == from && pe.Position.Col > 1 {
		offset = min(s.starts[from]+pe.Position.Col-1, s.starts[from]+len(line))
	}
	explain(&f, line, pe)
	s.add(offset, f)
}

var (
	assignment = regexp.MustCompile(`^\s*([A-Za-z0-9_.-]+)\s*=\s*(.*?)\s*$`)
	curly      = regexp.MustCompile("[“”„«»‘’]")
)

var header = regexp.MustCompile(`^\s*\[\[?\s*([A-Za-z0-9_.-]+)\s*\]`)

// keyAt is the key of a line with the table that it stands in.
func (s *source) keyAt(line int) string {
	key := ""
	if m := assignment.FindStringSubmatch(s.line(line)); m != nil {
		key = m[1]
	}
	for ; line >= 0; line-- {
		if m := header.FindStringSubmatch(s.line(line)); m != nil && key == "" {
			return m[1]
		} else if m != nil {
			return join(m[1], key)
		}
	}
	return key
}

// explain fills what was found, what was expected and the line to write.
func explain(f *fault.Fault, line string, pe toml.ParseError) {
	key, value := "", ""
	if m := assignment.FindStringSubmatch(line); m != nil {
		key, value = m[1], m[2]
	}
	quoted := strings.HasPrefix(value, `"`)
	switch {
	case key != "" && quoted && strings.Contains(value, `\`):
		f.Code, f.Found, f.Expected = "backslash", `a backslash; between double quotes it does not stand for itself`, "/ between folder and file, on Windows too"
		f.Mend = "write " + key + " = " + forward(value)
	case curly.MatchString(value):
		f.Found, f.Expected = "typographic quotation marks", `straight ones (")`
		f.Mend = "write " + key + " = " + curly.ReplaceAllString(value, `"`)
	case key != "" && value == "":
		f.Found, f.Expected, f.Mend = "no value", "a value behind =", "write a value or delete the line"
	case key != "" && quoted && strings.Count(value, `"`) == 1:
		f.Found, f.Expected, f.Mend = "a text without its closing quotation mark", `" at the end`, "write "+key+" = "+value+`"`
	case key != "" && quoted && strings.Count(value, `"`) > 2 && strings.HasSuffix(value, `"`) && !strings.Contains(value, "'"):
		f.Found, f.Expected = "quotation marks inside a text", "apostrophes around the whole"
		f.Mend = fmt.Sprintf("write %s = '%s'", key, value[1:len(value)-1])
	case strings.HasPrefix(value, "[") && strings.Count(value, "[") > strings.Count(value, "]"):
		f.Found, f.Expected, f.Mend = "a list that is not closed", "] behind its last element", `write for example `+key+` = ["one", "two"]`
	case key != "" && strings.IndexAny(value, "\"'[{") != 0:
		text, _, _ := strings.Cut(value, "#")
		text = strings.TrimSpace(text)
		f.Found, f.Expected = text+", which is neither a number, a date nor a text between quotation marks", "texts and quantities between quotation marks"
		f.Mend = fmt.Sprintf("write %s = %q", key, text)
		if calendar.MatchString(text) {
			f.Found, f.Expected, f.Mend = text+", which no calendar or clock has", "a day and a time that there were", "correct it"
			return
		}
		layout := time.DateOnly
		if strings.Contains(text, ":") {
			layout = instant
		}
		if lines := meant(key, text, layout); lines != "" {
			f.Expected, f.Mend = "a date with the year first, or a date and a time with T between them", lines
		}
	case key == "" && !strings.HasPrefix(strings.TrimSpace(line), "["):
		f.Found, f.Expected, f.Mend = "a line that is not key = value", `key = "value", [table] or a comment that starts with #`, "put # before a remark"
	default:
		f.Found = strings.TrimSuffix(lowerFirst(pe.Message), ".")
		f.Expected, f.Mend = `a line such as key = "value"`, "write it so, or put # before a remark"
	}
}

// calendar is the shape of a date, with or without a time.
var calendar = regexp.MustCompile(`^\d{4}-\d\d-\d\d([T ]\d\d:\d\d(:\d\d(\.\d+)?)?)?$`)

var backslashes = regexp.MustCompile(`\\+`)

// forward writes a Windows path with slashes.
func forward(path string) string { return backslashes.ReplaceAllString(path, "/") }

func lowerFirst(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}
