package job

import (
	"bytes"
	"fmt"
	"strings"
	"testing"
)

func TestEncoding(t *testing.T) {
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"mark":   {[]byte("\xef\xbb\xbf" + good), ""},
		"crlf":   {[]byte(strings.ReplaceAll(good, "\n", "\r\n")), ""},
		"cr":     {[]byte(strings.ReplaceAll(good, "\n", "\r")), "job.toml:1:11: lines that end with a carriage return alone"},
		"latin1": {[]byte("format = 1\n# caf\xe9"), "job.toml:2:6: bytes that are not UTF-8 text; expected a text file in UTF-8"},
		"utf16":  {[]byte("\xff\xfef\x00o\x00"), "job.toml:1:1: bytes that are not UTF-8 text; expected a text file in UTF-8"},
		"large":  {make([]byte, MaxFile+1), "job.toml: 1048577 bytes; expected a job file of at most 1 MiB"},
	} {
		_, faults := Decode(File{"job.toml", c.data}, nil, nil)
		if c.want == "" && len(faults) > 0 || c.want != "" && (len(faults) == 0 || !strings.Contains(faults.Error(), c.want)) {
			t.Errorf("%s: %v, want %q", name, faults, c.want)
		}
	}
}

// TestHarmful: files made to waste time or memory end, with few faults. A square
// of their size would be seen as a test that does not end.
func TestHarmful(t *testing.T) {
	const n = MaxFile / 8
	for name, text := range map[string]string{
		"deep arrays":  "a = " + strings.Repeat("[", n-10),
		"deep tables":  "a = " + strings.Repeat("{a=", n/3-10),
		"dotted key":   strings.Repeat("a.", n/2-10) + "a = 1",
		"quoted key":   "x = {" + strings.Repeat(`"".`, n/3-10) + "a = 1}",
		"long table":   "[" + strings.Repeat("a", n/2) + "]\n" + strings.Repeat("b=1\n", n/8-10),
		"long key":     "x = {" + strings.Repeat("a", n/2) + " = [" + strings.Repeat("1,", n/8) + "]}",
		"many tables":  strings.Repeat("[[readings]]\ninstrument = \"x\"\n[[instrument]]\nid=\"y\"\n", n/52),
		"many keys":    strings.Repeat("[job]\na=1\n", n/11),
		"no lines":     strings.Repeat("a", n-1),
		"empty lines":  strings.Repeat("\n", n-1),
		"open text":    "a = \"\"\"" + strings.Repeat("\n", n-10),
		"list":         "a = [" + strings.Repeat("1,", n/2-10) + "1]",
		"keys":         numbered("k%d = 1\n", n/16),
		"tables":       numbered("[[readings]]\nid = \"r%d\"\n", n/32),
		"wrong lines":  strings.Repeat("a b\n", n/4-1),
		"wrong values": strings.Repeat("a = b\n", n/6-1),
	} {
		if _, faults := decode(text); len(faults) == 0 || len(faults) > maxTold {
			t.Errorf("%s: %d faults", name, len(faults))
		}
	}
	for name, text := range map[string]string{"keys": numbered("k%d = 1\n", maxKeys+1), "elements": "a = [" + strings.Repeat("1, ", maxKeys+1) + "]"} {
		if _, faults := decode(text); len(faults) != 1 || !strings.Contains(faults[0].Found, "more than 10000") {
			t.Errorf("more than %d %s were followed", maxKeys, name)
		}
	}
}

func numbered(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

func TestGlyph(t *testing.T) {
	_, faults := Decode(File{"job.toml", []byte(strings.Replace(good, "Example", "Ex\u2007ample", 1))}, nil, func(r rune) bool { return r != '\u2007' })
	if len(faults) != 1 || faults[0].Line != 10 || faults[0].Column != 11 {
		t.Error(faults)
	}
}

func FuzzDecode(f *testing.F) {
	f.Add([]byte(good), []byte("key = \"x\"\n[hold]\nlimit = \"5 Pa\""))
	f.Add([]byte("[a\nb = [1, {c = \"\"\"\n"), []byte("a.b = 1\na = 2"))
	f.Add([]byte("[[job]]\n[job.number.x]\nreadings = [[{}]]\n[[hold.start]]"), []byte("instrument = [1, {id = \"a\"}]"))
	f.Fuzz(func(t *testing.T, data, company []byte) {
		j, faults := Decode(File{"job.toml", data}, &File{"company.toml", company}, func(r rune) bool { return r < 0x250 })
		for _, x := range faults {
			_ = x.Error()
			source := data
			if x.File == "company.toml" {
				source = company
			}
			if x.Line > bytes.Count(source, []byte("\n"))+1 {
				t.Errorf("no line %d", x.Line)
			}
		}
		j.Atmosphere()
	})
}
