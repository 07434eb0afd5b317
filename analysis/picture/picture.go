// Package picture reads the pictures that a job names: a logo, the picture of a
// signature, photographs. What leaves it is the picture and nothing else: no
// place, no time, no camera, no preview, nothing behind its end.
package picture

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"

	xdraw "golang.org/x/image/draw"
)

// What is taken: bytes of a file, dots a side and in all.
const (
	MaxBytes = 20 << 20
	maxSide  = 12000
	maxDots  = 50 << 20
)

// Error says what is wrong with a picture and how to mend it.
type Error struct{ Found, Mend string }

func (e *Error) Error() string { return e.Found + "; " + e.Mend }

// Decode gives the dots of a PNG or JPEG picture as they are stored, which may
// lie on a side. The error is an *Error.
func Decode(data []byte) (image.Image, error) {
	m, _, err := decode(data)
	return m, err
}

func decode(data []byte) (image.Image, string, error) {
	fail := func(found, mend string) (image.Image, string, error) { return nil, "", &Error{found, mend} }
	if len(data) > MaxBytes {
		return fail(fmt.Sprintf("the picture has %.1f MB", float64(len(data))/1e6), fmt.Sprintf("save it with at most %d MB", MaxBytes>>20))
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || kind != "png" && kind != "jpeg" {
		return fail("this is not a PNG or JPEG picture", "save it as PNG or JPEG and name that file")
	}
	if c.Width < 1 || c.Height < 1 || c.Width > maxSide || c.Height > maxSide || c.Width*c.Height > maxDots {
		return fail(fmt.Sprintf("the picture has %d x %d dots", c.Width, c.Height), "make it smaller: at most 50 million dots")
	}
	m, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return fail("the picture is damaged: "+err.Error(), "save it again")
	}
	return m, kind, nil
}

// Bare is a picture without anything but its dots: upright, and with side above
// zero at most that many dots long and wide. A picture that is bare already
// comes back byte for byte. The error is an *Error.
func Bare(data []byte, side int) ([]byte, error) {
	m, kind, err := decode(data)
	if err != nil {
		return nil, err
	}
	turn := orientation(data, kind)
	large := side > 0 && max(m.Bounds().Dx(), m.Bounds().Dy()) > side
	if turn == upright && !large {
		cut, whole := bareJPEG(data)
		if kind == "png" {
			cut, whole = barePNG(data)
		}
		if _, again, err := decode(cut); whole && err == nil && again == kind {
			return cut, nil
		} // else it is out of order in a way that decoding forgives: coded anew
	}
	if large {
		m = Fit(m, side)
	}
	m = turned(m, turn)
	var b bytes.Buffer
	if kind == "png" {
		err = png.Encode(&b, m)
	} else {
		err = jpeg.Encode(&b, m, &jpeg.Options{Quality: 85})
	}
	if err != nil {
		return nil, &Error{err.Error(), "save it again"}
	}
	return b.Bytes(), nil
}

// Fit makes a picture at most side dots long and wide, opaque on white.
func Fit(m image.Image, side int) *image.RGBA {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	if most := max(w, h); most > side {
		w, h = max(1, w*side/most), max(1, h*side/most)
	}
	out := image.NewRGBA(image.Rect(0, 0, w, h))
	xdraw.Draw(out, out.Bounds(), image.White, image.Point{}, xdraw.Src)
	if w == m.Bounds().Dx() {
		xdraw.Draw(out, out.Bounds(), m, m.Bounds().Min, xdraw.Over)
	} else {
		xdraw.ApproxBiLinear.Scale(out, out.Bounds(), m, m.Bounds(), xdraw.Over, nil)
	}
	return out
}
