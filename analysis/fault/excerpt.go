package fault

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"
)

// Excerpt shows a line of a text file with a caret below the column (both from
// 1, columns in characters), or "" where there is no such line:
//
//	12 | limt = "500 micron"
//	   | ^
//
// A long line is cut to what stands around the column.
func Excerpt(data []byte, line, col int) string {
	lines := bytes.Split(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), []byte("\n"))
	if line < 1 || line > len(lines) {
		return ""
	}
	text := []rune(strings.Map(printable, strings.ToValidUTF8(strings.TrimRight(string(lines[line-1]), "\r"), "?")))
	const before, width = 50, 90
	at := min(max(col-1, 0), len(text))
	if from := at - before; from > 0 && len(text) > width {
		text, at = append([]rune("…"), text[from:]...), before+1
	}
	if len(text) > width {
		text = append(text[:width:width], '…')
	}
	head := fmt.Sprintf("%4d | ", line)
	s := head + string(text) + "\n"
	if col > 0 {
		s += strings.Repeat(" ", utf8.RuneCountInString(head)-2) + "| " + strings.Repeat(" ", at) + "^\n"
	}
	return s
}

// printable keeps a terminal from being steered by what a file holds.
func printable(r rune) rune {
	if r == '\t' {
		return ' '
	}
	if r < 0x20 || r >= 0x7f && r < 0xa0 || r == '\u202e' || r == '\u2066' || r == '\u2067' {
		return '?'
	}
	return r
}
