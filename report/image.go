package report

import (
	"bytes"
	"errors"
	"image"
	"image/jpeg"
	"image/png"
	"math"

	pictures "dryhold/analysis/picture"

	"github.com/go-pdf/fpdf"
)

// Dots a side that a page needs: of a logo or signature at 40 mm, of a photograph.
const (
	logoSide  = 900
	photoSide = 1000
)

// ImageError says what is wrong with a picture that the job names.
type ImageError struct {
	Name, Found, Mend string
}

func (e *ImageError) Error() string { return e.Name + ": " + e.Found + "; " + e.Mend }

// imageInfo is a picture reduced to what the page needs: its dots, and none of
// the data about where and with what it was taken.
type imageInfo struct {
	name, kind string
	data       []byte
	w, h       float64
}

// fit is the size that fills a box without stretching.
func (m *imageInfo) fit(w, h float64) (float64, float64) {
	k := math.Min(w/m.w, h/m.h)
	return m.w * k, m.h * k
}

// loadImages decodes the images that the record names.
func (b *builder) loadImages() error {
	b.pics = map[string]*imageInfo{}
	widths := map[int]bool{}
	load := func(name string, photo bool) error {
		data, ok := b.opt.Images[name]
		if name == "" || !ok || b.pics[name] != nil {
			return nil
		}
		m, err := reduced(name, data, photo, widths)
		b.pics[name] = m
		return err
	}
	errs := []error{load(b.rec.Job.Company.Logo, false)}
	for _, s := range b.rec.Signoffs {
		if s.Method == "image" {
			errs = append(errs, load(s.Image, false))
		}
	}
	for _, p := range b.rec.Photographs {
		errs = append(errs, load(p.File, true))
	}
	return errors.Join(errs...)
}

// reduced is a picture for the page: opaque on white, since the archive standard
// is easier to keep without transparency, and of a width that no other has,
// since pictures of equal width go into a document in any order. The error is an
// *ImageError.
func reduced(name string, data []byte, photo bool, widths map[int]bool) (*imageInfo, error) {
	src, err := pictures.Decode(data)
	if err != nil {
		e := &ImageError{Name: name, Found: err.Error()}
		if bad := (*pictures.Error)(nil); errors.As(err, &bad) {
			e.Found, e.Mend = bad.Found, bad.Mend
		}
		return nil, e
	}
	side := logoSide
	if photo {
		side = photoSide
	}
	size := src.Bounds()
	wide := func(side int) int {
		return size.Dx() * min(side, max(size.Dx(), size.Dy())) / max(size.Dx(), size.Dy())
	}
	for side > 1 && widths[wide(side)] {
		side--
	}
	m := pictures.Fit(src, side)
	widths[m.Rect.Dx()] = true
	info := &imageInfo{name: name, kind: "png", w: float64(m.Rect.Dx()), h: float64(m.Rect.Dy())}
	if photo {
		info.kind = "jpg"
	}
	info.data, err = coded(m, photo)
	return info, err
}

func coded(m image.Image, photo bool) ([]byte, error) {
	var out bytes.Buffer
	if photo {
		err := jpeg.Encode(&out, m, &jpeg.Options{Quality: 80})
		return out.Bytes(), err
	}
	err := png.Encode(&out, m)
	return out.Bytes(), err
}

func (s *sheet) image(m *imageInfo, x, y, w, h float64) {
	opt := fpdf.ImageOptions{ImageType: m.kind}
	s.pdf.RegisterImageOptionsReader(m.name, opt, bytes.NewReader(m.data))
	s.flush()
	s.pdf.ImageOptions(m.name, x, y, w, h, false, opt, 0, "")
}
