package readings

import (
	"fmt"
	"math"
	"strings"
	"unicode"

	"dryhold/analysis/quantity"
)

// Columns beside a clock and a pressure that change what they mean.

// nearest takes, in a file with several recordings side by side, the times that
// stand with the chosen pressure: behind another pressure, and before it.
func (l *layout) nearest(p int) {
	for k, at := range []*int{&l.time, &l.date, &l.elapsed} {
		for _, c := range l.times[k] {
			if *at >= 0 && c < p && l.parted(*at, c) {
				*at = c
			}
		}
	}
}

// parted reports a column of pressures between two others, whether the job wants
// it or not.
func (l *layout) parted(from, to int) bool {
	for c := from + 1; c < to; c++ {
		h := l.heads[c]
		if r := roleOf(h.words); r == rolePressure || r != roleNot && roleOfUnit(h.unit) == rolePressure {
			return true
		}
	}
	return false
}

// statusOf is the column that says whether the pressures of column p are
// readings; -1 where there is none, or none that can only be theirs.
func (l *layout) statusOf(p int) int {
	for _, c := range l.status {
		if c > p && !l.parted(p, c) || len(l.status) == 1 && !l.parted(-1, p) && !l.parted(p, len(l.heads)) {
			return c
		}
	}
	return -1
}

// trends are words of a status that can as well be an alarm's, or tell where the
// pressure goes.
var trends = map[string]bool{"high": true, "hi": true, "low": true, "lo": true, "alto": true, "bajo": true, "haut": true, "bas": true, "or": true,
	"atm": true, "atmosphere": true, "atmosphare": true, "atmosfera": true}

// failures are words of a status whose number is no reading. "Fail" and "bad" are
// none: they can be a verdict on a good reading.
var failures = map[string]bool{"error": true, "err": true, "fault": true, "invalid": true,
	"nosensor": true, "sensorfault": true, "sensorerror": true, "disconnected": true, "nosignal": true, "fehler": true, "ungultig": true, "storung": true,
	"invalido": true, "sinsenal": true, "erreur": true, "defaut": true, "invalide": true}

// status weighs what the row's status says against its number: what is out of
// range by its status is never a deep vacuum.
func (x *converter) status(i int, p float64, m Mark) (float64, Mark) {
	b := x.t.trimmed(x.t.at(i, x.stated))
	if len(b) == 0 || m != Used && m != UnderRange && m != notNumber {
		return p, m
	}
	letters := onlyLetters(foldWord(string(b[:min(len(b), longestHead)])))
	switch {
	case failures[letters]:
		return math.NaN(), notNumber
	case trends[letters]:
		return p, m
	case overWords[letters] || sidelessWords[letters] && x.o.Quantity == Vacuum:
		if !(p > 0) {
			p = math.NaN()
		}
		return p, OverRange
	case underWords[letters]:
		return p, UnderRange
	}
	return p, m
}

// onlyLetters takes everything else out of a folded text.
func onlyLetters(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' {
			return r
		}
		return -1
	}, s)
}

// findMillis looks for a column of ms below 1000 beside a clock; one that counts
// on is elapsed time.
func (c *clock) findMillis() {
	col := c.lay.elapsed
	if c.lay.millis = -1; col < 0 || c.lay.time < 0 || roleOf(c.lay.heads[col].words) != roleNone {
		return
	}
	if u, ok := unitOf(c.lay.heads[col].unit); !ok || u != quantity.Millisecond {
		return
	}
	for i := c.lay.first; i < len(c.t.rows); i++ {
		if b := c.t.trimmed(c.t.at(i, col)); allDigits(b) && len(b) > 3 {
			return
		}
	}
	c.lay.millis = col
}

// withMillis adds the row's ms.
func (c *clock) withMillis(i int, w int64) int64 {
	b := c.t.trimmed(c.t.at(i, c.lay.millis))
	v, rest, ok := c.style.scan(b)
	if ok && len(rest) == 0 && v >= 0 && v < 1000 && w%1e9 == 0 {
		return w + int64(math.Round(v*1e6))
	}
	if len(b) > 0 {
		c.rep.add(c.t.cellFault("time", i, c.lay.millis, c.lay.heads[c.lay.millis].text, "a number of ms below 1000 beside a time of whole seconds", correctCell))
	}
	return w
}

// withZone takes off how far the row's zone is from UTC, where a column says it.
func (c *clock) withZone(i int, w int64) int64 {
	s := string(c.t.trimmed(c.t.at(i, c.lay.zone)))
	ns, known := c.stamps.zones[foldWord(s)]
	if !known {
		if strings.IndexAny(s, "+-−") == 0 {
			s = "UTC" + s
		}
		ns, known = offsetIn(s)
		known = known && !(ns == c.standard() && hasName(s))
	}
	switch {
	case known:
		c.zoned++
		c.local--
		return w - ns
	case s == "" || strings.EqualFold(s, c.o.Zone.String()) || c.toldZone:
		return w
	}
	c.toldZone = true
	f := c.t.cellFault("zone", i, c.lay.zone, c.lay.heads[c.lay.zone].text, fmt.Sprintf("%s, or an offset from UTC", c.o.Zone),
		"if that is another zone than the site's, export the times with offsets from UTC")
	f.Doubt = !strings.ContainsRune(s, '/') || strings.ContainsFunc(s, unicode.IsSpace)
	c.rep.add(f)
	return w
}
