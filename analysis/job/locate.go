package job

import (
	"fmt"
	"strings"
)

// span is where a key and its value stand, as byte offsets.
type span struct{ key, start, end int }

// locator finds the place of every key and value: the TOML library tells the
// place of its own complaints only. It follows TOML's outer grammar, is lenient
// about the rest, and gives the same paths as the walk: hold.start, instrument[1].id.
type locator struct {
	s      string
	i      int
	at     map[string]span
	counts map[string]int // of [[tables]] so far
	twice  map[int]int    // offset of a repeated key -> offset of the first
	keys   int            // keys and elements of lists so far
	excess int            // where the file leaves the bounds below, or -1
}

// maxDepth, maxKey (in bytes) and maxKeys bound what is followed. Far beyond any
// job file, they keep the TOML library from needing the square of a hostile file's size.
const (
	maxDepth = 32
	maxKey   = 256
	maxKeys  = 10000
)

func locate(s string) *locator {
	l := &locator{s: s, at: map[string]span{}, counts: map[string]int{}, twice: map[int]int{}, excess: -1}
	table := ""
	for l.skip(" \t\r\n"); l.i < len(s) && l.excess < 0; l.skip(" \t\r\n") {
		before := l.i
		if s[l.i] == '[' {
			table = l.header()
		} else {
			l.pair(table, 0)
		}
		l.line()
		if l.i == before {
			l.i++
		}
	}
	return l
}

// skip passes over the given characters and over comments.
func (l *locator) skip(chars string) {
	for l.i < len(l.s) {
		switch {
		case strings.IndexByte(chars, l.s[l.i]) >= 0:
			l.i++
		case l.s[l.i] == '#':
			l.line()
		default:
			return
		}
	}
}

// line goes to the end of the line.
func (l *locator) line() {
	if n := strings.IndexByte(l.s[l.i:], '\n'); n >= 0 {
		l.i += n
	} else {
		l.i = len(l.s)
	}
}

func (l *locator) header() string {
	start := l.i
	array := strings.HasPrefix(l.s[l.i:], "[[")
	l.i++
	if array {
		l.i++
	}
	parts := l.dotted()
	path := ""
	for k, part := range parts {
		path = join(path, part)
		n := l.counts[path]
		last := k == len(parts)-1
		if last && array {
			l.counts[path]++
			n++
		}
		if n > 0 {
			path = fmt.Sprintf("%s[%d]", path, n-1)
		}
	}
	l.line()
	l.put(path, span{start, start, l.i})
	return path
}

func (l *locator) put(path string, p span) {
	if first, ok := l.at[path]; ok {
		l.twice[p.key] = first.key
		return
	}
	l.at[path] = p
}

// enough counts one more key or element, and ends the search where there are too many.
func (l *locator) enough() bool {
	if l.keys++; l.keys > maxKeys && l.excess < 0 {
		l.excess, l.i = l.i, len(l.s)
	}
	return l.excess >= 0
}

// dotted reads a key such as a.b."c d".
func (l *locator) dotted() (parts []string) {
	begin := l.i
	for !l.enough() {
		l.skip(" \t")
		start := l.i
		if l.i < len(l.s) && (l.s[l.i] == '"' || l.s[l.i] == '\'') {
			l.text()
			parts = append(parts, strings.Trim(l.s[start:l.i], `"'`))
		} else {
			for l.i < len(l.s) && !strings.ContainsRune(" \t\r\n=.]},#", rune(l.s[l.i])) {
				l.i++
			}
			parts = append(parts, l.s[start:l.i])
		}
		if l.i-begin > maxKey || len(parts) > maxDepth {
			l.excess = begin
			l.i = len(l.s)
			return nil
		}
		l.skip(" \t")
		if l.i >= len(l.s) || l.s[l.i] != '.' {
			return parts
		}
		l.i++
	}
	return nil
}

// pair reads key = value.
func (l *locator) pair(table string, depth int) {
	start := l.i
	path, parts := table, l.dotted()
	for n, part := range parts {
		path = join(path, part)
		if _, known := l.at[path]; !known && n < len(parts)-1 {
			l.at[path] = span{start, start, l.i} // holt in holt.limit = ...
		}
	}
	if l.i >= len(l.s) || l.s[l.i] != '=' {
		return
	}
	l.i++
	l.skip(" \t")
	from := l.i
	l.value(path, depth)
	l.put(path, span{start, from, l.i})
}

func (l *locator) value(path string, depth int) {
	if l.i >= len(l.s) {
		return
	}
	switch c := l.s[l.i]; {
	case c == '"' || c == '\'':
		l.text()
	case (c == '[' || c == '{') && depth >= maxDepth:
		l.excess = l.i
		l.i = len(l.s)
	case c == '[' || c == '{':
		l.nested(path, c, depth+1)
	default:
		start := l.i
		for l.i < len(l.s) && strings.IndexByte(",]}\n#", l.s[l.i]) < 0 {
			l.i++
		}
		l.i = start + len(strings.TrimRight(l.s[start:l.i], " \t\r"))
	}
}

// nested reads an array or an inline table.
func (l *locator) nested(path string, open byte, depth int) {
	l.i++
	for n := 0; ; n++ {
		l.skip(" \t\r\n,")
		if l.i >= len(l.s) {
			return
		}
		before := l.i
		switch c := l.s[l.i]; {
		case c == ']' || c == '}':
			l.i++
			return
		case open == '{':
			l.pair(path, depth)
		case l.enough():
			return
		default:
			element := fmt.Sprintf("%s[%d]", path, n)
			l.value(element, depth)
			l.put(element, span{before, before, l.i})
		}
		if l.i == before {
			l.i++
		}
	}
}

// text reads a string of any of the four kinds; one that is not closed ends
// with its line.
func (l *locator) text() {
	quote := l.s[l.i : l.i+1]
	long := strings.Repeat(quote, 3)
	if strings.HasPrefix(l.s[l.i:], long) {
		quote = long
	}
	l.i += len(quote)
	for l.i < len(l.s) {
		switch {
		case strings.HasPrefix(l.s[l.i:], quote):
			l.i += len(quote)
			for len(quote) == 3 && l.i < len(l.s) && l.s[l.i] == quote[0] {
				l.i++ // a long text may end with one or two of its own marks
			}
			return
		case l.s[l.i] == '\\' && quote[0] == '"':
			l.i = min(l.i+2, len(l.s))
		case l.s[l.i] == '\n' && len(quote) == 1:
			return
		default:
			l.i++
		}
	}
}

func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}
