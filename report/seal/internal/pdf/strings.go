package pdf

import (
	"encoding/hex"
	"fmt"
	"strings"
	"unicode/utf16"
)

func (p *parser) hexString() (Object, error) {
	p.pos++
	out := []byte{}
	half, odd := byte(0), false
	for ; p.pos < len(p.data); p.pos++ {
		c := p.data[p.pos]
		if c == '>' {
			p.pos++
			if odd {
				out = append(out, half<<4)
			}
			return String(out), nil
		}
		if isSpace(c) {
			continue
		}
		v := strings.IndexByte("0123456789abcdef", c|0x20)
		if v < 0 || c < '0' {
			return nil, fmt.Errorf("offset %d: bad hexadecimal string", p.pos)
		}
		if odd {
			out = append(out, half<<4|byte(v))
		}
		half, odd = byte(v), !odd
	}
	return nil, errEnd
}

func (p *parser) literalString() (Object, error) {
	p.pos++
	var out []byte
	for open := 1; p.pos < len(p.data); {
		c := p.data[p.pos]
		p.pos++
		switch c {
		case '(':
			open++
		case ')':
			if open--; open == 0 {
				return String(out), nil
			}
		case '\\':
			out = p.escape(out)
			continue
		case '\r': // an end of line of any kind counts as one line feed
			p.accept("\n")
			c = '\n'
		}
		out = append(out, c)
	}
	return nil, errEnd
}

// escape reads what follows a backslash.
func (p *parser) escape(out []byte) []byte {
	if p.pos >= len(p.data) {
		return out
	}
	c := p.data[p.pos]
	p.pos++
	switch {
	case c == '\n':
		return out
	case c == '\r':
		p.accept("\n")
		return out
	case c >= '0' && c <= '7':
		v := int(c - '0')
		for i := 0; i < 2 && p.pos < len(p.data) && p.data[p.pos] >= '0' && p.data[p.pos] <= '7'; i++ {
			v = v<<3 | int(p.data[p.pos]-'0')
			p.pos++
		}
		return append(out, byte(v))
	}
	if i := strings.IndexByte("nrtbf", c); i >= 0 {
		c = "\n\r\t\b\f"[i]
	}
	return append(out, c)
}

// Text encodes a text string (ISO 32000-1, 7.9.2.2): plain where it is ASCII,
// else UTF-16 with a byte order mark.
func Text(s string) String {
	ascii := true
	for _, r := range s {
		ascii = ascii && r >= ' ' && r <= '~'
	}
	if ascii {
		return String(s)
	}
	out := []byte{0xFE, 0xFF}
	for _, u := range utf16.Encode([]rune(s)) {
		out = append(out, byte(u>>8), byte(u))
	}
	return String(out)
}

// Decode gives the text of a text string that Text wrote.
func (s String) Decode() string {
	if !strings.HasPrefix(string(s), "\xFE\xFF") {
		return string(s)
	}
	units := make([]uint16, 0, len(s)/2)
	for i := 2; i+1 < len(s); i += 2 {
		units = append(units, uint16(s[i])<<8|uint16(s[i+1]))
	}
	return string(utf16.Decode(units))
}

// appendString writes binary strings in hexadecimal and others literally.
func appendString(b []byte, s String) []byte {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			b = append(b, '<')
			b = hex.AppendEncode(b, []byte(s))
			return append(b, '>')
		}
	}
	b = append(b, '(')
	for i := range len(s) {
		if s[i] == '(' || s[i] == ')' || s[i] == '\\' {
			b = append(b, '\\')
		}
		b = append(b, s[i])
	}
	return append(b, ')')
}
