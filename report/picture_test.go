package report

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

const (
	pictureDPI = 40
	block8     = 8  // dots a side of the blocks that are compared, about 4 mm
	blockMost  = 28 // of 255: a block whose mean differs by more is another one
	blocksMost = 6  // in a thousand blocks of a sheet
	meanMost   = 1.2
)

var greys = func() color.Palette {
	var p color.Palette
	for i := range 16 {
		p = append(p, color.Gray{uint8(i * 17)})
	}
	return p
}()

// TestPictures compares every record of the demo jobs, as a PDF program draws it,
// with the pictures in testdata/pictures. A digit or the edge of a letter may
// differ; what moved, is missing or was covered may not. Numbers and words are
// compared by TestGolden.
func TestPictures(t *testing.T) {
	program, err := exec.LookPath("pdftoppm")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("pdftoppm of poppler-utils is missing")
		}
		t.Skip("pdftoppm of poppler-utils is not here")
	}
	eachSample(t, func(t *testing.T, s sample, o Options, d *Drawn, _ []text) {
		t.Parallel()
		got := sheetOf(t, program, d.PDF)
		name := filepath.Join("testdata", "pictures", filepath.Base(t.Name())+".png")
		want, err := readPicture(name)
		if err != nil && !*update {
			t.Fatal(err)
		}
		why := "new"
		if err == nil {
			why = differs(got, want)
		}
		switch {
		case why == "": // what is the same but for digits stays as it is, also with -update
		case *update:
			writePicture(t, name, got)
		default:
			seen := filepath.Join(os.TempDir(), filepath.Base(name))
			writePicture(t, seen, got)
			t.Errorf("%s is another picture: %s; look at %s, then run the test with -update", name, why, seen)
		}
	})
}

// sheetOf draws all pages beside each other in 16 greys.
func sheetOf(t *testing.T, program string, pdf []byte) *image.Paletted {
	t.Helper()
	dir := t.TempDir()
	file := filepath.Join(dir, "p.pdf")
	if err := os.WriteFile(file, pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command(program, "-r", fmt.Sprint(pictureDPI), "-gray", file, filepath.Join(dir, "p")).CombinedOutput(); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	names, _ := filepath.Glob(filepath.Join(dir, "p-*.pgm"))
	var pages []*image.Gray
	w, h := 0, 0
	for _, n := range names {
		p := readPGM(t, n)
		pages = append(pages, p)
		w, h = w+p.Rect.Dx(), max(h, p.Rect.Dy())
	}
	out := image.NewPaletted(image.Rect(0, 0, w, h), greys)
	x := 0
	for _, p := range pages {
		for i, v := range p.Pix {
			out.Pix[i/p.Stride*w+x+i%p.Stride] = v >> 4
		}
		x += p.Rect.Dx()
	}
	return out
}

func readPGM(t *testing.T, name string) *image.Gray {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	var w, h, most int
	if _, err := fmt.Sscanf(string(data[:min(len(data), 40)]), "P5\n%d %d\n%d\n", &w, &h, &most); err != nil || most != 255 || len(data) < w*h {
		t.Fatalf("%s is no grey picture: %v", name, err)
	}
	return &image.Gray{Pix: data[len(data)-w*h:], Stride: w, Rect: image.Rect(0, 0, w, h)}
}

func writePicture(t *testing.T, name string, m *image.Paletted) {
	t.Helper()
	var b bytes.Buffer
	if err := (&png.Encoder{CompressionLevel: png.BestCompression}).Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(name, b.Bytes(), 0o666); err != nil {
		t.Fatal(err)
	}
}

func readPicture(name string) (*image.Paletted, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	m, err := png.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	p, ok := m.(*image.Paletted)
	if !ok {
		return nil, fmt.Errorf("%s has no palette of greys", name)
	}
	return p, nil
}

// differs says in what two sheets differ, "" where they are the same but for
// digits and the edges of letters.
func differs(got, want *image.Paletted) string {
	if got.Rect != want.Rect {
		return fmt.Sprintf("it has %d x %d dots, not %d x %d", got.Rect.Dx(), got.Rect.Dy(), want.Rect.Dx(), want.Rect.Dy())
	}
	w, h := got.Rect.Dx(), got.Rect.Dy()
	total, blocks, moved := 0, 0, []string{}
	for y := 0; y+block8 <= h; y += block8 {
		for x := 0; x+block8 <= w; x += block8 {
			sum := 0
			for j := range block8 {
				for i := range block8 {
					k := (y+j)*w + x + i
					e := 17 * (int(got.Pix[k]) - int(want.Pix[k]))
					sum += e
					total += max(e, -e)
				}
			}
			blocks++
			if sum = max(sum, -sum); sum > blockMost*block8*block8 {
				moved = append(moved, fmt.Sprintf("%d,%d", x, y))
			}
		}
	}
	if mean := float64(total) / float64(w*h); mean > meanMost || len(moved) > blocksMost*blocks/1000 {
		return fmt.Sprintf("mean difference %.2f (at most %g), %d of %d blocks (at most %d in 1000), such as at %s",
			mean, meanMost, len(moved), blocks, blocksMost, strings.Join(moved[:min(len(moved), 4)], " "))
	}
	return ""
}
