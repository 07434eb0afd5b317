package readings

import (
	"bytes"
	"fmt"
	"strconv"
	"unicode/utf8"
)

// eachAttr calls f for each attribute, with its name without prefix.
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
