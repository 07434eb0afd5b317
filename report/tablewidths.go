package report

import (
	"slices"
)

// widths gives every column what its text needs and the rest to those that wrap.
func (t table) widths(w float64) []float64 {
	n := len(t.cols)
	least, want := make([]float64, n), make([]float64, n)
	for i, c := range t.cols {
		least[i], want[i] = longest(c.head, tableHead), width(c.head, tableHead)
		for _, r := range t.rows {
			full := width(r[i], t.text())
			word := longest(r[i], t.text())
			if c.align != 'l' {
				word = full
			}
			least[i], want[i] = max(least[i], word), max(want[i], full)
		}
		want[i] = max(want[i], least[i])
	}
	room := w - colGap*float64(n-1)
	least = capped(least, room)
	if t.headless && n == 2 {
		first := min(max(want[0], labels), 0.42*room)
		return []float64{first, room - first}
	}
	sumLeast, sumWant := sum(least), sum(want)
	out := make([]float64, n)
	switch {
	case sumWant <= room:
		extra := (room - sumWant) / float64(n)
		for i := range out {
			out[i] = want[i] + extra
		}
	case sumLeast <= room:
		for i := range out {
			out[i] = least[i]
			out[i] += (room - sumLeast) * (want[i] - least[i]) / (sumWant - sumLeast)
		}
		t.lowest(out, least, room)
	default:
		out = filled(least, room)
	}
	return out
}

// capped bounds the widest words, more and more as long as they leave no room
// for the other columns: those words are broken then.
func capped(least []float64, room float64) []float64 {
	var out []float64
	for _, most := range []float64{0.45, 0.34, 0.25} {
		out = slices.Clone(least)
		for i := range out {
			out[i] = min(out[i], most*room)
		}
		if sum(out) <= 0.85*room {
			break
		}
	}
	return out
}

// filled gives all columns what they need but the widest, which share the rest.
func filled(least []float64, room float64) []float64 {
	order := slices.Sorted(slices.Values(least))
	most := room / float64(len(least))
	for i, v := range order {
		if v > most {
			break
		}
		room -= v
		most = room / float64(max(1, len(order)-i-1))
	}
	out := slices.Clone(least)
	for i := range out {
		out[i] = min(out[i], most)
	}
	return out
}

// with adds a row to a set of rows.
func with(rows map[int]bool, i int) map[int]bool {
	if rows == nil {
		rows = map[int]bool{}
	}
	rows[i] = true
	return rows
}

func sum(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s
}
