package vacuum

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/stat"
)

// lead is what is left out at the start of a hold, s: clocks differ, a valve takes time to close, and a time that is written to the minute may be
// that much early. Readings under the pump would pass for a fall or a rise of the circuit; readings that are left out do little harm.
func lead(span Span, found string) float64 {
	length := span.End.Sub(span.Start).Seconds()
	if found == "stated" && span.Start.Second() == 0 {
		return math.Min(60, length/10)
	}
	return math.Min(30, length/20)
}

// left counts the readings of a hold that are not fitted: those at its start, those at its end, and those that stand alone.
type left struct {
	start, end, lone int
	departed, alone  float64 // s: the first of those at the end, and of those alone
}

// fittable leaves out the rows before time out, those at the end that leave the course of the others within as long of it, and those that stand
// alone.
func (r rows) fittable(out, resolution float64) (rows, left) {
	start, _ := slices.BinarySearch(r.t, out)
	l := left{start: start, end: len(r.t)}
	r = r.part(start, len(r.t))
	n := r.departs(out, resolution)
	l.end -= start + n
	if l.end > 0 {
		l.departed = r.t[n]
	}
	r = r.part(0, n)
	lone := r.lone(resolution)
	if l.lone = len(lone); l.lone > 0 {
		l.alone = r.t[lone[0]]
	}
	return r.except(lone), l
}

// lone are the rows that stand alone: neighbours that agree within a fifth of the distance lie more than a tenth of the pressure away, 10 micron and
// ten steps at least. A gauge does not see that of a circuit; it is a slip of the instrument or the link.
func (r rows) lone(resolution float64) (out []int) {
	for i := 1; i+1 < len(r.t); i++ {
		a, b := r.p[i-1], r.p[i+1]
		off := math.Abs(r.p[i] - (a+b)/2)
		if off > max((a+b)/20, 10*micron, 10*resolution) && math.Abs(b-a) < off/5 {
			out = append(out, i)
		}
	}
	return out
}

func (r rows) except(some []int) rows {
	if len(some) == 0 {
		return r
	}
	var out rows
	for i := range r.t {
		if len(some) > 0 && some[0] == i {
			some = some[1:]
			continue
		}
		out.t, out.p = append(out.t, r.t[i]), append(out.p, r.p[i])
		if r.ambient != nil {
			out.ambient = append(out.ambient, r.ambient[i])
		}
	}
	return out
}

func (r rows) part(a, b int) rows {
	out := rows{t: r.t[a:b], p: r.p[a:b]}
	if r.ambient != nil {
		out.ambient = r.ambient[a:b]
	}
	return out
}

// The last readings of a hold are held against the line through those before them: of four times their length, and courseRows at least. What lies more than
// course standard deviations off has left it.
const (
	courseRows = 8
	courseFew  = 6 // with fewer before them nothing is said
	course     = 8
)

// departs is the first of the rows within most seconds of the end that leaves the line through those before them, and len(r.t) where none does: the
// end of a hold is not known better than its start, and in the last readings the pump may run again, or gas be let in. A single one of them would
// pass for scatter of all.
func (r rows) departs(most, resolution float64) int {
	n := len(r.t)
	if n == 0 {
		return 0
	}
	b, _ := slices.BinarySearch(r.t, r.t[n-1]-most)
	b = min(b, n-1)
	a := b
	for a > 0 && (b-a < courseRows || r.t[b]-r.t[a] < 4*most) {
		a--
	}
	if b-a < courseFew {
		return n
	}
	past := r.part(a, b)
	level, slope := stat.LinearRegression(past.t, past.p, nil, false)
	mid, spread := stat.MeanVariance(past.t, nil)
	m, scatter := float64(b-a), 0.0
	for i, t := range past.t {
		scatter += square(past.p[i]-level-slope*t) / (m - 2)
	}
	scatter = max(scatter, measureNoise(past, step(past.p, resolution)).variance(level+slope*mid))
	for i := b; i < n; i++ {
		far := square(r.t[i]-mid) / (spread * (m - 1))
		if math.Abs(r.p[i]-level-slope*r.t[i]) > course*math.Sqrt(scatter*(1+1/m+far)) {
			return i
		}
	}
	return n
}
