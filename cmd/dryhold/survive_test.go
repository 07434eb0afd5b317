package main

import (
	"bytes"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"github.com/BurntSushi/toml"

	"dryhold/analysis/record"
	"dryhold/report/seal"
)

// jobsIn makes n copies of a sample, one record each.
func jobsIn(t *testing.T, dir string, n int) {
	t.Helper()
	company, err := os.ReadFile("../../samples/company.toml")
	if err != nil {
		t.Fatal(err)
	}
	company = append(company, "audience = [\"inspector\"]\n"...)
	write(t, filepath.Join(dir, "company.toml"), company)
	for i := range n {
		job := filepath.Join(dir, fmt.Sprintf("job-%03d", i))
		if err := os.CopyFS(job, os.DirFS("../../samples/slow-leak")); err != nil {
			t.Fatal(err)
		}
		text, err := os.ReadFile(filepath.Join(job, "job.toml"))
		if err != nil {
			t.Fatal(err)
		}
		write(t, filepath.Join(job, "job.toml"), bytes.Replace(text, []byte("2031-0533"), fmt.Appendf(nil, "N-%03d", i), 1))
	}
}

func write(t *testing.T, path string, data []byte) {
	t.Helper()
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, data, 0o666); err != nil {
		t.Fatal(err)
	}
}

// dryhold is the program as a process of its own.
func dryhold(t *testing.T, args ...string) *exec.Cmd {
	t.Helper()
	c := exec.Command("dryhold", args...) // put on the path by testscript.Main
	c.Env = append(os.Environ(), "DRYHOLD_CONFIG="+configOf(t))
	return c
}

func configOf(t *testing.T) string {
	t.Helper()
	dir := os.Getenv("DRYHOLD_TEST_CONFIG")
	if dir == "" {
		dir = t.TempDir()
		t.Setenv("DRYHOLD_TEST_CONFIG", dir)
	}
	return dir
}

// whole demands that every file under a final name is complete, and returns their number.
func whole(t *testing.T, dir string) (n int) {
	t.Helper()
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasPrefix(e.Name(), ".") {
			continue
		}
		n++
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		switch filepath.Ext(e.Name()) {
		case ".pdf":
			_, err = seal.Open(data)
		case ".json":
			_, err = record.Parse(data)
		default: // what a withheld copy hides
			err = toml.Unmarshal(data, &struct{}{})
		}
		if err != nil {
			t.Errorf("%s: %v", e.Name(), err)
		}
	}
	return n
}

// The process is killed at random moments of a batch. No partial file has a final
// name, and the next run completes the rest and leaves nothing else.
func TestKilled(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("not tried on Windows")
	}
	times := 5
	if os.Getenv("CI") != "" && !testing.Short() {
		times = 200
	}
	dir := t.TempDir()
	const jobs = 3
	jobsIn(t, filepath.Join(dir, "jobs"), jobs)
	began := time.Now()
	if out, err := dryhold(t, "make", filepath.Join(dir, "jobs"), "--out", filepath.Join(dir, "first")).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	took := time.Since(began)
	r := rand.New(rand.NewPCG(1, 2))
	for i := range times {
		out := filepath.Join(dir, fmt.Sprint("out", i))
		args, want := []string{"make", filepath.Join(dir, "jobs"), "--out", out}, 2*jobs
		if i%4 == 3 {
			args, want = append(args, "--withhold", "customer"), 4*jobs
		}
		c := dryhold(t, args...)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(r.Int64N(int64(took))))
		c.Process.Kill()
		c.Wait()
		whole(t, out)
		if said, err := dryhold(t, args...).CombinedOutput(); err != nil {
			t.Fatalf("the second run: %v\n%s", err, said)
		}
		entries, _ := os.ReadDir(out)
		if n := whole(t, out); n != want || len(entries) != n {
			t.Fatalf("%d files and %d entries after the second run, want %d", n, len(entries), want)
		}
	}
}

// Two runs into one folder at once: one record of each job, all of them whole.
func TestTwoRunsAtOnce(t *testing.T) {
	dir := t.TempDir()
	const jobs = 6
	jobsIn(t, filepath.Join(dir, "jobs"), jobs)
	out := filepath.Join(dir, "records")
	var runs []*exec.Cmd
	for range 2 {
		c := dryhold(t, "make", filepath.Join(dir, "jobs"), "--out", out)
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		runs = append(runs, c)
	}
	for _, c := range runs {
		c.Wait() // either may find a file that the other has just placed
	}
	entries, _ := os.ReadDir(out)
	if n := whole(t, out); n != 2*jobs || len(entries) != n {
		t.Errorf("%d files and %d entries, want %d", n, len(entries), 2*jobs)
	}
}

// What somebody else wrote can't command the terminal.
func TestCleanOutput(t *testing.T) {
	var out bytes.Buffer
	fmt.Fprint(clean{&out}, "a\x1b[31mb\u202ec\r\nd\u009b")
	if got, want := out.String(), "a\ufffd[31mb\ufffdc\ufffd\nd\ufffd"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}

// An interrupt leaves finished records whole and names what was not begun.
func TestInterrupted(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("no such signal")
	}
	dir := t.TempDir()
	jobsIn(t, filepath.Join(dir, "jobs"), 40)
	c := dryhold(t, "make", filepath.Join(dir, "jobs"), "--out", filepath.Join(dir, "records"), "--workers", "1")
	var errs bytes.Buffer
	c.Stderr = &errs
	if err := c.Start(); err != nil {
		t.Fatal(err)
	}
	for i := 0; i < 500; i++ {
		if found, _ := filepath.Glob(filepath.Join(dir, "records", "*.pdf")); len(found) > 0 {
			break
		}
		time.Sleep(2 * time.Millisecond)
	}
	c.Process.Signal(os.Interrupt)
	c.Wait()
	if code := c.ProcessState.ExitCode(); code != codeInterrupted || !strings.Contains(errs.String(), "finished records are whole") {
		t.Errorf("exit code %d\n%s", code, errs.String())
	}
	whole(t, filepath.Join(dir, "records"))
}
