package readings

import "bytes"

// whole reads a number without a sign, as attributes have it.
func whole(b []byte) (int, bool) {
	if len(b) == 0 || len(b) > 9 {
		return 0, false
	}
	v := 0
	for _, c := range b {
		if c < '0' || c > '9' {
			return 0, false
		}
		v = v*10 + int(c-'0')
	}
	return v, true
}

// reference reads "B5" as column 1, row 5.
func reference(b []byte) (col, row int, ok bool) {
	i := 0
	for i < len(b) && i < 4 && b[i] >= 'A' && b[i] <= 'Z' {
		col = col*26 + int(b[i]-'A') + 1
		i++
	}
	row, ok = whole(b[i:])
	return col - 1, row, ok && i > 0
}

// readMerge keeps a merged range in the rows where headers stand.
func (s *sheetScan) readMerge() {
	_ = eachAttr(s.attrs, func(name, value []byte) {
		from, to, ok := bytes.Cut(value, []byte{':'})
		if string(name) != "ref" || !ok {
			return
		}
		m := merge{}
		var ok1, ok2 bool
		m.col, m.row, ok1 = reference(from)
		m.col2, m.row2, ok2 = reference(to)
		if ok1 && ok2 && m.row2 <= headerRows && m.row2-m.row < 8 && m.col2-m.col < 64 && len(s.ref) < headerRows {
			s.ref = append(s.ref, m)
		}
	})
}

// spread gives every cell of a merged range the content of its first.
func (s *sheetScan) spread() {
	t := s.t
	if len(s.ref) == 0 {
		return
	}
	at := map[int]int{}
	for i := 0; i < len(t.rows) && t.rows[i].number <= headerRows; i++ {
		at[int(t.rows[i].number)] = i
	}
	lines := make([][]cell, len(at))
	for _, i := range at {
		lines[i] = append(lines[i], t.row(i)...)
	}
	for _, m := range s.ref {
		i, ok := at[m.row]
		if !ok || m.col >= len(lines[i]) {
			continue
		}
		c := lines[i][m.col]
		for row := m.row; row <= m.row2; row++ {
			k, ok := at[row]
			for col := m.col; ok && col <= m.col2; col++ {
				for len(lines[k]) <= col {
					lines[k] = append(lines[k], cell{})
				}
				lines[k][col] = c
			}
		}
	}
	old := len(t.cells)
	if len(lines) < len(t.rows) {
		old = int(t.rows[len(lines)].first)
	}
	var cells []cell
	for i, line := range lines {
		t.rows[i].first = uint32(len(cells))
		cells = append(cells, line...)
	}
	grown := len(cells) - old
	t.cells = append(cells, t.cells[old:]...)
	for i := len(lines); i < len(t.rows); i++ {
		t.rows[i].first = uint32(int(t.rows[i].first) + grown)
	}
}
