package readings

import (
	"math"
	"strconv"
)

// style says which mark a column uses for decimals and which for thousands.
type style struct{ decimal, thousands byte }

var (
	pointStyle = style{'.', ','}
	commaStyle = style{',', '.'}
)

var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22}

// scan reads the number at the start of b and returns what follows it. The
// result is the nearest float64: a mantissa below 2^53 over a power of ten that
// is itself exact takes one rounding; anything longer goes to strconv.
func (s style) scan(b []byte) (v float64, rest []byte, ok bool) {
	i, neg := 0, false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		neg, i = b[0] == '-', 1
	} else if len(b) > 2 && b[0] == 0xE2 && b[1] == 0x88 && b[2] == 0x92 { // the minus sign U+2212
		neg, i = true, 3
	}
	var m uint64
	digits, decimals, groups := 0, 0, 0
	for ; i < len(b); i++ {
		c := b[i]
		if c >= '0' && c <= '9' {
			m = m*10 + uint64(c-'0')
			digits++
			if digits > 18 {
				return s.long(b)
			}
			continue
		}
		n := s.mark(b[i:])
		if n == 0 || digits == 0 || !threeDigits(b[i+n:]) || groups == 0 && (digits > 3 || m == 0) {
			break
		}
		groups++
		i += n - 1
	}
	if i < len(b) && b[i] == s.decimal {
		i++
		for ; i < len(b) && b[i] >= '0' && b[i] <= '9'; i++ {
			m = m*10 + uint64(b[i]-'0')
			digits++
			decimals++
			if digits > 18 {
				return s.long(b)
			}
		}
	}
	if digits == 0 {
		return 0, b, false
	}
	if n := exponent(b[i:]); n > 0 || m >= 1<<53 || decimals >= len(powers) {
		return s.long(b)
	}
	v = float64(m) / powers[decimals]
	if neg {
		v = -v
	}
	return v, b[i:], true
}

// mark is the length of a thousands mark at the start of b, or 0: the style's
// own, an apostrophe, a blank or a fixed space.
func (s style) mark(b []byte) int {
	switch {
	case b[0] == s.thousands, b[0] == '\'', b[0] == ' ':
		return 1
	case len(b) > 1 && b[0] == 0xC2 && b[1] == 0xA0: // U+00A0
		return 2
	case len(b) > 2 && b[0] == 0xE2 && b[1] == 0x80 && (b[2] == 0xAF || b[2] == 0x99 || b[2] == 0x89): // U+202F, U+2019, U+2009
		return 3
	}
	return 0
}

// threeDigits reports whether exactly three digits stand at the start of b.
func threeDigits(b []byte) bool {
	for i := 0; i < 3; i++ {
		if i >= len(b) || b[i] < '0' || b[i] > '9' {
			return false
		}
	}
	return len(b) == 3 || b[3] < '0' || b[3] > '9'
}

// exponent is the length of "e-05" at the start of b, or 0.
func exponent(b []byte) int {
	if len(b) < 2 || b[0]|0x20 != 'e' {
		return 0
	}
	i := 1
	if b[1] == '+' || b[1] == '-' {
		i++
	}
	j := i
	for j < len(b) && b[j] >= '0' && b[j] <= '9' {
		j++
	}
	if j == i {
		return 0
	}
	return j
}

// long is scan for what needs arbitrary precision or has an exponent.
func (s style) long(b []byte) (float64, []byte, bool) {
	clean := make([]byte, 0, 32)
	i := 0
	switch {
	case b[0] == '-' || b[0] == '+':
		clean, i = append(clean, b[0]), 1
	case b[0] == 0xE2:
		clean, i = append(clean, '-'), 3
	}
	point := false
	for i < len(b) && len(clean) < 1100 {
		c := b[i]
		if c >= '0' && c <= '9' {
			clean = append(clean, c)
		} else if c == s.decimal && !point {
			clean, point = append(clean, '.'), true
		} else if n := s.mark(b[i:]); n > 0 && !point && threeDigits(b[i+n:]) {
			i += n - 1
		} else {
			break
		}
		i++
	}
	n := exponent(b[i:])
	clean = append(clean, b[i:i+n]...)
	v, err := strconv.ParseFloat(string(clean), 64)
	if math.IsInf(v, 0) { // 1e400 is a number that no double holds: what is left over has the cell refused
		return v, b, true
	}
	return v, b[i+n:], err == nil
}

// evidence collects what a column's cells show about its marks.
type evidence struct {
	point, comma           int // rows (index + 1) that prove the decimal mark
	pointDoubt, commaDoubt int // rows that could be read both ways
	bare                   int // rows with one to three digits and no mark
}

// look weighs one cell, in row i.
func (e *evidence) look(b []byte, i int) {
	j := 0
	for j < len(b) && (b[j] == '-' || b[j] == '+' || b[j] == '>' || b[j] == '<' || b[j] == ' ') {
		j++
	}
	points, commas, last, k := 0, 0, -1, j
loop:
	for ; k < len(b); k++ {
		switch c := b[k]; {
		case c >= '0' && c <= '9':
		case c == '.':
			points, last = points+1, k
		case c == ',':
			commas, last = commas+1, k
		default:
			break loop
		}
	}
	if last < 0 && k > j && k <= j+3 {
		e.bare = i + 1
	}
	if last < 0 || k == j+1 {
		return
	}
	before := last - j // digits, where there is one mark
	switch {
	case points > 0 && commas > 0:
		e.prove(b[last] == '.', i)
	case points+commas > 1:
		e.prove(b[last] != '.', i)
	case k-last-1 != 3 || before > 3 || before == 0 || b[j] == '0' || exponent(b[k:]) > 0:
		e.prove(b[last] == '.', i)
	case b[last] == '.' && e.pointDoubt == 0:
		e.pointDoubt = i + 1
	case b[last] == ',' && e.commaDoubt == 0:
		e.commaDoubt = i + 1
	}
}

func (e *evidence) prove(point bool, i int) {
	if point && e.point == 0 {
		e.point = i + 1
	} else if !point && e.comma == 0 {
		e.comma = i + 1
	}
}
