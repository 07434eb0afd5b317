package main

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
)

// photograph is a picture of 2,000 x 1,500 dots with a place in it as cameras
// write it: an APP1 segment of Exif with a GPS directory (CIPA DC-008).
func photograph(t *testing.T) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, 2000, 1500))
	for y := range 1500 {
		for x := range 2000 {
			m.Set(x, y, color.RGBA{uint8(x / 8), uint8(y / 6), 90, 255})
		}
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	app1 := "Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x88\x25\x00\x04\x00\x00\x00\x01\x00\x00\x00\x1a\x00\x00\x00\x00" +
		"\x00\x01\x00\x01\x00\x02\x00\x00\x00\x02N\x00\x00\x00\x00\x00\x00\x00GPS 39.7"
	head := append([]byte{0xFF, 0xD8, 0xFF, 0xE1, 0, byte(len(app1) + 2)}, app1...)
	return append(head, b.Bytes()[2:]...)
}

// TestPhotograph: a record shows a photograph and carries it without its place;
// it verifies, and what is extracted makes the same record.
func TestPhotograph(t *testing.T) {
	dir := t.TempDir()
	job := filepath.Join(dir, "job")
	if err := os.CopyFS(job, os.DirFS("../../samples/slow-leak")); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(job, "job.toml"))
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{"joint.jpg", "hall.jpg"} {
		text = append(text, "\n[[photograph]]\nfile = \""+name+"\"\ncaption = \"flare at the indoor unit\"\n"...)
		write(t, filepath.Join(job, name), photograph(t))
	}
	write(t, filepath.Join(job, "job.toml"), text)
	company, err := os.ReadFile("../../samples/company.toml")
	if err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(dir, "company.toml"), append(company, "audience = [\"inspector\", \"warranty\"]\n"...))
	out := filepath.Join(dir, "records")
	run := func(args ...string) {
		t.Helper()
		if said, err := dryhold(t, args...).CombinedOutput(); err != nil {
			t.Fatalf("%v: %v\n%s", args, err, said)
		}
	}
	run("make", job, "--out", out)
	record := filepath.Join(out, "2031-0533.inspector.pdf")
	run("verify", record, filepath.Join(out, "2031-0533.warranty.pdf"))
	back := filepath.Join(dir, "back")
	run("extract", record, "--out", back)
	kept, err := filepath.Glob(filepath.Join(back, "*", "joint.jpg"))
	if err != nil || len(kept) == 0 {
		kept, _ = filepath.Glob(filepath.Join(back, "joint.jpg"))
	}
	if len(kept) != 1 {
		t.Fatalf("the photograph was not given back: %v", kept)
	}
	for _, name := range append(kept, record) {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte("GPS 39.7")) || bytes.Contains(data, []byte("Exif\x00")) {
			t.Errorf("%s tells where the photograph was taken", name)
		}
	}
	m, err := os.ReadFile(kept[0])
	if err != nil {
		t.Fatal(err)
	}
	if c, err := jpeg.DecodeConfig(bytes.NewReader(m)); err != nil || c.Width != 1600 {
		t.Errorf("%d dots wide: %v", c.Width, err)
	}
	if _, err := exec.LookPath("qpdf"); err == nil { // what is compressed inside too
		flat := filepath.Join(dir, "flat.pdf")
		if said, err := exec.Command("qpdf", "--stream-data=uncompress", record, flat).CombinedOutput(); err != nil {
			t.Fatalf("%v: %s", err, said)
		}
		data, err := os.ReadFile(flat)
		if err != nil {
			t.Fatal(err)
		}
		if bytes.Contains(data, []byte("GPS 39.7")) || !bytes.Contains(data, []byte("joint.jpg")) {
			t.Error("the record tells where the photograph was taken, or has none")
		}
	} else if os.Getenv("CI") == "true" {
		t.Error("qpdf is missing")
	}
	again := filepath.Join(dir, "again")
	run("make", filepath.Dir(kept[0]), "--out", again)
	one, _ := os.ReadFile(filepath.Join(out, "2031-0533.results.json"))
	two, err := os.ReadFile(filepath.Join(again, "2031-0533.results.json"))
	if err != nil || !bytes.Equal(one, two) {
		t.Errorf("what was extracted makes another record: %v", err)
	}
}
