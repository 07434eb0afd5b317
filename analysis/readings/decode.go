package readings

import (
	"bytes"
	"errors"
	"unicode/utf16"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// decode makes a text file UTF-8 and names the encoding that it had.
func decode(data []byte) (out []byte, name string, err error) {
	switch {
	case bytes.HasPrefix(data, byteOrderMark):
		if !utf8.Valid(data) {
			return nil, "", errors.New("it is marked as UTF-8 but holds other bytes")
		}
		return data[len(byteOrderMark):], "UTF-8", nil
	case bytes.HasPrefix(data, []byte("\xff\xfe")):
		out, err = fromUTF16(data[2:], 0)
		return out, "UTF-16LE", err
	case bytes.HasPrefix(data, []byte("\xfe\xff")):
		out, err = fromUTF16(data[2:], 1)
		return out, "UTF-16BE", err
	}
	if big, ok := looksUTF16(data); ok {
		out, err = fromUTF16(data, big)
		return out, [2]string{"UTF-16LE", "UTF-16BE"}[big], err
	}
	if bytes.IndexByte(data, 0) >= 0 {
		return nil, "", errors.New("it holds zero bytes, so it is not a text file, or it is damaged")
	}
	if utf8.Valid(data) {
		return data, "UTF-8", nil
	}
	return fromWindows(data), "Windows-1252", nil
}

// fromWindows decodes Windows-1252 into a slice of the exact size.
func fromWindows(data []byte) []byte {
	n := 0
	for _, b := range data {
		n += utf8.RuneLen(charmap.Windows1252.DecodeByte(b))
	}
	out := make([]byte, 0, n)
	for _, b := range data {
		out = utf8.AppendRune(out, charmap.Windows1252.DecodeByte(b))
	}
	return out
}

// looksUTF16 recognises UTF-16 without a byte order mark by where its zero
// bytes stand; big is 1 for big-endian.
func looksUTF16(data []byte) (big int, ok bool) {
	n := min(len(data), 512) &^ 1
	var zero [2]int
	for i := 0; i < n; i++ {
		if data[i] == 0 {
			zero[i&1]++
		}
	}
	switch {
	case n >= 4 && zero[1] > n/4 && zero[0] == 0:
		return 0, true
	case n >= 4 && zero[0] > n/4 && zero[1] == 0:
		return 1, true
	}
	return 0, false
}

func fromUTF16(data []byte, big int) ([]byte, error) {
	if len(data)%2 != 0 {
		return nil, errors.New("it ends in the middle of a UTF-16 character")
	}
	out := make([]byte, 0, len(data)*3/4+16)
	for i := 0; i < len(data); i += 2 {
		r := rune(data[i+big]) | rune(data[i+1-big])<<8
		if utf16.IsSurrogate(r) {
			if i+3 >= len(data) {
				return nil, errors.New("it holds half a UTF-16 character")
			}
			i += 2
			r = utf16.DecodeRune(r, rune(data[i+big])|rune(data[i+1-big])<<8)
			if r == utf8.RuneError {
				return nil, errors.New("it holds half a UTF-16 character")
			}
		}
		if r == 0 {
			return nil, errors.New("it holds zero characters, so it is damaged")
		}
		out = utf8.AppendRune(out, r)
	}
	return out, nil
}
