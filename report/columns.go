package report

import (
	"math"
	"slices"
)

// cellText is a cell's words, measured once: their widths, the blank before
// each and whether a line ends before it.
type cellText struct {
	words []word
	lead  float64
}

// lines is the number of lines in a width, as wrap would set them.
func (c cellText) lines(w float64) int {
	n, x := 1, 0.0
	for i, q := range c.words {
		switch {
		case i == 0 || q.br || x+q.blank+q.w > w+0.01:
			if i > 0 {
				n++
			}
			x = q.w
			if w > 0 && x > w+0.01 { // a word that is broken
				n += int(x / w)
				x = math.Mod(x, w)
			}
		default:
			x += q.blank + q.w
		}
	}
	return n
}

// measured are the cells of a table by row; the head is the first row.
func (t table) measured() [][]cellText {
	var out [][]cellText
	row := func(st style, text func(i int) string) {
		r := make([]cellText, len(t.cols))
		for i := range t.cols {
			r[i] = cellText{words(text(i), st), st.lead}
		}
		out = append(out, r)
	}
	if !t.headless {
		row(tableHead, func(i int) string { return t.cols[i].head })
	}
	for _, r := range t.rows {
		row(t.text(), func(i int) string { return r[i] })
	}
	return out
}

// cost of a table with these widths: its height, then how many lines there are.
func cost(cells [][]cellText, ws []float64) float64 {
	c := 0.0
	for _, r := range cells {
		high := 0.0
		for i, x := range r {
			n := float64(x.lines(ws[i]))
			high = max(high, n*x.lead)
			c += n * 0.01
		}
		c += high
	}
	return c
}

// even takes from each column what makes the table no higher and gives every
// column its share of that.
func (t table) even(cells [][]cellText, ws, least []float64) {
	at, spare := cost(cells, ws), 0.0
	for i := range ws {
		for ws[i]-2 >= least[i] {
			ws[i] -= 2
			if cost(cells, ws) > at+1e-9 {
				ws[i] += 2
				break
			}
			spare += 2
		}
	}
	for i := range ws {
		ws[i] += spare / float64(len(ws))
	}
}

// lowest finds the widths with which the table is lowest, from two beginnings:
// room shared by need, and the rows unbroken where they fit without the heads.
func (t table) lowest(ws, least []float64, room float64) {
	cells := t.measured()
	if len(cells) > 60 { // a long table: its first rows speak for the rest
		cells = cells[:60]
	}
	t.descend(cells, ws, least)
	other, extra := slices.Clone(least), 0.0
	for i := range other {
		for _, r := range t.rows {
			other[i] = max(other[i], width(r[i], t.text()))
		}
		extra += other[i]
	}
	if extra = room - extra; extra >= 0 {
		for i := range other {
			other[i] += extra / float64(len(other))
		}
		t.descend(cells, other, least)
		if cost(cells, other) < cost(cells, ws) {
			copy(ws, other)
		}
	}
	t.even(cells, ws, least)
}

// descend moves room from column to column as long as the table gets lower. No
// column gets less than its longest word.
func (t table) descend(cells [][]cellText, ws, least []float64) {
	best := cost(cells, ws)
	for _, step := range []float64{32, 16, 8, 4, 2} {
		for moved := true; moved; {
			moved = false
			from, to := -1, -1
			for i := range ws {
				for j := range ws {
					if i == j || ws[i]-step < least[i] {
						continue
					}
					ws[i], ws[j] = ws[i]-step, ws[j]+step
					if c := cost(cells, ws); c < best-1e-9 {
						best, from, to = c, i, j
					}
					ws[i], ws[j] = ws[i]+step, ws[j]-step
				}
			}
			if from >= 0 {
				ws[from], ws[to] = ws[from]-step, ws[to]+step
				moved = true
			}
		}
	}
}
