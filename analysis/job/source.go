package job

import (
	"bytes"
	"fmt"
	"regexp"
	"sort"
	"strings"
	"unicode/utf8"

	"github.com/BurntSushi/toml"

	"dryhold/analysis/fault"
)

// MaxFile is the greatest size of a job file in bytes; real ones have a few kilobytes.
const MaxFile = 1 << 20

// maxFaults bounds how many syntax faults of one file are told.
const maxFaults = 50

// source is one TOML file: its tree and the place of everything in it.
type source struct {
	name   string
	text   string
	starts []int // offset of each line
	places *locator
	tree   map[string]any
	faults fault.List
	parsed bool // false: nothing in it can be told, so nothing is missing either
}

// open parses a file. After a syntax fault the lines concerned are blanked and
// the rest is parsed again, so that all faults come at once.
func open(f File) *source {
	s := &source{name: f.Name, tree: map[string]any{}}
	if len(f.Data) > MaxFile {
		s.setText("")
		s.faults = fault.List{{Code: "size", File: f.Name, Found: fmt.Sprintf("%d bytes", len(f.Data)),
			Expected: "a job file of at most 1 MiB", Mend: "name the right file; recordings belong in [[readings]]"}}
		return s
	}
	data := bytes.TrimPrefix(f.Data, []byte("\xef\xbb\xbf"))
	s.setText(string(data))
	if at := badEncoding(data); at >= 0 {
		s.add(at, fault.Fault{Code: "encoding", Found: "bytes that are not UTF-8 text",
			Expected: "a text file in UTF-8", Mend: `in the editor choose "save as", encoding UTF-8`})
		return s
	}
	if at := bytes.IndexByte(data, '\r'); at >= 0 && !bytes.Contains(data, []byte("\n")) {
		s.add(at, fault.Fault{Code: "encoding", Found: "lines that end with a carriage return alone",
			Expected: "lines that end as on Windows, Linux or macOS", Mend: `in the editor choose "save as" with other line ends`})
		return s
	}
	s.parsed = s.parse()
	return s
}

func (s *source) setText(text string) {
	s.text, s.starts = text, []int{0}
	for i := range len(text) {
		if text[i] == '\n' {
			s.starts = append(s.starts, i+1)
		}
	}
	s.places = locate(text)
}

// badEncoding is the offset of the first byte that is not UTF-8 text, or -1.
func badEncoding(data []byte) int {
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == 0 || r == utf8.RuneError && n == 1 {
			return i
		}
		i += n
	}
	return -1
}

// parse fills tree; false where there were too many syntax faults to go on.
func (s *source) parse() (ok bool) {
	original := s.text
	last := -1
	for range maxFaults {
		tree := map[string]any{}
		if at := s.places.excess; at >= 0 {
			s.add(at, fault.Fault{Code: "syntax", Expected: "a job file", Mend: "see whether this is the right file",
				Found: fmt.Sprintf("more than %d keys or elements of lists, a key of more than %d characters, or more than %d tables or arrays in one another", maxKeys, maxKey, maxDepth)})
			return false
		}
		var pe toml.ParseError
		if pe, ok = decodeTOML(s.text, &tree); ok {
			s.tree = tree
			break
		}
		from, to := s.extent(pe)
		if from != last+1 || last < 0 || startsKey(s.line(from)) {
			s.syntax(pe, from)
		}
		last = to
		s.blank(from, to)
	}
	if s.text != original {
		blanked := s.places
		s.setText(original)
		s.places.at = blanked.at // without the faulty lines: paths as the tree has them
	}
	return ok
}

// decodeTOML turns also a panic of the library into a fault.
func decodeTOML(text string, tree *map[string]any) (pe toml.ParseError, ok bool) {
	defer func() {
		if r := recover(); r != nil {
			pe, ok = toml.ParseError{Message: "this cannot be read as TOML", Position: toml.Position{Line: 1, Col: 1}}, false
		}
	}()
	_, err := toml.Decode(text, tree)
	if err == nil {
		return pe, true
	}
	if p, is := err.(toml.ParseError); is {
		return p, false
	}
	return toml.ParseError{Message: err.Error(), Position: toml.Position{Line: 1, Col: 1}}, false
}

var keyLine = regexp.MustCompile(`^\s*(\[|[A-Za-z0-9_."'-]+\s*=)`)

func startsKey(line string) bool { return keyLine.MatchString(line) }

func (s *source) line(i int) string {
	if i < 0 || i >= len(s.starts) {
		return ""
	}
	end := len(s.text)
	if i+1 < len(s.starts) {
		end = s.starts[i+1]
	}
	return strings.TrimRight(s.text[s.starts[i]:end], "\r\n")
}

// extent gives the lines (from 0) that a syntax fault concerns: its own, or,
// where an array or a text was not closed, from its key to the line before.
func (s *source) extent(pe toml.ParseError) (from, to int) {
	at := min(max(pe.Position.Line-1, 0), len(s.starts)-1)
	for at > 0 && strings.TrimSpace(s.line(at)) == "" {
		at--
	}
	if strings.HasPrefix(strings.TrimSpace(s.line(at)), "[") {
		return at, s.section(at) // its keys would count as the table's before
	}
	if _, twice := s.places.twice[s.starts[at]+indent(s.line(at))]; twice {
		return at, at
	}
	key := pe.LastKey[strings.LastIndexByte(pe.LastKey, '.')+1:]
	if key == "" || valueOf(s.line(at), key) != "" {
		return at, at
	}
	for k := at - 1; k >= 0; k-- {
		if v := valueOf(s.line(k), key); v != "" {
			if v[0] != '[' && v[0] != '{' && !strings.HasPrefix(v, `"""`) && !strings.HasPrefix(v, "'''") {
				break
			}
			if startsKey(s.line(at)) {
				at--
			}
			return k, at
		}
	}
	return at, at
}

// section is the last line under a table's header.
func (s *source) section(at int) int {
	for at+1 < len(s.starts) && !header.MatchString(s.line(at+1)) {
		at++
	}
	return at
}

func indent(line string) int { return len(line) - len(strings.TrimLeft(line, " \t")) }

// valueOf is what stands behind "key =" in a line, or "".
func valueOf(line, key string) string {
	k, v, ok := strings.Cut(line, "=")
	if !ok || strings.Trim(k, " \t\"'") != key && !strings.HasSuffix(strings.TrimSpace(k), "."+key) {
		return ""
	}
	return strings.TrimSpace(v)
}

// blank empties lines, keeping all offsets of the others.
func (s *source) blank(from, to int) {
	b := []byte(s.text)
	end := len(b)
	if to+1 < len(s.starts) {
		end = s.starts[to+1]
	}
	for i := s.starts[from]; i < end; i++ {
		if b[i] != '\n' {
			b[i] = ' '
		}
	}
	s.setText(string(b))
}

// position gives line and column (in characters), both from 1.
func (s *source) position(offset int) (line, column int) {
	line = sort.SearchInts(s.starts, offset+1)
	start := s.starts[line-1]
	return line, utf8.RuneCountInString(s.text[start:min(offset, len(s.text))]) + 1
}

func (s *source) add(offset int, f fault.Fault) {
	f.File = s.name
	f.Line, f.Column = s.position(offset)
	s.faults = append(s.faults, f)
}
