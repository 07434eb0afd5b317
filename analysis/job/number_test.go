package job

import (
	"strings"
	"testing"
)

// NumberOf reads what is plain, and follows a hostile file no further than Decode does: such nesting once took 24 GB.
func TestNumberOf(t *testing.T) {
	for text, want := range map[string]string{
		"format = 1\n[job]\nnumber = \"A-1\"\n": "A-1", "[job]\nnumber = 3\n": "", "": "", "[job]\nnumber = \"A\nkind = 1": "",
		"x = " + strings.Repeat("{a=", 100000): "",
	} {
		if got := NumberOf(File{Data: []byte(text)}); got != want {
			t.Errorf("%.40q: %q", text, got)
		}
	}
}
