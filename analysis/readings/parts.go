package readings

import (
	"time"
	"unicode"
	"unicode/utf8"
)

// parts is the reading of one stamp, token by token.
type parts struct {
	s                 *stamper
	text              []byte
	i                 int
	clockAt, clockEnd int
	clock             int64
	meridiem          byte // 'a' or 'p'
	offset            int64
	zoned             bool
	loose             [3]int // numbers of a worded date, in order
	nLoose, wide      int
	month             int
	date              numerals
	dateAt, dateEnd   int
	hasDate           bool
}

func (p *parts) read() (stamp, bool) {
	p.clock = -1
	for p.i < len(p.text) {
		c := p.text[p.i]
		ok := true
		switch {
		case c >= '0' && c <= '9':
			ok = p.number()
		case (c == '+' || c == '-') && p.clock >= 0:
			ok = p.zone()
		case c == ' ' || c == ',' || c == '.' || c == '\t' || c == '_':
			p.i++
		case (c == '-' || c == ':') && p.hasDate && p.clock < 0: // between a date and its time
			p.i++
		case p.zoned && (c == '(' && p.text[len(p.text)-1] == ')' || c == '[' && p.text[len(p.text)-1] == ']'): // the zone's name behind its offset
			p.i = len(p.text)
		case p.clock >= 0 && (c == '(' || c == ')'): // around the zone
			p.i++
		default:
			if r, n := utf8.DecodeRune(p.text[p.i:]); unicode.IsSpace(r) {
				p.i += n
			} else {
				ok = p.word()
			}
		}
		if !ok {
			return stamp{}, false
		}
	}
	return p.finish()
}

func (p *parts) digits() (v, n int) {
	for p.i < len(p.text) && n < 9 {
		c := p.text[p.i] - '0'
		if c > 9 {
			break
		}
		v = v*10 + int(c)
		p.i++
		n++
	}
	return v, n
}

func (p *parts) peek() byte {
	if p.i < len(p.text) {
		return p.text[p.i]
	}
	return 0
}

// number reads what begins with a digit: a clock, a date, or a number of a
// worded date.
func (p *parts) number() bool {
	at := p.i
	if !p.hasDate {
		p.dateAt = at
	}
	if p.packed() {
		return true
	}
	v, n := p.digits()
	next := p.peek()
	switch {
	case next == '.' && p.pointed(at):
		p.i = at
		return p.readClock()
	case (next == ':' || next == 'h') && n <= 2:
		p.i = at
		return p.readClock()
	case (next == '/' || next == '-' || next == '.') && p.i+1 < len(p.text) && p.text[p.i+1] != ' ' && !p.hasDate && p.month == 0:
		return p.readDate(v, n, next)
	case n == 8 && !p.hasDate:
		return p.setDate(numerals{a: v / 100 % 100, b: v % 100, year: v / 10000, form: yearFirst})
	case (n == 6 || n == 4) && p.hasDate && p.clock < 0:
		p.clockAt, p.clockEnd = at, p.i
		if n == 4 {
			v *= 100
		}
		return p.setClock(v/10000, v/100%100, v%100, p.fraction())
	case n <= 4 && p.nLoose < 3:
		p.loose[p.nLoose] = v
		p.nLoose++
		if n == 4 {
			p.wide = p.nLoose
		}
		return true
	}
	return false
}

// readDate reads on from the first number of a date with the separator sep.
func (p *parts) readDate(first, width int, sep byte) bool {
	p.i++
	if c := p.peek(); c > '9' || c < '0' { // 09-Apr-2031
		at := p.i
		for p.i < len(p.text) && p.text[p.i] != sep {
			p.i++
		}
		month, ok := months[trimDot(foldWord(string(p.text[at:p.i])))]
		if !ok || p.peek() != sep {
			return false
		}
		p.i++
		last, n := p.digits()
		if width == 4 {
			return p.setDate(numerals{a: month, b: last, year: first, form: yearFirst})
		}
		return p.setDate(numerals{a: first, b: month, year: century(last, n), form: named})
	}
	second, n2 := p.digits()
	if p.peek() != sep || n2 > 2 {
		return false
	}
	p.i++
	third, n3 := p.digits()
	if n3 == 0 {
		return false
	}
	if width == 4 {
		return n3 <= 2 && p.setDate(numerals{a: second, b: third, year: first, form: yearFirst})
	}
	if width > 2 || n3 != 2 && n3 != 4 {
		return false
	}
	f := slashed
	if sep == '.' {
		f = dotted
	}
	return p.setDate(numerals{a: first, b: second, year: century(third, n3), form: f, short: n3 == 2})
}

func trimDot(s string) string {
	for len(s) > 0 && s[len(s)-1] == '.' {
		s = s[:len(s)-1]
	}
	return s
}

func century(year, digits int) int {
	if digits == 2 {
		return 2000 + year
	}
	return year
}

func (p *parts) setDate(d numerals) bool {
	if p.hasDate {
		return false
	}
	p.date, p.dateEnd, p.hasDate = d, p.i, true
	return true
}

// word reads a name of a month, am or pm, a zone, or a filler.
func (p *parts) word() bool {
	at := p.i
	for p.i < len(p.text) {
		r, n := utf8.DecodeRune(p.text[p.i:])
		if !unicode.IsLetter(r) {
			break
		}
		p.i += n
	}
	if p.i == at {
		return false
	}
	w := foldWord(string(p.text[at:p.i]))
	offset, zone := p.s.zones[w]
	switch {
	case months[w] > 0 && p.month == 0 && !p.hasDate:
		p.month = months[w]
	case w == "am" || w == "pm" || p.clock >= 0 && (w == "a" || w == "p"):
		p.meridiem = w[0]
	case w == "m" && p.meridiem != 0:
	case (w == "z" || w == "utc" || w == "gmt") && p.clock >= 0:
		p.zoned = true
	case zone && p.clock >= 0:
		p.offset, p.zoned = offset, true
	default:
		return fillers[w]
	}
	return true
}

// finish puts the parts together.
func (p *parts) finish() (stamp, bool) {
	if p.month > 0 {
		d := numerals{a: p.loose[0], b: p.month, year: p.loose[1], form: named}
		if p.wide == 1 {
			d.a, d.year = p.loose[1], p.loose[0]
		} else if p.wide == 0 {
			d.year += 2000
		}
		if p.nLoose != 2 || !p.setDate(d) {
			return stamp{}, false
		}
		p.dateAt = 0 // its words can stand on both sides of the clock
	} else if p.nLoose > 0 {
		return stamp{}, false
	}
	if p.meridiem != 0 {
		h := p.clock / int64(time.Hour)
		if p.clock < 0 || h < 1 || h > 12 {
			return stamp{}, false
		}
		p.clock -= h * int64(time.Hour)
		h %= 12
		if p.meridiem == 'p' {
			h += 12
		}
		p.clock += h * int64(time.Hour)
	}
	st := stamp{date: noDate, clock: p.clock, offset: p.offset, zoned: p.zoned}
	if p.hasDate {
		st.date = p.s.index(p.date, p.text[p.dateAt:p.dateEnd])
	}
	return st, p.hasDate || p.clock >= 0
}
