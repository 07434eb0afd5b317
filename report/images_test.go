package report

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	pictures "dryhold/analysis/picture"
	"dryhold/analysis/record"
	"dryhold/report/seal"
)

func picture2(t *testing.T, kind string) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 300, 90))
	for x := range 300 {
		m.Set(x, 40, color.Black)
	}
	var b bytes.Buffer
	var err error
	if kind == "png" {
		err = png.Encode(&b, m)
	} else {
		err = jpeg.Encode(&b, m, nil)
	}
	if err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestImages(t *testing.T) {
	jpg := picture2(t, "jpeg")
	// An APP1 segment as cameras write it, with a place in it.
	marked := append(append(append([]byte{}, jpg[:2]...), 0xFF, 0xE1, 0, 22), append([]byte("Exif\x00\x00GPS 12.34 N .."), jpg[2:]...)...)
	r, o := testRecord(), testOptions("inspector")
	r.Job.Company.Logo = "logo.png"
	r.Signoffs = append(r.Signoffs, record.Signoff{Role: "customer", Name: "B. Example", Method: "image", Image: "sign.jpg"})
	o.Images = map[string][]byte{"logo.png": picture2(t, "png"), "sign.jpg": marked}
	d, all := drawn(t, r, o)
	inside(t, o, all)
	if bytes.Contains(d.PDF, []byte("GPS")) {
		t.Error("the picture's place is in the document")
	}
	for name, data := range map[string][]byte{"text": []byte("no picture"), "cut": jpg[:len(jpg)/4], "large": make([]byte, pictures.MaxBytes+1), "empty": nil} {
		_, err := reduced(name, data, false, map[int]bool{})
		var e *ImageError
		if !errors.As(err, &e) || e.Mend == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestPhotographs: photographs lie inside the page with their captions as texts in
// their place, leave the warranty desk's page as it is, and several pictures of one
// size give the same bytes.
func TestPhotographs(t *testing.T) {
	r := testRecord()
	r.Attempts, r.Hold.Cause, r.Hold.Inflow = nil, "none", false
	o := testOptions("warranty")
	o.Images = map[string][]byte{}
	for i, n := range []string{"a.jpg", "b.jpg", "c.jpg", "d.jpg", "e.jpg"} {
		m := image.NewGray(image.Rect(0, 0, 300, 200))
		m.SetGray(i, 10*i, color.Gray{255})
		var b bytes.Buffer
		if err := jpeg.Encode(&b, m, nil); err != nil {
			t.Fatal(err)
		}
		o.Images[n] = b.Bytes()
		r.Photographs = append(r.Photographs, record.Photograph{File: n, Caption: "flare " + n})
	}
	first, all := drawn(t, r, o)
	inside(t, o, all)
	if first.Pages != 2 {
		t.Errorf("%d pages", first.Pages)
	}
	seen := 0
	var walk func(e seal.Element)
	walk = func(e seal.Element) {
		if e.Kind == "Figure" && strings.HasPrefix(e.Alt, "flare ") {
			seen++
		}
		for _, c := range e.Children {
			walk(c)
		}
	}
	for _, e := range first.Structure {
		walk(e)
	}
	if seen != 5 {
		t.Errorf("%d of 5 photographs have a text in their place", seen)
	}
	for range 8 {
		if d, _ := drawn(t, r, o); !bytes.Equal(d.PDF, first.PDF) {
			t.Fatal("two drawings differ")
		}
	}
}
