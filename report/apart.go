package report

import (
	"cmp"
	"math"
	"slices"
	"strconv"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

// mostApart is the most decimals that tell a reading from a limit.
const mostApart = 6

// apart returns the decimals of a reading and of its guard band. They are those
// that the uncertainty gives, and more where the print would else contradict the
// decision: 500.04 that is not above 500, or 452 that passes up to 452. A number
// that needs no decimals keeps none.
func (b *builder) apart(y, u, limit, guard *record.Value) (reading, band int) {
	in := b.p.sys.Vacuum
	reading = min(quantity.Places(quantity.K95*u.V, in), b.p.gaugePlaces(in))
	w := 0.0
	if guard.Finite() {
		band, w = b.readPlaces(guard), guard.V/in.Scale
	}
	if !limit.Finite() {
		return reading, band
	}
	at, most := in.From(y.V), in.From(limit.V)
	told := round(most, b.p.agreedPlaces(limit.V, in))
	for k := range mostApart + 1 {
		r, g := reading, max(band, k)
		if k > reading && side(round(at, reading), at) != 0 {
			r = k
		}
		x, half := round(at, r), round(w, g)
		if side(x, told) == side(at, most) && side(x, told-half) == side(at, most-w) && side(x, told+half) == side(at, most+w) {
			return r, g
		}
	}
	return reading, band
}

// beside returns the decimals, from k on, with which x prints on the side of each limit on which it lies.
func beside(x float64, k int, limits ...float64) int {
	for n := k; n <= mostApart; n++ {
		if !slices.ContainsFunc(limits, func(l float64) bool { return side(round(x, n), l) != side(x, l) }) {
			return n
		}
	}
	return k
}

// readingAtLimit prints the reading for a sentence that sets it against the limit.
func (b *builder) readingAtLimit() string {
	h := b.rec.Hold
	text := b.p.level(h.ReadingAtLimit)
	if text == b.limitText(h.Limit) {
		text = b.readingOf(record.Criterion{Reading: h.ReadingAtLimit, U: h.StandardUncertainty, Limit: h.Limit})
	}
	return b.atLeast(text, h.AtLeast)
}

// readPlaces are two figures of a difference, and no more decimals than the gauge has.
func (b *builder) readPlaces(v *record.Value) int {
	u := plainUnit(b.p.sys.Vacuum)
	return min(quantity.Places(v.V, u), b.p.gaugePlaces(u))
}

// round is x as it is printed with k decimals.
func round(x float64, k int) float64 {
	r, _ := strconv.ParseFloat(strconv.FormatFloat(x, 'f', k, 64), 64) // its own print reads back
	return r
}

// side tells on which side of a limit x lies; on it within what quantity.Alike calls one.
func side(x, limit float64) int {
	if math.Abs(x-limit) <= quantity.Alike*math.Abs(limit) {
		return 0
	}
	return cmp.Compare(x, limit)
}
