package plot

import "math"

// unseen is how far a curve may be drawn from a reading, in points: a tenth of its
// line's width.
const unseen = 0.1

// thin leaves out the points of a curve that the line between those beside them
// passes within tol. A line goes on as long as one slope from its first point
// passes all of its points. It works in place; x does not go back.
func thin(pts []point, tol float64) []point {
	if len(pts) < 3 {
		return pts
	}
	out, from := pts[:1], pts[0]
	low, high := math.Inf(-1), math.Inf(1) // slopes that pass what was left out
	for i, q := range pts[1:] {
		if s := (q.y - from.y) / (q.x - from.x); !(s >= low && s <= high) {
			from = pts[i] // the one before q
			out = append(out, from)
			low, high = math.Inf(-1), math.Inf(1)
		}
		dx := q.x - from.x
		low, high = math.Max(low, (q.y-tol-from.y)/dx), math.Min(high, (q.y+tol-from.y)/dx)
	}
	return append(out, pts[len(pts)-1])
}
