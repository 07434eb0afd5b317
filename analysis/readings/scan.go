package readings

import (
	"bytes"
	"errors"
	"fmt"
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

func newScanner(b []byte) *scanner { return &scanner{b: bytes.TrimPrefix(b, byteOrderMark)} }

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
