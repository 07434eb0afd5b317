package readings

import "bytes"

// plainCell reads the form of a cell that programs write for numbers and shared
// strings, <c r="A2" s="1" t="s"><v>12</v></c>, in one go. It reports false,
// and leaves everything as it was, for any other form and for anything wrong:
// the general way then reads it or says what the matter is.
func (s *sheetScan) plainCell() bool {
	b := s.scanner.b[s.i:]
	if len(b) < 24 || string(b[:6]) != `<c r="` {
		return false
	}
	i, col, row := 6, 0, 0
	for ; i < 9 && b[i] >= 'A' && b[i] <= 'Z'; i++ {
		col = col*26 + int(b[i]-'A') + 1
	}
	for ; i < 17 && b[i] >= '0' && b[i] <= '9'; i++ {
		row = row*10 + int(b[i]-'0')
	}
	col--
	if b[i] != '"' || row != s.row || col != s.col || col >= maxColumns || len(s.t.cells) >= maxCells {
		return false
	}
	i++
	style, kindName := 0, ""
	if b = b[i:]; len(b) > 12 && string(b[:4]) == ` s="` {
		for i = 4; i < 10 && b[i] >= '0' && b[i] <= '9'; i++ {
			style = style*10 + int(b[i]-'0')
		}
		if i == 4 || b[i] != '"' || style > 0 && style >= len(s.b.dates) {
			return false
		}
		b = b[i+1:]
	}
	if len(b) > 6 && string(b[:4]) == ` t="` && b[5] == '"' {
		switch b[4] {
		case 's':
			kindName = "s"
		case 'n':
		default:
			return false
		}
		b = b[6:]
	}
	if len(b) < 4 || string(b[:4]) != "><v>" {
		return false
	}
	b = b[4:]
	n := 0
	for n < len(b) && n < 32 && b[n] != '<' {
		n++
	}
	if n == 0 || !bytes.HasPrefix(b[n:], []byte("</v></c>")) {
		return false
	}
	c, err := s.value(kindName, style, b[:n:cap(b)])
	if err != nil {
		return false
	}
	s.t.cells = append(s.t.cells, c)
	s.col++
	s.i = cap(s.scanner.b) - cap(b) + n + len("</v></c>")
	return true
}
