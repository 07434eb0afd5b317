package readings

import "strings"

// readStyles finds out which cell styles show a number as a date or time.
func (b *book) readStyles() error {
	if b.styles == "" {
		return nil
	}
	var s struct {
		Formats []struct {
			ID   int    `xml:"numFmtId,attr"`
			Code string `xml:"formatCode,attr"`
		} `xml:"numFmts>numFmt"`
		Cells []struct {
			Format int `xml:"numFmtId,attr"`
		} `xml:"cellXfs>xf"`
	}
	if err := b.a.decode(b.styles, &s); err != nil {
		return err
	}
	own := map[int]bool{}
	for _, f := range s.Formats {
		own[f.ID] = dateCode(f.Code)
	}
	for _, c := range s.Cells {
		is, ok := own[c.Format]
		b.dates = append(b.dates, is || !ok && builtInDate(c.Format))
	}
	return nil
}

// builtInDate lists the formats that a file need not define (ECMA-376 part 1,
// 18.8.30), with the national ones.
func builtInDate(id int) bool {
	return id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58
}

// dateCode reports a format code with a letter of date or time outside of
// quoted text, escapes and brackets that are no elapsed time.
func dateCode(code string) bool {
	code, _, _ = strings.Cut(strings.ToLower(code), ";")
	for i := 0; i < len(code); i++ {
		switch code[i] {
		case '"':
			j := strings.IndexByte(code[i+1:], '"')
			if j < 0 {
				return false
			}
			i += j + 1
		case '\\', '_', '*':
			i++
		case '[':
			j := strings.IndexByte(code[i:], ']')
			if j < 0 {
				return false
			}
			if in := code[i+1 : i+j]; strings.Trim(in, "h") == "" || strings.Trim(in, "m") == "" || strings.Trim(in, "s") == "" {
				return true
			}
			i += j
		case 'y', 'd', 'h', 's', 'm':
			return true
		case 'g': // "General"
			if strings.HasPrefix(code[i:], "general") {
				i += len("general") - 1
			}
		}
	}
	return false
}
