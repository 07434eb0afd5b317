package readings

import (
	"bytes"
	"compress/gzip"
	"runtime"
	"testing"
	"time"
)

// read must not panic, hang or lose count, whatever the bytes are.
func fuzzRead(t *testing.T, f File) {
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	s, l := Read([]File{f}, Options{ID: "r", Zone: time.UTC, JobDate: start, Start: start, Atmosphere: 101325})
	runtime.ReadMemStats(&after)
	if used := after.TotalAlloc - before.TotalAlloc; len(f.Data) < 200<<10 && used > 500<<20 {
		t.Fatalf("%d bytes cost %d MB", len(f.Data), used>>20)
	}
	if (s == nil) != l.Stops() {
		t.Fatalf("series %v with faults %v", s, l)
	}
	for _, x := range l {
		if x.Found == "" {
			t.Fatalf("a fault without words: %+v", x)
		}
	}
	if s != nil {
		balanced(t, s)
	}
}

func FuzzText(f *testing.F) {
	for seed := range uint64(24) {
		if file, _ := generate(seed); file.Data[0] != 'P' && file.Data[0] != 0x1f {
			f.Add(file.Data)
		}
	}
	f.Add([]byte("Time,Vacuum (micron)\n2031-11-02 01:50:00 PM,>25.000\n9 Apr 31 1:02:03.5 a.m.,1e400\n"))
	f.Add([]byte("Elapsed;Druck [mbar]\n99:59:59,5;1'000,5\n"))
	f.Fuzz(func(t *testing.T, data []byte) { fuzzRead(t, File{"r.csv", data}) })
}

func FuzzSheet(f *testing.F) {
	f.Add(sheetHead + header + `<row r="2"><c r="A2" t="str"><v>2031-04-09 10:00:00</v></c><c r="B2"><v>5</v></c></row></sheetData><mergeCells><mergeCell ref="A1:A2"/></mergeCells></worksheet>`)
	f.Add(sheetHead + `<row><c t="inlineStr"><is><r><t>a_x000D_&amp;</t></r></is></c></row></sheetData></worksheet>`)
	f.Fuzz(func(t *testing.T, sheet string) { fuzzRead(t, File{"r.xlsx", handBook(t, sheet)}) })
}

func FuzzBook(f *testing.F) {
	f.Add(makeBook(f, 3))
	f.Fuzz(func(t *testing.T, data []byte) { fuzzRead(t, File{"r.xlsx", data}) })
}

func FuzzStamp(f *testing.F) {
	for _, s := range []string{"2031-04-09T10:00:00.5+02:00", "9. April 2031, 10:00 Uhr", "04/09/31 1:02 p.m.", "20310409T100000Z", "mar. 9 avr. 2031"} {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, b []byte) {
		s := &stamper{}
		one, ok1 := s.read(b)
		two, ok2 := s.read(b) // now by memory
		if ok1 != ok2 || one != two {
			t.Fatalf("%q: %v %v, then %v %v", b, one, ok1, two, ok2)
		}
	})
}

// TestBombs: small files that unpack to much are refused at little cost.
func TestBombs(t *testing.T) {
	pack := func(s string, n int) []byte {
		var out bytes.Buffer
		z := gzip.NewWriter(&out)
		_, err := z.Write([]byte("Time,Vacuum (Pa)\n"))
		check(t, err)
		_, err = z.Write(bytes.Repeat([]byte(s), n))
		check(t, err)
		check(t, z.Close())
		return out.Bytes()
	}
	for _, data := range [][]byte{pack(",", 30<<20), pack("\n", 60<<20), pack("2031-04-09 10:00:00,5\n", 1<<20), pack("\"\"\"\"", 8<<20), pack("a", 100<<20), pack("\xe9", 60<<20)} {
		fuzzRead(t, File{"r.csv.gz", data})
	}
	for _, s := range []string{"<row/>", "<row><c/></row>", `<row><c r="SR1"/></row>`, "<a>"} {
		fuzzRead(t, File{"r.xlsx", handBook(t, sheetHead+string(bytes.Repeat([]byte(s), (100<<20)/len(s)))+"</sheetData></worksheet>")})
	}
}
