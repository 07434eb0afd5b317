package readings

import (
	"fmt"
	"regexp"
)

// How a header, a units line or a line above says that dates are written:
// "DD/MM/YYYY", "TT.MM.JJJJ", "JJ/MM/AAAA", "mm-dd-yy".
var patterns = []struct {
	order string
	form  *regexp.Regexp
}{
	{isoOrder, regexp.MustCompile(`(?i)\b(?:yy(?:yy)?|jj(?:jj)?|aa(?:aa)?)[/.-]m{1,2}[/.-][dtj]{1,2}\b`)},
	{dayFirst, regexp.MustCompile(`(?i)\b[dtj]{1,2}[/.-]m{1,3}[/.-](?:yy|jj|aa)`)},
	{monthFirst, regexp.MustCompile(`(?i)\bm{1,2}[/.-]d{1,2}[/.-]yy`)},
}

// patternOf is the order of a date that a text names.
func patternOf(s string) string {
	for _, p := range patterns {
		if p.form.MatchString(s) {
			return p.order
		}
	}
	return ""
}

// pattern finds the one order of day, month and year that the job states behind
// the header of the times, or that the rows above the readings name; order is
// empty where they name none, or several.
func (c *clock) pattern() (order, why string) {
	if order = patternOf(c.lay.stated[roleTime]); order != "" {
		return order, "stated in the job"
	}
	for i := range c.lay.first {
		for _, x := range c.t.row(i) {
			b := c.t.trimmed(x)
			for _, p := range patterns {
				m := p.form.Find(b[:min(len(b), longestHead)])
				switch {
				case m == nil:
				case order != "" && order != p.order:
					return "", ""
				default:
					order, why = p.order, fmt.Sprintf("row %d says %s", c.t.rows[i].number, m)
				}
			}
		}
	}
	return order, why
}
