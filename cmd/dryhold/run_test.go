package main

import (
	"os"
	"slices"
	"testing"
)

// TestExpanded: patterns as a Windows user writes them.
func TestExpanded(t *testing.T) {
	t.Chdir(t.TempDir())
	for _, name := range []string{"a.pdf", "b.pdf", "c.txt"} {
		if err := os.WriteFile(name, nil, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	got := expanded([]string{"verify", "*.pdf", "none*.pdf", "c.txt", "[x"})
	if want := []string{"verify", "a.pdf", "b.pdf", "none*.pdf", "c.txt", "[x"}; !slices.Equal(got, want) {
		t.Errorf("got %q, want %q", got, want)
	}
}
