package issue

import (
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"testing"
)

// TestFormLeads: a job.toml follows its form until somebody edits it by hand.
func TestFormLeads(t *testing.T) {
	dir := t.TempDir()
	put := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	check := func(what string, want bool) {
		t.Helper()
		if got := formLeads(dir); got != want {
			t.Errorf("%s: %v", what, got)
		}
	}
	check("an empty folder", false)
	put(formName, "a workbook")
	check("a form alone", true)
	body := "format = 1\n"
	sum := sha256.Sum256([]byte(body))
	first := fmt.Sprintf("# made from the job form, %x: change the form, and this file follows; edited by hand, it stays\n", sum[:8])
	put(jobName, first+body)
	check("a job file that the form made", true)
	put(jobName, first+body+"# mine\n")
	check("one that was edited", false)
	put(jobName, body)
	check("one of somebody's own", false)
}
