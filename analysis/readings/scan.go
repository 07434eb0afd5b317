package readings

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"unicode/utf8"
)

// scanner walks over the tags of an XML document. It knows what workbooks need
// of XML 1.0 and refuses what is not well formed: tags must close in order, and
// a document type is not allowed.
type scanner struct {
	b     []byte
	i     int
	open  [][]byte // full names of the tags that are open
	name  []byte   // of the tag in work, without prefix
	attrs []byte   // its attributes, as written
	tag   tag
	done  bool // the root has closed
}

type tag uint8

const (
	tagEnd   tag = iota // </a>
	tagOpen             // <a>
	tagEmpty            // <a/>
	tagEOF
)

const maxDepth = 64

var (
	errXMLEnd  = errors.New("the XML ends too early")
	errXMLForm = errors.New("the XML is not well formed")
	errXMLType = errors.New("the XML has a document type, which workbooks never have")
)

// wellFormed checks a whole part.
func wellFormed(b []byte) error {
	s := newScanner(b)
	for {
		if _, err := s.next(); err != nil {
			return err
		}
		if s.tag == tagEOF {
			return nil
		}
	}
}

func newScanner(b []byte) *scanner { return &scanner{b: bytes.TrimPrefix(b, []byte("\xef\xbb\xbf"))} }

// next moves to the next tag and returns the text before it, as written, which
// holds any CDATA and comments between.
func (s *scanner) next() (before []byte, err error) {
	start := s.i
	for {
		j := bytes.IndexByte(s.b[s.i:], '<')
		if j < 0 {
			if !s.done || len(s.open) > 0 || len(trim(s.b[s.i:])) > 0 {
				return nil, errXMLEnd
			}
			s.tag, s.i = tagEOF, len(s.b)
			return nil, nil
		}
		s.i += j
		rest := s.b[s.i:]
		if len(rest) < 2 {
			return nil, errXMLEnd
		}
		if rest[1] != '!' && rest[1] != '?' {
			break
		}
		if err := s.aside(rest); err != nil {
			return nil, err
		}
	}
	before = s.b[start:s.i]
	if len(s.open) == 0 && len(trim(before)) > 0 && !bytes.HasPrefix(trim(before), []byte("<")) {
		return nil, errXMLForm
	}
	return before, s.readTag()
}

// aside skips a comment, a CDATA section or a processing instruction.
func (s *scanner) aside(rest []byte) error {
	for _, p := range [...]struct{ from, to string }{{"<!--", "-->"}, {"<![CDATA[", "]]>"}, {"<?", "?>"}} {
		if bytes.HasPrefix(rest, []byte(p.from)) {
			j := bytes.Index(rest[len(p.from):], []byte(p.to))
			if j < 0 {
				return errXMLEnd
			}
			s.i += len(p.from) + j + len(p.to)
			return nil
		}
	}
	return errXMLType
}

// readTag reads the tag at s.i.
func (s *scanner) readTag() error {
	b, i := s.b, s.i+1
	closing := b[i] == '/'
	if closing {
		i++
	}
	from, local := i, i
	for i < len(b) && b[i] > ' ' && b[i] != '>' && b[i] != '/' {
		if b[i] == ':' {
			local = i + 1
		}
		i++
	}
	full := b[from:i]
	s.name = b[local:i]
	if i >= len(b) {
		return errXMLEnd
	}
	if len(s.name) == 0 {
		return errXMLForm
	}
	at := i
	for i < len(b) && b[i] != '>' {
		if c := b[i]; c == '"' || c == '\'' {
			j := bytes.IndexByte(b[i+1:], c)
			if j < 0 {
				return errXMLEnd
			}
			i += j + 1
		} else if c == '<' {
			return errXMLForm
		}
		i++
	}
	if i >= len(b) {
		return errXMLEnd
	}
	s.i, s.attrs = i+1, b[at:i]
	switch {
	case closing:
		n := len(s.open)
		if n == 0 || !bytes.Equal(s.open[n-1], full) || len(trim(s.attrs)) > 0 {
			return fmt.Errorf("%w: a tag closes out of order", errXMLForm)
		}
		s.open = s.open[:n-1]
		s.tag, s.done = tagEnd, n == 1
		return nil
	case s.done:
		return errXMLForm
	}
	if n := len(s.attrs); n > 0 && s.attrs[n-1] == '/' {
		s.attrs, s.tag, s.done = s.attrs[:n-1], tagEmpty, len(s.open) == 0
		return nil
	}
	if len(s.open) >= maxDepth {
		return fmt.Errorf("%w: nested too deeply", errXMLForm)
	}
	s.open, s.tag = append(s.open, full), tagOpen
	return nil
}

