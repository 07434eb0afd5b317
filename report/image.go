package report

import (
	"bytes"
	"fmt"
	"image"
	_ "image/jpeg" // the two formats that an image may have
	"image/png"
	"math"

	"github.com/go-pdf/fpdf"
	xdraw "golang.org/x/image/draw"
)

// Limits of an image: its file and its dots.
const (
	MaxImageBytes = 8 << 20
	maxImageSide  = 12000
	maxImageDots  = 40 << 20
	keptSide      = 900 // a logo or signature needs no more at 40 mm
)

// ImageError says what is wrong with a picture that the job names.
type ImageError struct {
	Name, Found, Mend string
}

func (e *ImageError) Error() string { return e.Name + ": " + e.Found + "; " + e.Mend }

// imageInfo is a picture reduced to what the page needs: its dots, and none of
// the data about where and with what it was taken.
type imageInfo struct {
	name string
	png  []byte
	w, h float64
}

// fit is the size that fills a box without stretching.
func (m *imageInfo) fit(w, h float64) (float64, float64) {
	k := math.Min(w/m.w, h/m.h)
	return m.w * k, m.h * k
}

// loadImages decodes the images that the record names.
func (b *builder) loadImages() error {
	b.pics = map[string]*imageInfo{}
	names := []string{b.rec.Job.Company.Logo}
	for _, s := range b.rec.Signoffs {
		if s.Method == "image" {
			names = append(names, s.Image)
		}
	}
	for _, n := range names {
		data, ok := b.opt.Images[n]
		if n == "" || !ok {
			continue
		}
		m, err := CheckImage(n, data)
		if err != nil {
			return err
		}
		b.pics[n] = m
	}
	return nil
}

// CheckImage decodes a picture and gives it back without its metadata. The
// error is an *ImageError.
func CheckImage(name string, data []byte) (*imageInfo, error) {
	fail := func(found, mend string) (*imageInfo, error) { return nil, &ImageError{name, found, mend} }
	if len(data) > MaxImageBytes {
		return fail(fmt.Sprintf("the picture has %.1f MB", float64(len(data))/1e6), "save it with at most 8 MB")
	}
	c, kind, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || kind != "png" && kind != "jpeg" {
		return fail("this is not a PNG or JPEG picture", "save it as PNG or JPEG and name that file")
	}
	if c.Width < 1 || c.Height < 1 || c.Width > maxImageSide || c.Height > maxImageSide || c.Width*c.Height > maxImageDots {
		return fail(fmt.Sprintf("the picture has %d x %d dots", c.Width, c.Height), "make it smaller: at most 40 million dots")
	}
	src, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return fail("the picture is damaged: "+err.Error(), "save it again")
	}
	w, h := c.Width, c.Height
	if m := max(w, h); m > keptSide {
		w, h = max(1, w*keptSide/m), max(1, h*keptSide/m)
	}
	// On white and opaque: a page has no use for transparency, and the archive
	// standard is easier to keep without it.
	dst := image.NewRGBA(image.Rect(0, 0, w, h))
	xdraw.Draw(dst, dst.Bounds(), image.White, image.Point{}, xdraw.Src)
	xdraw.ApproxBiLinear.Scale(dst, dst.Bounds(), src, src.Bounds(), xdraw.Over, nil)
	var out bytes.Buffer
	if err := png.Encode(&out, dst); err != nil {
		return fail(err.Error(), "save it again")
	}
	return &imageInfo{name: name, png: out.Bytes(), w: float64(w), h: float64(h)}, nil
}

func (s *sheet) image(m *imageInfo, x, y, w, h float64) {
	opt := fpdf.ImageOptions{ImageType: "png"}
	s.pdf.RegisterImageOptionsReader(m.name, opt, bytes.NewReader(m.png))
	s.pdf.ImageOptions(m.name, x, y, w, h, false, opt, 0, "")
}
