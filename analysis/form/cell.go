package form

import (
	"cmp"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"github.com/xuri/excelize/v2"

	"dryhold/analysis/job"
)

var (
	dayText     = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)
	instantText = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}[T ]\d{2}:\d{2}(:\d{2}(\.\d+)?)?([+-]\d{2}:\d{2}|Z)?$`)
	rounded     = regexp.MustCompile(`^-?\d(\.\d+)?E\+\d+$`)
)

// value is a cell as TOML, "" for an empty one or one with a fault.
func (r *reader) value(sheet, cell string, k job.Key, unit string) string {
	shown, _ := r.f.GetCellValue(sheet, cell)
	shown = strings.TrimSpace(shown)
	if r.noResult(sheet, cell, shown) {
		r.add(sheet, cell, k.Path, "a formula without a result", "a value")
		r.faults[len(r.faults)-1].Code = "formula"
		r.mend("the value itself into the cell")
		return ""
	}
	if shown == "" {
		return ""
	}
	switch k.Kind {
	case job.Day:
		day := r.date(sheet, cell, k, dayText, time.DateOnly, "a date, or a text such as "+r.day)
		if k.Path == "job.date" && day != "" {
			r.day = day
		}
		return day
	case job.Instant:
		return r.date(sheet, cell, k, instantText, "2006-01-02T15:04:05", "a date with a time, or a text such as "+r.day+" 13:05:00")
	case job.YesNo:
		return r.yesNo(sheet, cell, shown, k)
	case job.Number:
		number, ok := r.number(sheet, cell)
		if !ok {
			r.add(sheet, cell, k.Path, fmt.Sprintf("%q", shown), "a number")
			r.mend(cmp.Or(plain(shown), "it in digits, without a unit"))
			return ""
		}
		return number
	case job.Quantity:
		return r.quantity(sheet, cell, shown, k, unit)
	case job.List:
		if strings.Contains(shown, ";") {
			return quoteAll(strings.Split(shown, ";"))
		}
	}
	for _, w := range k.Words {
		if strings.EqualFold(w, shown) {
			return quote(w)
		}
	}
	if r.isNumber(sheet, cell) && rounded.MatchString(shown) {
		r.add(sheet, cell, k.Path, shown+", a number that the spreadsheet has rounded", "a text")
		r.faults[len(r.faults)-1].Mend = "format the cell as text and type it again"
		return ""
	}
	return quote(shown)
}

func (r *reader) yesNo(sheet, cell, shown string, k job.Key) string {
	switch strings.ToLower(shown) {
	case "yes", "y", "true", "1":
		return "true"
	case "no", "n", "false", "0":
		return "false"
	}
	r.add(sheet, cell, k.Path, fmt.Sprintf("%q", shown), "yes or no")
	r.mend("yes or no, or leave the cell empty")
	return ""
}

// noResult reports whether a cell's formula has no result that is stored, or an
// error such as #REF!.
func (r *reader) noResult(sheet, cell, shown string) bool {
	if t, err := r.f.GetCellType(sheet, cell); err == nil && t == excelize.CellTypeError {
		return true
	}
	if shown != "" {
		return false
	}
	formula, err := r.f.GetCellFormula(sheet, cell)
	return err == nil && formula != ""
}

// mend adds what to write instead to the last fault, where that is known.
func (r *reader) mend(instead string) {
	if instead != "" {
		r.faults[len(r.faults)-1].Mend = "write " + instead
	}
}

// plain is a number with a decimal comma as one with a point, "" for none.
func plain(s string) string {
	s = strings.Replace(s, ",", ".", 1)
	if _, err := strconv.ParseFloat(s, 64); err != nil {
		return ""
	}
	return s
}

func (r *reader) raw(sheet, cell string) string {
	s, _ := r.f.GetCellValue(sheet, cell, excelize.Options{RawCellValue: true})
	return strings.TrimSpace(s)
}

// isNumber reports whether a cell holds a number and not a text.
func (r *reader) isNumber(sheet, cell string) bool {
	t, err := r.f.GetCellType(sheet, cell)
	return err == nil && t != excelize.CellTypeSharedString && t != excelize.CellTypeInlineString && t != excelize.CellTypeBool
}

// number is a cell's number with the digits that a spreadsheet keeps, 15.
func (r *reader) number(sheet, cell string) (string, bool) {
	x, err := strconv.ParseFloat(r.raw(sheet, cell), 64)
	s := strconv.FormatFloat(x, 'f', -1, 64)
	if r.isNumber(sheet, cell) {
		s = strconv.FormatFloat(x, 'g', 15, 64)
		if !strings.ContainsAny(s, "e") {
			x, _ = strconv.ParseFloat(s, 64)
			s = strconv.FormatFloat(x, 'f', -1, 64)
		}
	}
	return s, err == nil && !strings.ContainsAny(s, "NI")
}

// date reads a date cell, or a text that can be read in one way: 04/09/2031 would
// be April to one reader and September to another.
func (r *reader) date(sheet, cell string, k job.Key, form *regexp.Regexp, layout, expected string) string {
	raw := r.raw(sheet, cell)
	if form.MatchString(raw) {
		return strings.Replace(raw, " ", "T", 1)
	}
	example := "year, month and day, as in " + r.day
	if layout != time.DateOnly {
		example = "year, month, day and time, as in " + r.day + " 13:05:00"
	}
	refuse := func() string {
		r.add(sheet, cell, k.Path, fmt.Sprintf("%q", raw), expected)
		r.mend(cmp.Or(strings.Join(job.Days(raw, layout), " or "), example))
		return ""
	}
	if ways := job.Days(raw, layout); len(ways) == 1 {
		return ways[0]
	}
	serial, err := strconv.ParseFloat(raw, 64)
	if clock := timeOfDay(serial); err == nil && clock != "" {
		r.add(sheet, cell, k.Path, "the time of day "+clock+" without a date", expected)
		r.mend(strings.Replace(example, "13:05:00", clock, 1))
		return ""
	}
	if err != nil || serial < 30000 || serial > 100000 {
		return refuse()
	}
	props, _ := r.f.GetWorkbookProps()
	t, err := excelize.ExcelDateToTime(serial, props.Date1904 != nil && *props.Date1904)
	if err != nil {
		return refuse()
	}
	return t.Round(time.Second).Format(layout)
}

// timeOfDay is what a spreadsheet shows of a time that is typed without a date:
// a part of a day; "" for any other number.
func timeOfDay(serial float64) string {
	if serial <= 0 || serial >= 1 {
		return ""
	}
	return time.Time{}.Add(time.Duration(serial * float64(24*time.Hour))).Round(time.Second).Format(time.TimeOnly)
}

// quantity joins a number with the unit beside it; a text that has its own unit
// stays as it is.
func (r *reader) quantity(sheet, cell, shown string, k job.Key, unit string) string {
	if r.isNumber(sheet, cell) {
		shown, _ = r.number(sheet, cell)
	}
	parts := []string{shown}
	if k.Many {
		parts = quantities(shown)
	}
	for i, p := range parts {
		p = strings.TrimSpace(p)
		if _, err := strconv.ParseFloat(fraction(p), 64); err == nil && unit != "" {
			p += " " + unit
		}
		parts[i] = p
	}
	if k.Many {
		return quoteAll(parts)
	}
	return quote(parts[0])
}

// quantities parts several in one cell: at semicolons, or where there are none at
// commas with a blank behind them, which are no decimal commas.
func quantities(s string) []string {
	if !strings.Contains(s, ";") {
		return strings.Split(s, ", ")
	}
	return strings.Split(s, ";")
}

// fraction makes 3/8 look like a number.
func fraction(s string) string { return strings.Replace(s, "/", "", 1) }

func quoteAll(texts []string) string {
	var out []string
	for _, t := range texts {
		if t = strings.TrimSpace(t); t != "" {
			out = append(out, quote(t))
		}
	}
	return "[" + strings.Join(out, ", ") + "]"
}

// quote writes a TOML basic string.
func quote(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, c := range s {
		switch {
		case c == '"' || c == '\\':
			b.WriteRune('\\')
			b.WriteRune(c)
		case c == '\n':
			b.WriteString(`\n`)
		case c < 0x20 || c == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, c)
		default:
			b.WriteRune(c)
		}
	}
	b.WriteByte('"')
	return b.String()
}
