package form

import (
	"fmt"
	"regexp"
	"strings"

	"dryhold/analysis/fault"
)

// moved tells a fault of the job file, or of a recording, in the words of the
// form: its cell instead of a line, its labels instead of keys.
func (r *reader) moved(f fault.Fault) fault.Fault {
	key, here := f.Key, where{}
	if f.File == jobName {
		here = r.w.cell(f)
		f.File, f.Sheet, f.Cell, f.Line, f.Column = r.name, here.sheet, here.cell, 0, 0
	}
	if f.Code == "required" {
		f.Expected, f.Mend = strings.TrimPrefix(f.Expected, "a value"), "fill this cell"
	}
	f.Mend = strings.ReplaceAll(f.Mend, "delete the line", "leave the cell empty")
	t := translator{r, here, r.w.rowOf(f.File), parent(key)}
	f.Found, f.Expected, f.Mend = t.names(f.Found), t.names(t.pairs(f.Expected)), t.names(t.pairs(f.Mend))
	if t.cell(key) != (where{}) || here != (where{}) && key != "" {
		f.Key = called(key)
	}
	return f
}

// translator writes the lines that a mend would have in the job file as cells.
type translator struct {
	r     *reader
	here  where            // the cell that the fault is told at
	row   map[string]where // the cells of the recording that it is about
	table string           // that a key without one belongs to
}

var (
	pair    = regexp.MustCompile(`(?:\[\[?([a-z_.]+)\]\]?\s*)?\b([a-z_]+) = ("(?:[^"\\]|\\.)*"|[^\s",;)]+)`)
	dotted  = regexp.MustCompile(`\b[a-z_]+(?:\.[a-z_]+)+\b`)
	bracket = regexp.MustCompile(`( under)?( ?)\[\[?([a-z_.]+)\]\]?`)
)

// pairs turns key = value into the value, and the cell where that is another one.
func (t *translator) pairs(text string) string {
	return pair.ReplaceAllStringFunc(text, func(s string) string {
		m := pair.FindStringSubmatch(s)
		if m[1] != "" {
			t.table = m[1]
		}
		value := strings.ReplaceAll(strings.Trim(m[3], `"`), `\"`, `"`)
		path := strings.TrimPrefix(t.table+"."+m[2], ".")
		switch at := t.cell(path); at {
		case where{}:
			return s
		case t.here:
			return value
		default:
			return fmt.Sprintf("%s in cell %s of the sheet %s (%s)", value, at.cell, at.sheet, called(path))
		}
	})
}

// cell is where a key stands on the form, the zero value for nowhere.
func (t *translator) cell(path string) where {
	if at, ok := t.row[path]; ok {
		return at
	}
	return t.r.w.places[path]
}

// names puts the form's own name and its sheets in the place of the job file's.
func (t *translator) names(text string) string {
	text = strings.ReplaceAll(text, jobName, t.r.name)
	text = dotted.ReplaceAllStringFunc(text, func(s string) string {
		if t.cell(s) == (where{}) {
			return s
		}
		return fmt.Sprintf("%q", called(s))
	})
	return bracket.ReplaceAllStringFunc(text, func(s string) string {
		m := bracket.FindStringSubmatch(s)
		title := titleOf(m[3])
		switch {
		case title == "":
			return s
		case m[1] != "":
			return ""
		}
		return m[2] + title
	})
}

// titleOf is what a table of the job file is called on the form, "" for none.
func titleOf(table string) string {
	for _, s := range sections {
		if s.table == table {
			return fmt.Sprintf("%q on the sheet %s", s.title, mainSheet)
		}
	}
	if sheet := sheetOf(table); sheet != "" {
		return "the sheet " + sheet
	}
	return ""
}

func parent(path string) string {
	if i := strings.LastIndexByte(path, '.'); i >= 0 {
		return path[:i]
	}
	return ""
}
