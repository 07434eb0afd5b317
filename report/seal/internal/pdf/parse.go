package pdf

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
)

// maxDepth bounds nested arrays and dictionaries, so that a hostile file cannot
// exhaust the stack.
const maxDepth = 60

// parser reads objects at pos. It is strict: what it does not understand is an
// error, because two readers that guess differently see different documents.
type parser struct {
	data []byte
	pos  int
	// all is the whole file where data is cut short; nil where it is not.
	all []byte
	// length looks a stream's length up where it is an object of its own; nil
	// where that is not allowed.
	length func(Ref) Object
}

var errEnd = errors.New("the file ends inside an object")

func isSpace(c byte) bool {
	return c == ' ' || c == '\n' || c == '\r' || c == '\t' || c == '\f' || c == 0
}

func isDelimiter(c byte) bool { return bytes.IndexByte([]byte("()<>[]{}/%"), c) >= 0 }

// regular holds what isRegular answers, since it is asked for every letter of a name.
var regular = func() (t [256]bool) {
	for c := range t {
		t[c] = !isSpace(byte(c)) && !isDelimiter(byte(c))
	}
	return t
}()

func isRegular(c byte) bool { return regular[c] }

// skip passes over white space and comments.
func (p *parser) skip() {
	for p.pos < len(p.data) {
		c := p.data[p.pos]
		switch {
		case isSpace(c):
			p.pos++
		case c == '%':
			for p.pos < len(p.data) && p.data[p.pos] != '\n' && p.data[p.pos] != '\r' {
				p.pos++
			}
		default:
			return
		}
	}
}

func (p *parser) has(token string) bool { return bytes.HasPrefix(p.data[p.pos:], []byte(token)) }

// accept takes token when it is next.
func (p *parser) accept(token string) bool {
	if p.has(token) {
		p.pos += len(token)
		return true
	}
	return false
}

// word reads regular characters.
func (p *parser) word() string {
	start := p.pos
	for p.pos < len(p.data) && isRegular(p.data[p.pos]) {
		p.pos++
	}
	return string(p.data[start:p.pos])
}

// keyword takes a whole word after white space.
func (p *parser) keyword(want string) error {
	p.skip()
	if got := p.word(); got != want {
		return fmt.Errorf("offset %d: found %.20q, expected %q", p.pos, got, want)
	}
	return nil
}

// natural reads a number without sign or fraction after white space.
func (p *parser) natural() (int, error) {
	p.skip()
	w := p.word()
	n, err := strconv.ParseUint(w, 10, 31)
	if err != nil || len(w) > 10 {
		return 0, fmt.Errorf("offset %d: found %.20q, expected a whole number", p.pos, w)
	}
	return int(n), nil
}

func (p *parser) object(depth int) (Object, error) {
	p.skip()
	if p.pos >= len(p.data) {
		return nil, errEnd
	}
	if depth > maxDepth {
		return nil, fmt.Errorf("offset %d: objects are nested too deeply", p.pos)
	}
	switch c := p.data[p.pos]; {
	case p.accept("<<"):
		return p.dict(depth)
	case c == '<':
		return p.hexString()
	case c == '(':
		return p.literalString()
	case c == '[':
		p.pos++
		return p.array(depth)
	case c == '/':
		p.pos++
		return p.name()
	case c >= '0' && c <= '9' || c == '+' || c == '-' || c == '.':
		return p.number()
	}
	switch w := p.word(); w {
	case "true":
		return true, nil
	case "false":
		return false, nil
	case "null":
		return nil, nil
	default:
		return nil, fmt.Errorf("offset %d: found %.20q, expected an object", p.pos, w)
	}
}

func (p *parser) dict(depth int) (Object, error) {
	d := Dict{}
	seen := map[Name]bool{}
	for {
		p.skip()
		if p.accept(">>") {
			return d, nil
		}
		if !p.accept("/") {
			return nil, fmt.Errorf("offset %d: expected a name in a dictionary", p.pos)
		}
		key, err := p.name()
		if err != nil {
			return nil, err
		}
		if seen[key] {
			return nil, fmt.Errorf("offset %d: the key %q is there twice", p.pos, key)
		}
		seen[key] = true
		value, err := p.object(depth + 1)
		if err != nil {
			return nil, err
		}
		d = append(d, Entry{key, value})
	}
}

func (p *parser) array(depth int) (Object, error) {
	a := Array{}
	for {
		p.skip()
		if p.accept("]") {
			return a, nil
		}
		o, err := p.object(depth + 1)
		if err != nil {
			return nil, err
		}
		a = append(a, o)
	}
}

func (p *parser) name() (Name, error) {
	w := p.word()
	if !bytes.ContainsRune([]byte(w), '#') {
		return Name(w), nil
	}
	out := make([]byte, 0, len(w))
	for i := 0; i < len(w); i++ {
		if w[i] != '#' {
			out = append(out, w[i])
			continue
		}
		if i+2 >= len(w) {
			return "", fmt.Errorf("offset %d: bad name %.20q", p.pos, w)
		}
		c, err := strconv.ParseUint(w[i+1:i+3], 16, 8)
		if err != nil {
			return "", fmt.Errorf("offset %d: bad name %.20q", p.pos, w)
		}
		out = append(out, byte(c))
		i += 2
	}
	return Name(out), nil
}

// number reads a number, or a reference where two whole numbers and R follow.
func (p *parser) number() (Object, error) {
	w := p.word()
	if i, err := strconv.Atoi(w); err == nil {
		if ref, ok := p.reference(i); ok {
			return ref, nil
		}
		return i, nil
	}
	for i := range len(w) { // no exponents, no hex, no "Inf"
		if c := w[i]; (c < '0' || c > '9') && c != '.' && c != '-' && c != '+' {
			return nil, fmt.Errorf("offset %d: bad number %.20q", p.pos, w)
		}
	}
	f, err := strconv.ParseFloat(w, 64)
	if err != nil {
		return nil, fmt.Errorf("offset %d: bad number %.20q", p.pos, w)
	}
	return f, nil
}

func (p *parser) reference(num int) (Ref, bool) {
	start := p.pos
	if gen, err := p.natural(); err == nil && num > 0 {
		if p.keyword("R") == nil {
			return Ref{num, gen}, true
		}
	}
	p.pos = start
	return Ref{}, false
}
