package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
)

// marked is a picture of w x h dots whose upper left quarter is black.
func marked(w, h int) image.Image {
	m := image.NewGray(image.Rect(0, 0, w, h))
	for i := range m.Pix {
		m.Pix[i] = 255
	}
	for y := range h / 2 {
		for x := range w / 2 {
			m.SetGray(x, y, color.Gray{0})
		}
	}
	return m
}

func jpegOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func pngOf(t testing.TB, m image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// segment is a JPEG segment as T.81, B.1.1.4 has it.
func segment(marker byte, body []byte) []byte {
	return append(append([]byte{0xFF, marker}, binary.BigEndian.AppendUint16(nil, uint16(len(body)+2))...), body...)
}

// camera puts in what cameras write: an Exif directory with an orientation and a
// pointer to a directory with a place (GPS), a comment, a preview behind the end.
func camera(pic []byte, orientation uint16) []byte {
	t := []byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08")
	t = append(t, 0, 2)
	t = append(t, 0x01, 0x12, 0, 3, 0, 0, 0, 1, byte(orientation>>8), byte(orientation), 0, 0)
	t = append(t, 0x88, 0x25, 0, 4, 0, 0, 0, 1, 0, 0, 0, 38) // GPSInfo
	t = append(t, 0, 0, 0, 0)
	t = append(t, 0, 1, 0, 1, 0, 2, 0, 0, 0, 2, 'N', 0, 0, 0)
	t = append(t, "GPS 39.7 N 104.9 W"...)
	out := append([]byte{}, pic[:2]...)
	out = append(out, segment(app1, t)...)
	out = append(out, segment(app1, []byte("http://ns.adobe.com/xap/1.0/\x00GPSLatitude"))...)
	out = append(out, segment(com, []byte("GPS in a comment"))...)
	out = append(out, pic[2:]...)
	return append(out, "GPS behind the end"...)
}

func chunk(kind, body string) []byte {
	b := append(binary.BigEndian.AppendUint32(nil, uint32(len(body))), kind...)
	b = append(b, body...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

func TestBareTellsNothing(t *testing.T) {
	pngs := pngOf(t, marked(64, 48))
	at := len(pngs) - 12 // before IEND
	told := bytes.Join([][]byte{pngs[:at], chunk("tEXt", "Comment\x00GPS 39.7"), chunk("eXIf", "MM\x00*GPS"), pngs[at:], []byte("GPS")}, nil)
	for name, data := range map[string][]byte{"jpeg": camera(jpegOf(t, marked(64, 48)), 1), "turned jpeg": camera(jpegOf(t, marked(64, 48)), 6), "png": told, "large": camera(jpegOf(t, marked(640, 480)), 1)} {
		if !bytes.Contains(data, []byte("GPS")) {
			t.Fatalf("%s: the picture told no place before", name)
		}
		bare, err := Bare(data, 400)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if bytes.Contains(bare, []byte("GPS")) || bytes.Contains(bare, []byte("Exif")) || bytes.Contains(bare, []byte("http")) {
			t.Errorf("%s: the picture still tells where it was taken", name)
		}
		again, err := Bare(bare, 400)
		if err != nil || !bytes.Equal(again, bare) {
			t.Errorf("%s: a bare picture was changed: %v", name, err)
		}
	}
}

// Without turning or making smaller the dots stay the same, since nothing is coded anew.
func TestBareKeepsTheDots(t *testing.T) {
	for name, data := range map[string][]byte{"jpeg": camera(jpegOf(t, marked(64, 48)), 1), "png": pngOf(t, marked(64, 48))} {
		bare, err := Bare(data, 0)
		if err != nil {
			t.Fatal(name, err)
		}
		was, _ := Decode(data)
		now, err := Decode(bare)
		if err != nil {
			t.Fatal(name, err)
		}
		for y := range 48 {
			for x := range 64 {
				if was.At(x, y) != now.At(x, y) {
					t.Fatalf("%s: the dot at %d, %d changed", name, x, y)
				}
			}
		}
	}
}

// Where the black quarter comes to lie by orientation: CIPA DC-008, Orientation
// tells which sides of the scene row 0 and column 0 of the stored picture are.
func TestUpright(t *testing.T) {
	corner := map[uint16][2]bool{ // at the right, at the bottom
		1: {false, false}, 2: {true, false}, 3: {true, true}, 4: {false, true},
		5: {false, false}, 6: {true, false}, 7: {true, true}, 8: {false, true},
	}
	for o, want := range corner {
		bare, err := Bare(camera(jpegOf(t, marked(64, 32)), o), 0)
		if err != nil {
			t.Fatal(err)
		}
		m, err := Decode(bare)
		if err != nil {
			t.Fatal(err)
		}
		w, h := m.Bounds().Dx(), m.Bounds().Dy()
		if (w > h) != (o < 5) {
			t.Errorf("orientation %d: %d x %d", o, w, h)
		}
		x, y := w/4, h/4
		if want[0] {
			x = 3 * w / 4
		}
		if want[1] {
			y = 3 * h / 4
		}
		if r, _, _, _ := m.At(x, y).RGBA(); r > 0x4000 {
			t.Errorf("orientation %d: the corner is not at %d, %d", o, x, y)
		}
	}
}

func TestFaults(t *testing.T) {
	jpg := jpegOf(t, marked(64, 48))
	for name, data := range map[string][]byte{"text": []byte("no picture"), "cut": jpg[:len(jpg)/2], "large": make([]byte, MaxBytes+1), "empty": nil,
		"dots": append(append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", "\x00\x00\x40\x00\x00\x00\x40\x00\x08\x00\x00\x00\x00")...), chunk("IEND", "")...)} {
		_, err := Bare(data, 0)
		var e *Error
		if !errors.As(err, &e) || e.Found == "" || e.Mend == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func FuzzBare(f *testing.F) {
	f.Add(camera(jpegOf(f, marked(16, 16)), 6))
	f.Add(pngOf(f, marked(16, 16)))
	f.Fuzz(func(t *testing.T, data []byte) {
		if c, _, err := image.DecodeConfig(bytes.NewReader(data)); err == nil && c.Width*c.Height > 1<<16 {
			t.Skip("large: slow to decode")
		}
		bare, err := Bare(data, 64)
		if err != nil {
			return
		}
		again, err := Bare(bare, 64)
		if err != nil || !bytes.Equal(again, bare) {
			t.Errorf("a bare picture was changed: %v", err)
		}
	})
}
