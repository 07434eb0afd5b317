package readings

import (
	"bytes"
	"strings"
)

// notNumber marks a row that has a time but no reading. Such rows are counted
// and left out of the series.
const notNumber Mark = 255

// sideless marks a reading that is out of range on a side that the word does not
// say. See converter.side.
const sideless Mark = 254

// sidelessWords say "out of range" without the side.
var sidelessWords = map[string]bool{"outofrange": true, "outofscale": true, "offscale": true, "oor": true, "rangeerror": true, "fueraderango": true, "fueradeescala": true,
	"horsplage": true, "horsgamme": true, "horsechelle": true, "ausserhalb": true, "ausserhalbdesbereichs": true, "ausserhalbdesmessbereichs": true, "bereichsfehler": true}

// overWords and underWords are marks for a reading out of range, folded and
// without anything but letters, by meaning; common practice, no source.
var overWords = map[string]bool{"ol": true, "over": true, "overload": true, "overrange": true, "or": true, "ofl": true, "ovfl": true, "ovl": true, "ovrng": true, "ovr": true, "high": true, "hi": true,
	"overflow": true, "atm": true, "atmosphere": true, "aboverange": true, "outofrangehigh": true, "toohigh": true, "saturated": true,
	"uberlauf": true, "uberlast": true, "uberbereich": true, "messbereichsuberschreitung": true, "zuhoch": true, "atmosphare": true,
	"sobrerango": true, "desbordamiento": true, "sobrecarga": true, "alto": true, "atmosfera": true,
	"surcharge": true, "depassement": true, "surplage": true, "haut": true}

var underWords = map[string]bool{"ul": true, "under": true, "underrange": true, "ur": true, "ufl": true, "low": true, "lo": true, "underflow": true,
	"belowrange": true, "outofrangelow": true, "toolow": true, "unterlauf": true, "unterbereich": true, "messbereichsunterschreitung": true, "zuniedrig": true,
	"bajorango": true, "bajo": true, "sousplage": true, "bas": true}

// markOf reads a cell that does not begin with a number: out of range, not a
// number, or a spelling that a number must not have.
func markOf(b []byte) (m Mark, refused bool) {
	s := foldWord(string(b[:min(len(b), longestHead)]))
	switch strings.TrimLeft(s, "+-") {
	case "nan", "inf", "infinity", "qnan", "snan":
		return notNumber, true
	}
	letters := onlyLetters(s)
	only := func(set string) bool { return strings.Trim(s, set) == "" }
	switch {
	case s == "":
		return notNumber, false
	case sidelessWords[letters]:
		return sideless, false
	case overWords[letters] && s[0] != '-', only(">"), only("^"), only("+"), only("∞"):
		return OverRange, false
	case underWords[letters], overWords[letters], only("<"), only("_"):
		return UnderRange, false
	}
	return notNumber, false
}

// bounds are the signs that say "over" or "under" before a number.
var bounds = []struct {
	sign string
	mark Mark
}{{">=", OverRange}, {">", OverRange}, {"≥", OverRange}, {"<=", UnderRange}, {"<", UnderRange}, {"≤", UnderRange}}

// bound cuts such a sign off a number: ">25000".
func bound(b []byte) (rest []byte, m Mark) {
	if c := b[0]; c != '>' && c != '<' && c < 0x80 {
		return b, Used
	}
	for _, x := range bounds {
		if bytes.HasPrefix(b, []byte(x.sign)) && (len(b) == len(x.sign) || b[len(x.sign)] != b[0]) {
			return trim(b[len(x.sign):]), x.mark
		}
	}
	return b, Used
}

// strange reports spellings that begin like a number and are none: hexadecimal
// floats, "1.#INF".
func strange(b []byte) bool {
	s := strings.ToLower(string(b[:min(len(b), 16)]))
	s = strings.TrimLeft(s, "+-")
	return strings.HasPrefix(s, "0x") || strings.Contains(s, "#in") || strings.Contains(s, "#nan") || strings.Contains(s, "#qnan")
}
