package readings

import (
	"bytes"
	"regexp"
)

// readClock reads "14:05:07.5", and "14h05", "14h05:07", "14h05m07s" or "14.05.07".
func (p *parts) readClock() bool {
	if p.clock >= 0 {
		return false
	}
	p.clockAt = p.i
	h, _ := p.digits()
	sep := p.peek()
	worded := sep == 'h'
	p.i++
	m, n := p.digits()
	if n != 2 {
		return false
	}
	sec, frac := 0, int64(0)
	if p.peek() == ':' || p.peek() == sep || worded && p.skip("min", "m") {
		if p.peek() == ':' || p.peek() == sep {
			p.i++
		}
		if sec, n = p.digits(); n != 2 && !(worded && n == 0) {
			return false
		}
		p.clockEnd = p.i
		frac = p.fraction()
		if worded {
			p.skip("s")
		}
	}
	return p.setClock(h, m, sec, frac)
}

var pointedClock = regexp.MustCompile(`^\d{1,2}\.\d\d(?:\.\d\d(?:[.,]\d+)?)?(?: .*)?$`)

// pointed reports a clock written with points at the byte at, which can be none
// but where the date stands before it or in a column of its own.
func (p *parts) pointed(at int) bool {
	known := p.hasDate || p.month > 0 && p.nLoose == 2 || p.s.apart && at == 0 && bytes.IndexByte(p.text, ':') < 0
	return known && p.clock < 0 && pointedClock.Match(p.text[at:])
}

// packed reads a date and a clock written as one number, "20310409140507".
func (p *parts) packed() bool {
	b := p.text[p.i:]
	n := 0
	for n < len(b) && b[n]-'0' <= 9 {
		n++
	}
	if n != 14 && n != 12 || p.hasDate || p.clock >= 0 {
		return false
	}
	at := p.i
	date, _ := whole(b[:8])
	clock, _ := whole(append(bytes.Clone(b[8:n]), "00"[:14-n]...))
	p.i = at + 8
	p.setDate(numerals{a: date / 100 % 100, b: date % 100, year: date / 10000, form: yearFirst})
	p.i = at + n
	p.clockAt, p.clockEnd = at+8, p.i
	return p.setClock(clock/10000, clock/100%100, clock%100, p.fraction())
}

// skip passes over the first of some words that stands here.
func (p *parts) skip(words ...string) bool {
	for _, w := range words {
		if bytes.HasPrefix(p.text[p.i:], []byte(w)) {
			p.i += len(w)
			return true
		}
	}
	return false
}

// fraction reads ".123" behind the seconds, or ":123" of three digits, in ns.
func (p *parts) fraction() int64 {
	if c := p.peek(); c != '.' && c != ',' && (c != ':' || !threeDigits(p.text[p.i+1:])) || p.i+1 >= len(p.text) || p.text[p.i+1]-'0' > 9 {
		return 0
	}
	p.i++
	v, n := p.digits()
	p.clockEnd = p.i
	f := int64(v)
	for ; n < 9; n++ {
		f *= 10
	}
	for p.i < len(p.text) && p.text[p.i]-'0' <= 9 {
		p.i++
	}
	return f
}

func (p *parts) setClock(h, m, s int, frac int64) bool {
	if h > 24 || m > 59 || s > 59 || h == 24 && (m > 0 || s > 0 || frac > 0) {
		return false
	}
	p.clock = int64(h*3600+m*60+s)*1e9 + frac
	return true
}

// zone reads "+02:00", "+0200" or "+02" behind a clock.
func (p *parts) zone() bool {
	sign := int64(1)
	if p.text[p.i] == '-' {
		sign = -1
	}
	p.i++
	v, n := p.digits()
	h, m := v, 0
	switch {
	case n == 4:
		h, m = v/100, v%100
	case n <= 2 && n > 0 && p.peek() == ':':
		p.i++
		if m, n = p.digits(); n != 2 {
			return false
		}
	case n == 0 || n > 2:
		return false
	}
	if h > 14 || m > 59 {
		return false
	}
	p.offset, p.zoned = sign*int64(h*3600+m*60)*1e9, true
	return true
}
