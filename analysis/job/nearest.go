package job

import (
	"sort"
	"strings"
)

// Nearest returns the name closest to what was written, or "" if none is close:
// at most a third of its letters, and at least two, may differ.
func Nearest(written string, names []string) string {
	best, least := "", max(2, len(written)/3)+1
	fold := func(s string) string { return strings.NewReplacer("-", "_", " ", "_").Replace(strings.ToLower(s)) }
	sorted := append([]string(nil), names...)
	sort.Strings(sorted)
	for _, n := range sorted {
		d := distance(fold(written), fold(n))
		if d < least && d < len(n) {
			best, least = n, d
		}
	}
	return best
}

// distance is the number of letters to insert, delete, replace or swap with
// their neighbour (optimal string alignment).
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	if len(x) > 200 || len(y) > 200 {
		return len(x) + len(y)
	}
	before, row := make([]int, len(y)+1), make([]int, len(y)+1)
	for k := range row {
		row[k] = k
	}
	for i := 1; i <= len(x); i++ {
		next := make([]int, len(y)+1)
		next[0] = i
		for k := 1; k <= len(y); k++ {
			cost := 1
			if x[i-1] == y[k-1] {
				cost = 0
			}
			next[k] = min(row[k]+1, next[k-1]+1, row[k-1]+cost)
			if i > 1 && k > 1 && x[i-1] == y[k-2] && x[i-2] == y[k-1] {
				next[k] = min(next[k], before[k-2]+1)
			}
		}
		before, row = row, next
	}
	return row[len(y)]
}
