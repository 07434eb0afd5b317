package cms

import "errors"

var errBER = errors.New("the signature is not well-formed BER")

// Definite rewrites BER with indefinite lengths, which some signing software
// writes, as DER as far as the lengths and split octet strings go (ITU-T X.690,
// 8.1.3.6). It stops after the first value: what follows in a signature's place
// is padding, and is returned.
func Definite(in []byte) (out, rest []byte, err error) {
	return definite(in, 0)
}

func definite(in []byte, depth int) (out, rest []byte, err error) {
	if depth > 40 || len(in) < 2 || in[0]&0x1F == 0x1F {
		return nil, nil, errBER
	}
	tag := in[0]
	length, body, indefinite, err := berLength(in[1:])
	if err != nil {
		return nil, nil, err
	}
	if tag&0x20 == 0 { // primitive
		if indefinite {
			return nil, nil, errBER
		}
		return appendTLV(nil, tag, body[:length]), body[length:], nil
	}
	if !indefinite {
		body, rest = body[:length], body[length:]
	}
	var content []byte
	for {
		if !indefinite && len(body) == 0 {
			break
		}
		if indefinite && len(body) >= 2 && body[0] == 0 && body[1] == 0 {
			rest = body[2:]
			break
		}
		var part []byte
		if part, body, err = definite(body, depth+1); err != nil {
			return nil, nil, err
		}
		content = append(content, part...)
	}
	if tag == 0x24 { // a split octet string
		if content, err = joinOctets(content); err != nil {
			return nil, nil, err
		}
		tag = 0x04
	}
	return appendTLV(nil, tag, content), rest, nil
}

func joinOctets(parts []byte) ([]byte, error) {
	var joined []byte
	for len(parts) > 0 {
		length, body, indefinite, err := berLength(parts[1:])
		if err != nil || indefinite || parts[0] != 0x04 {
			return nil, errBER
		}
		joined, parts = append(joined, body[:length]...), body[length:]
	}
	return joined, nil
}

// berLength reads a length and returns what follows it.
func berLength(in []byte) (length int, body []byte, indefinite bool, err error) {
	if len(in) == 0 {
		return 0, nil, false, errBER
	}
	first, in := in[0], in[1:]
	switch {
	case first < 0x80:
		length = int(first)
	case first == 0x80:
		return 0, in, true, nil
	default:
		n := int(first & 0x7F)
		if n > 4 || n > len(in) {
			return 0, nil, false, errBER
		}
		for _, c := range in[:n] {
			length = length<<8 | int(c)
		}
		in = in[n:]
	}
	if length < 0 || length > len(in) {
		return 0, nil, false, errBER
	}
	return length, in, false, nil
}

func appendTLV(b []byte, tag byte, content []byte) []byte {
	b = append(b, tag)
	switch n := len(content); {
	case n < 0x80:
		b = append(b, byte(n))
	case n < 0x100:
		b = append(b, 0x81, byte(n))
	case n < 0x10000:
		b = append(b, 0x82, byte(n>>8), byte(n))
	case n < 0x1000000:
		b = append(b, 0x83, byte(n>>16), byte(n>>8), byte(n))
	default:
		b = append(b, 0x84, byte(n>>24), byte(n>>16), byte(n>>8), byte(n))
	}
	return append(b, content...)
}
