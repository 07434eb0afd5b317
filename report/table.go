package report

import (
	"strings"
)

// column of a table. Align is 'l', 'r' or 'd' (on the decimal point).
type column struct {
	head  string
	align byte
}

// table is a quiet table: rules under the head and at the end, hair lines
// between rows, no vertical ones. A row's text may carry marks.
type table struct {
	cols     []column
	rows     [][]string
	joined   map[int]bool // rows that go on with the one above: no line between
	headless bool         // the first column names the rows
	named    bool         // it does so under a head too
	dense    bool         // smaller, where a page has to hold much
}

// text is the rows' style, and pad the room above and under each.
func (t table) text() style {
	if t.dense {
		return style{7.5, 9.5, false}
	}
	return tableText
}

func (t table) pad() float64 {
	if t.dense {
		return 0.8
	}
	return 1.7
}

const (
	colGap    = 7.0
	labels    = 36 * mm // least width of the names of rows, so that tables are in line
	headExtra = 1.5
)

func (t table) height(w float64) float64              { return t.set(w).height(w) }
func (t table) split(w, avail float64) (block, block) { return t.set(w).split(w, avail) }
func (t table) draw(s *sheet, x, y, w float64)        { t.set(w).draw(s, x, y, w) }
func (t table) set(w float64) block                   { return t.setIn(t.widths(w)) }

// setIn breaks every text for these widths of the columns.
func (t table) setIn(ws []float64) setTable {
	set := setTable{table: t, ws: ws, heads: make([][]line, len(ws)), cells: make([][][]line, len(t.rows))}
	for j, c := range t.cols {
		set.heads[j] = wrap(c.head, tableHead, ws[j])
	}
	for i, r := range t.rows {
		set.cells[i] = make([][]line, len(ws))
		for j := range t.cols {
			set.cells[i][j] = wrap(r[j], t.text(), ws[j])
		}
	}
	return set
}

// setTable is a table whose lines are broken.
type setTable struct {
	table
	ws    []float64
	heads [][]line
	cells [][][]line // of each row
}

func (t setTable) set(float64) block { return t }

func mostLines(cells [][]line) float64 {
	n := 0
	for _, c := range cells {
		n = max(n, len(c))
	}
	return float64(n)
}

func (t setTable) headHeight() float64 {
	if t.headless {
		return 0
	}
	return mostLines(t.heads)*tableHead.lead + t.pad() + headExtra
}

func (t setTable) rowHeight(i int) float64 {
	return max(1, mostLines(t.cells[i]))*t.text().lead + 2*t.pad()
}

func (t setTable) height(float64) float64 {
	h := t.headHeight()
	for i := range t.rows {
		h += t.rowHeight(i)
	}
	return h
}

// split keeps at least two rows on each side and repeats the head.
func (t setTable) split(_, avail float64) (block, block) {
	h, n := t.headHeight(), 0
	for i := range t.rows {
		rh := t.rowHeight(i)
		if h+rh > avail {
			break
		}
		h, n = h+rh, n+1
	}
	if n > len(t.rows)-2 {
		n = len(t.rows) - 2
	}
	if n < 2 && !(n == 1 && len(t.rows) == 3) {
		return nil, nil
	}
	a, b := t, t
	a.rows, b.rows, b.joined = t.rows[:n], t.rows[n:], nil
	a.cells, b.cells = t.cells[:n], t.cells[n:]
	for i := range t.joined {
		if i > n {
			b.joined = with(b.joined, i-n)
		}
	}
	return a, b
}

func (t setTable) draw(s *sheet, x, y, _ float64) {
	total := colGap*float64(len(t.ws)-1) + sum(t.ws)
	s.open("Table")
	defer s.shut()
	if !t.headless {
		y = t.drawHead(s, x, y)
		s.rule(x, y, total, 0.9)
	}
	points := t.points()
	for i, r := range t.rows {
		if i > 0 && !t.joined[i] {
			s.rule(x, y, total, 0.25)
		}
		s.open("TR")
		cx := x
		for j, c := range t.cols {
			kind := "TD"
			if j == 0 && (t.headless || t.named || c.head == "") {
				kind = "TH"
			}
			n := s.open(kind)
			if kind == "TH" {
				n.Scope = "Row"
			}
			t.cell(s, cx, y+t.pad(), t.ws[j], r[j], t.cells[i][j], c.align, points[j])
			s.shut()
			cx += t.ws[j] + colGap
		}
		s.shut()
		y += t.rowHeight(i)
	}
	s.rule(x, y, total, 0.9)
}

func (t setTable) drawHead(s *sheet, x, y float64) float64 {
	h := t.headHeight()
	s.open("TR")
	cx := x
	for j, c := range t.cols {
		ls := t.heads[j]
		align := byte('l')
		if c.align != 'l' {
			align = 'r'
		}
		n := s.open("TH")
		n.Scope = "Column"
		if len(ls) > 0 {
			top := y + h - headExtra - t.pad()/2 - float64(len(ls))*tableHead.lead
			s.own(func() { s.lines(cx, top, t.ws[j], ls, tableHead, align) })
		}
		s.shut()
		cx += t.ws[j] + colGap
	}
	s.shut()
	return y + h
}

// points is, by column, the widest text behind a decimal point.
func (t table) points() []float64 {
	out := make([]float64, len(t.cols))
	for j, c := range t.cols {
		if c.align != 'd' {
			continue
		}
		for _, r := range t.rows {
			out[j] = max(out[j], width(fraction(r[j]), t.text()))
		}
	}
	return out
}

// fraction is a plain number's part from the decimal point on.
func fraction(s string) string {
	i := strings.IndexByte(s, '.')
	if i < 0 || strings.Trim(s, "0123456789.,−+–\u00a0") != "" {
		return ""
	}
	return s[i:]
}

func (t table) cell(s *sheet, x, y, w float64, text string, ls []line, align byte, point float64) {
	if len(ls) == 0 {
		return
	}
	s.own(func() {
		if align == 'd' {
			align = 'r'
			if strings.Trim(text, "0123456789.,−+\u00a0") == "" {
				w -= point - width(fraction(text), t.text())
			}
		}
		s.lines(x, y, w, ls, t.text(), align)
	})
}
