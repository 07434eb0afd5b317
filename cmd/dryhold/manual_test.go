package main

import (
	"bytes"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Every fault that the program can report has its section in the manual.
func TestEveryFaultIsExplained(t *testing.T) {
	text, err := manual.ReadFile("help/faults.md")
	if err != nil {
		t.Fatal(err)
	}
	code := regexp.MustCompile(`(?:fault\.Fault\{|\{\{|[^.\w]Fault\{)(?:Kind: [\w.]+, )?Code: +"([a-z]+(?:-[a-z]+)*)"|(?:cellFault|doubt|stop|bad)\("([a-z-]+)"|\.Code(?:, \w+\.\w+)* = "([a-z-]+)"`)
	found := 0
	for _, dir := range []string{"../../analysis/job", "../../analysis/load", "../../analysis/readings", "../../analysis/form", "../../analysis", ".", "internal/issue"} {
		files, _ := filepath.Glob(filepath.Join(dir, "*.go"))
		for _, path := range files {
			source, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			for _, m := range code.FindAllStringSubmatch(string(source), -1) {
				found++
				if name := m[1] + m[2] + m[3]; !strings.Contains(string(text), "\n## "+name+"\n") {
					t.Errorf("%s: the fault %q has no section in help/faults.md", path, name)
				}
			}
		}
	}
	if found < 40 {
		t.Errorf("only %d codes were found in the source", found)
	}
}

// The words that promise too much never appear in the manual as a promise.
func TestManualPromisesNothing(t *testing.T) {
	never := regexp.MustCompile(`(?i)leak-free|moisture-free|certified|guaranteed|code-compliant|safe to operate`)
	for _, name := range topics() {
		text, err := manual.ReadFile("help/" + name + ".md")
		if err != nil {
			t.Fatal(err)
		}
		if m := never.Find(text); m != nil {
			t.Errorf("help/%s.md says %q", name, m)
		}
	}
}

// Every command and option that the manual shows exists.
func TestManualCommands(t *testing.T) {
	var out bytes.Buffer
	a := &app{in: strings.NewReader(""), out: &out, err: &out}
	root := a.root()
	shown := regexp.MustCompile("dryhold ([a-z]+)((?: [^`\n]*)?)")
	option := regexp.MustCompile(`--([a-z-]+)`)
	n := 0
	for _, name := range topics() {
		text, _ := manual.ReadFile("help/" + name + ".md")
		for _, quoted := range regexp.MustCompile("`dryhold [^`]+`").FindAllString(string(text), -1) {
			m := shown.FindStringSubmatch(quoted)
			if m == nil {
				continue
			}
			n++
			if m[1] == "help" {
				topic := strings.TrimSpace(m[2])
				if _, err := manual.ReadFile("help/" + topic + ".md"); err != nil && !strings.Contains(topic, "TOPIC") {
					t.Errorf("help/%s.md: %s: there is no such topic", name, quoted)
				}
				continue
			}
			c, _, err := root.Find(strings.Fields(m[1] + m[2]))
			if err != nil || c == root {
				t.Errorf("help/%s.md: %s: there is no such command", name, quoted)
				continue
			}
			for _, o := range option.FindAllStringSubmatch(m[2], -1) {
				if c.Flag(o[1]) == nil {
					t.Errorf("help/%s.md: %s: there is no option --%s", name, quoted, o[1])
				}
			}
		}
	}
	if n < 15 {
		t.Errorf("only %d commands were found in the manual", n)
	}
}

var update = flag.Bool("update", false, "write what comes out into the README")

// TestReadme runs what the README shows and compares what comes out, word for word.
func TestReadme(t *testing.T) {
	path, err := filepath.Abs("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	readme, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	at := regexp.MustCompile("(?s)\n\\$ go run \\./cmd/dryhold ([^\n]*)\n(.*?)```").FindSubmatchIndex(readme)
	if at == nil {
		t.Fatal("the README shows no session")
	}
	samples, err := filepath.Abs("../../samples")
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	if err := os.CopyFS(filepath.Join(dir, "samples"), os.DirFS(samples)); err != nil {
		t.Fatal(err)
	}
	t.Chdir(dir)
	t.Setenv("DRYHOLD_CONFIG", filepath.Join(dir, "config"))
	var out, errs bytes.Buffer
	if code := run(strings.Fields(string(readme[at[2]:at[3]])), nil, &out, &errs); code != 0 {
		t.Fatalf("exit code %d\n%s", code, errs.String())
	}
	got, want := out.String(), string(readme[at[4]:at[5]])
	if *update && got != want {
		if err := os.WriteFile(path, slices.Concat(readme[:at[4]], out.Bytes(), readme[at[5]:]), 0o666); err != nil {
			t.Fatal(err)
		}
		return
	}
	if got != want {
		t.Errorf("what comes out:\n%s\nwhat the README says:\n%s", got, want)
	}
}

// The whole program is one static binary for each system that is released.
func TestBuildsElsewhere(t *testing.T) {
	if testing.Short() || os.Getenv("CI") == "" {
		t.Skip("takes a minute; CI does it")
	}
	for _, system := range []string{"windows", "darwin"} {
		c := exec.Command("go", "vet", ".")
		c.Env = append(os.Environ(), "GOOS="+system, "GOARCH=amd64", "CGO_ENABLED=0")
		if out, err := c.CombinedOutput(); err != nil {
			t.Errorf("%s: %v\n%s", system, err, out)
		}
	}
}
