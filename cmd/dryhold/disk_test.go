package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
)

// A full disk, and one that cannot be written: nothing half is left, and it is said.
func TestBadDisk(t *testing.T) {
	if runtime.GOOS != "linux" || os.Getuid() != 0 {
		t.Skip("a small file system can be mounted by root on Linux only")
	}
	dir := t.TempDir()
	jobs, records, disk := filepath.Join(dir, "jobs"), filepath.Join(dir, "records"), filepath.Join(dir, "disk")
	jobsIn(t, jobs, 1)
	if out, err := dryhold(t, "make", jobs, "--out", records).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	if err := os.Mkdir(disk, 0o777); err != nil {
		t.Fatal(err)
	}
	record := filepath.Join(records, "N-000.inspector.pdf")
	for options, says := range map[string]string{"size=32k": "no space left", "ro": "read-only"} {
		if out, err := exec.Command("mount", "-t", "tmpfs", "-o", options, "tmpfs", disk).CombinedOutput(); err != nil {
			t.Skipf("no file system can be mounted here: %s", out)
		}
		for _, args := range [][]string{
			{"make", jobs, "--out", disk},
			{"make", jobs, "--out", disk, "--withhold", "customer"},
			{"extract", record, "--out", filepath.Join(disk, "job")},
			{"compare", record, record, "--out", filepath.Join(disk, "page.pdf")},
		} {
			out, err := dryhold(t, args...).CombinedOutput()
			var exit *exec.ExitError
			if !errors.As(err, &exit) || exit.ExitCode() != 1 || !bytes.Contains(out, []byte(says)) {
				t.Errorf("%s, %s: %v\n%s", options, args[0], err, out)
			}
			if entries, _ := os.ReadDir(disk); len(entries) != 0 {
				t.Errorf("%s, %s: left behind: %v", options, args[0], entries)
			}
		}
		if err := exec.Command("umount", disk).Run(); err != nil {
			t.Fatal(err)
		}
	}
}