// is compares the tag's name without its prefix.
func (s *scanner) is(name string) bool { return string(s.name) == name }

// skip moves behind the end of the tag that was just opened.
func (s *scanner) skip() error {
	if s.tag != tagOpen {
		return nil
	}
	for depth := len(s.open); len(s.open) >= depth; {
		if _, err := s.next(); err != nil {
			return err
		}
	}
	return nil
}

// attr is called for each attribute, with its name without prefix.
func eachAttr(b []byte, f func(name, value []byte)) error {
	for {
		b = trim(b)
		if len(b) == 0 {
			return nil
		}
		eq := bytes.IndexByte(b, '=')
		if eq < 1 {
			return errXMLForm
		}
		name := trim(b[:eq])
		b = trim(b[eq+1:])
		if len(b) < 2 || b[0] != '"' && b[0] != '\'' {
			return errXMLForm
		}
		end := bytes.IndexByte(b[1:], b[0])
		if end < 0 {
			return errXMLForm
		}
		f(name, b[1:1+end])
		b = b[end+2:]
	}
}

// plain reports text that needs no rewriting.
func plain(b []byte) bool {
	for _, c := range b {
		if c == '&' || c == '<' || c == '\r' || c == '_' {
			return false
		}
	}
	return true
}

// appendText appends text with entities, CDATA and the "_x000D_" escapes of
// workbooks (ECMA-376 part 1, 22.9.2.19) resolved.
func appendText(out, b []byte) ([]byte, error) {
	for len(b) > 0 {
		switch {
		case bytes.HasPrefix(b, []byte("<![CDATA[")):
			j := bytes.Index(b, []byte("]]>"))
			if j < 0 {
				return out, errXMLEnd
			}
			out, b = append(out, b[9:j]...), b[j+3:]
		case bytes.HasPrefix(b, []byte("<!--")):
			j := bytes.Index(b[4:], []byte("-->"))
			if j < 0 {
				return out, errXMLEnd
			}
			b = b[4+j+3:]
		case b[0] == '<': // a processing instruction
			j := bytes.IndexByte(b, '>')
			if j < 0 {
				return out, errXMLEnd
			}
			b = b[j+1:]
		case b[0] == '&':
			r, n := entity(b)
			if n == 0 {
				return out, fmt.Errorf("%w: an unknown entity", errXMLForm)
			}
			out, b = utf8.AppendRune(out, r), b[n:]
		case b[0] == '_' && len(b) >= 7 && b[1] == 'x' && b[6] == '_':
			v, err := strconv.ParseUint(string(b[2:6]), 16, 16)
			if err != nil {
				out, b = append(out, b[0]), b[1:]
				continue
			}
			out, b = utf8.AppendRune(out, rune(v)), b[7:]
		default:
			out, b = append(out, b[0]), b[1:]
		}
	}
	return out, nil
}

// entity reads one of the five named entities or a numeric one.
func entity(b []byte) (rune, int) {
	j := bytes.IndexByte(b[:min(len(b), 12)], ';')
	if j < 2 {
		return 0, 0
	}
	name := string(b[1:j])
	switch name {
	case "amp":
		return '&', j + 1
	case "lt":
		return '<', j + 1
	case "gt":
		return '>', j + 1
	case "quot":
		return '"', j + 1
	case "apos":
		return '\'', j + 1
	}
	if name[0] != '#' {
		return 0, 0
	}
	base, digits := 10, name[1:]
	if len(digits) > 1 && digits[0] == 'x' {
		base, digits = 16, digits[1:]
	}
	v, err := strconv.ParseUint(digits, base, 21)
	if err != nil || v == 0 || v > utf8.MaxRune {
		return 0, 0
	}
	return rune(v), j + 1
}
