package picture

import (
	"encoding/binary"
	"image"
)

// upright is the orientation of a picture that needs no turning.
const upright = 1

// orientation is how a camera says that the picture is to be turned: 1 to 8
// (Exif tag 0x0112 of the first directory, CIPA DC-008).
func orientation(data []byte, kind string) int {
	if kind != "jpeg" {
		return upright
	}
	t := exif(data)
	if len(t) < 8 {
		return upright
	}
	var order binary.ByteOrder = binary.LittleEndian
	if string(t[:2]) == "MM" {
		order = binary.BigEndian
	}
	at := int64(order.Uint32(t[4:]))
	if at+2 > int64(len(t)) {
		return upright
	}
	for n := int64(order.Uint16(t[at:])); n > 0; n-- {
		e := at + 2 + 12*(n-1)
		if e+12 > int64(len(t)) || order.Uint16(t[e:]) != 0x0112 {
			continue
		}
		if v := int(order.Uint16(t[e+8:])); v >= 1 && v <= 8 {
			return v
		}
	}
	return upright
}

// turned is the picture upright.
func turned(m image.Image, orientation int) image.Image {
	b := m.Bounds()
	w, h := b.Dx(), b.Dy()
	// from tells where the dot at x, y of the upright picture is stored.
	from := map[int]func(x, y int) (int, int){
		2: func(x, y int) (int, int) { return w - 1 - x, y },
		3: func(x, y int) (int, int) { return w - 1 - x, h - 1 - y },
		4: func(x, y int) (int, int) { return x, h - 1 - y },
		5: func(x, y int) (int, int) { return y, x },
		6: func(x, y int) (int, int) { return y, h - 1 - x },
		7: func(x, y int) (int, int) { return w - 1 - y, h - 1 - x },
		8: func(x, y int) (int, int) { return w - 1 - y, x },
	}[orientation]
	if from == nil {
		return m
	}
	ow, oh := w, h
	if orientation > 4 {
		ow, oh = h, w
	}
	out := image.NewRGBA(image.Rect(0, 0, ow, oh))
	for y := range oh {
		for x := range ow {
			sx, sy := from(x, y)
			out.Set(x, y, m.At(b.Min.X+sx, b.Min.Y+sy))
		}
	}
	return out
}
