package fault

import (
	"strings"
	"testing"
)

func TestExcerpt(t *testing.T) {
	long := strings.Repeat("x", 200) + "y" + strings.Repeat("z", 200)
	for _, c := range []struct {
		data      string
		line, col int
		want      string
	}{
		{"a = 1\nlimt = 2\r\n", 2, 1, "   2 | limt = 2\n     | ^\n"},
		{"\xef\xbb\xbfµ = 1", 1, 5, "   1 | µ = 1\n     |     ^\n"},
		{"a\tb\x1b[31m", 1, 3, "   1 | a b?[31m\n     |   ^\n"},
		{"a", 2, 1, ""},
		{"a", 0, 0, ""},
		{"a", 1, 0, "   1 | a\n"},
		{long, 1, 201, "   1 | …" + strings.Repeat("x", 50) + "y" + strings.Repeat("z", 38) + "…\n     | " + strings.Repeat(" ", 51) + "^\n"},
	} {
		if got := Excerpt([]byte(c.data), c.line, c.col); got != c.want {
			t.Errorf("%q:\n%s\nwant\n%s", c.data, got, c.want)
		}
	}
}
