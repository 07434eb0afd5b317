package readings

import "fmt"

// readShared reads the shared strings, plain or rich, into one stretch of bytes.
func (b *book) readShared() error {
	if b.strings == "" {
		return nil
	}
	data, err := b.a.read(b.strings, maxUnpacked)
	if err != nil {
		return err
	}
	s := newScanner(data)
	for {
		if _, err := s.next(); err != nil {
			return fmt.Errorf("the part %s: %w", b.strings, err)
		}
		switch {
		case s.tag == tagEOF:
			return nil
		case s.is("si") && s.tag != tagEnd:
			if b.shared, err = appendString(b.shared, s); err != nil {
				return fmt.Errorf("the part %s: %w", b.strings, err)
			}
			if len(b.ends) >= maxCells {
				return fmt.Errorf("it has more than %d shared strings", maxCells)
			}
			b.ends = append(b.ends, uint32(len(b.shared)))
		}
	}
}

// appendString appends the text of the <si> or <is> tag that was just opened:
// its <t> and those of its runs, without the reading aids of East Asian text.
func appendString(out []byte, s *scanner) ([]byte, error) {
	if s.tag == tagEmpty {
		return out, nil
	}
	depth := len(s.open)
	inText := false
	for len(s.open) >= depth {
		before, err := s.next()
		if err != nil {
			return out, err
		}
		if inText {
			if out, err = appendText(out, before); err != nil {
				return out, err
			}
			if s.tag != tagEnd {
				return out, errXMLForm
			}
		}
		inText = s.tag == tagOpen && s.is("t")
		if s.tag == tagOpen && s.is("rPh") {
			if err := s.skip(); err != nil {
				return out, err
			}
		}
	}
	return out, nil
}
