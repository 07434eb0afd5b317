package place

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

// Of two runs that place one record, the one that placed the claim keeps it, even
// where the other has completed the record before it came to its second file.
func TestClaim(t *testing.T) {
	out, err := Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	defer out.Close()
	claim, page := File{Name: "EX-1.results.json", Data: []byte("results")}, File{Name: "EX-1.inspector.pdf", Data: []byte("ours")}
	if err := out.Put([]File{{Name: page.Name, Data: []byte("theirs")}}); err != nil {
		t.Fatal(err)
	}
	if err := out.Put([]File{claim, page}); err != nil {
		t.Errorf("a record that another run completed: %v", err)
	}
	for name, want := range map[string]string{claim.Name: "results", page.Name: "theirs"} {
		if data, err := os.ReadFile(filepath.Join(out.Dir, name)); err != nil || string(data) != want {
			t.Errorf("%s holds %q, %v; want %q", name, data, err, want)
		}
	}
	if err := out.Put([]File{claim, {Name: "EX-1.warranty.pdf"}}); !errors.Is(err, fs.ErrExist) {
		t.Errorf("a claim that is taken: %v", err)
	}
	if out.Exists("EX-1.warranty.pdf") {
		t.Error("a file was placed without the claim")
	}
}
