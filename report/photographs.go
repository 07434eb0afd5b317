package report

import "math"

// photographs stand on pages of their own, two abreast, with what they show.
// Nothing was worked out from them.
func (b *builder) photographs() []section {
	var tiles []tile
	for _, p := range b.rec.Photographs {
		if m := b.pics[p.File]; m != nil {
			tiles = append(tiles, tile{m, clean(p.Caption), b.sc.note})
		}
	}
	if len(tiles) == 0 {
		return nil
	}
	abreast := min(2, len(tiles))
	var blocks []block
	for len(tiles) > 0 {
		n := min(abreast, len(tiles))
		blocks = append(blocks, tileRow(tiles[:n], abreast))
		tiles = tiles[n:]
	}
	sec := b.titled("photographs", blocks...)
	sec.fresh = true
	return []section{sec}
}

// tile is a photograph over its caption.
type tile struct {
	m       *imageInfo
	caption string
	st      style
}

// height of the photograph and of the whole tile.
func (t tile) height(w float64) (photo, all float64) {
	_, photo = t.m.fit(w, 90*mm)
	return photo, photo + 3 + para{text: t.caption, st: t.st}.height(w)
}

func tileRow(tiles []tile, abreast int) block {
	const apart = 5 * mm
	each := func(w float64) float64 { return (w - apart*float64(abreast-1)) / float64(abreast) }
	return custom{h: func(w float64) float64 {
		h := 0.0
		for _, t := range tiles {
			_, all := t.height(each(w))
			h = math.Max(h, all)
		}
		return h + 4
	}, paint: func(s *sheet, x, y, w float64) {
		for _, t := range tiles {
			tw := each(w)
			photo, _ := t.height(tw)
			iw, ih := t.m.fit(tw, 90*mm)
			n := s.mark("Figure", func() { s.image(t.m, x, y, iw, ih) })
			n.Alt = t.caption
			s.paragraph("P", x, y+photo+3, tw, t.caption, t.st)
			x += tw + apart
		}
	}}
}
