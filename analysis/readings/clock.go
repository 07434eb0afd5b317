package readings

import (
	"bytes"
)

// readClock reads "14:05:07.5", and "14h05", "14h05:07" or "14h05m07s".
func (p *parts) readClock() bool {
	if p.clock >= 0 {
		return false
	}
	p.clockAt = p.i
	h, _ := p.digits()
	worded := p.peek() == 'h'
	p.i++
	m, n := p.digits()
	if n != 2 {
		return false
	}
	sec, frac := 0, int64(0)
	if p.peek() == ':' || worded && p.skip("min", "m") {
		if p.peek() == ':' {
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
