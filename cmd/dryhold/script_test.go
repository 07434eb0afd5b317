package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"dryhold": main})
}

// TestScripts runs terminal sessions, one behaviour each.
func TestScripts(t *testing.T) {
	samples, err := filepath.Abs("../../samples")
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: "testdata",
		Setup: func(e *testscript.Env) error {
			e.Setenv("SAMPLES", samples)
			e.Setenv("DRYHOLD_CONFIG", filepath.Join(e.WorkDir, "config"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"exits":   exits,
			"edit":    edit,
			"flip":    flip,
			"cut":     cut,
			"copydir": copydir,
			"count":   count,
			"clock":   clock,
			"judged":  judged,
			"cms":     cms,
			"fill":    fill,
			"resave":  resave,
		},
		Condition:           condition,
		RequireExplicitExec: true,
	})
}

// exits CODE ARGS... runs dryhold and demands the exit code.
func exits(ts *testscript.TestScript, neg bool, list []string) {
	want, err := strconv.Atoi(list[0])
	ts.Check(err)
	err = ts.Exec("dryhold", list[1:]...)
	got := 0
	if err != nil {
		if _, e := fmt.Sscanf(err.Error(), "exit status %d", &got); e != nil {
			ts.Fatalf("%v", err)
		}
	}
	if got != want || neg {
		ts.Fatalf("exit code %d, want %d", got, want)
	}
}

// edit FILE OLD NEW replaces the first OLD, which must be there.
func edit(ts *testscript.TestScript, _ bool, list []string) {
	path := ts.MkAbs(list[0])
	data, err := os.ReadFile(path)
	ts.Check(err)
	if !strings.Contains(string(data), list[1]) {
		ts.Fatalf("%s does not hold %q", list[0], list[1])
	}
	new := strings.ReplaceAll(list[2], `\n`, "\n")
	ts.Check(os.WriteFile(path, []byte(strings.Replace(string(data), list[1], new, 1)), 0o666))
}

// flip FILE OFFSET changes one byte; cut FILE N takes N bytes from its end.
func flip(ts *testscript.TestScript, _ bool, list []string) {
	change(ts, list, func(data []byte, n int) []byte { data[n] ^= 1; return data })
}

func cut(ts *testscript.TestScript, _ bool, list []string) {
	change(ts, list, func(data []byte, n int) []byte { return data[:len(data)-n] })
}

func change(ts *testscript.TestScript, list []string, do func([]byte, int) []byte) {
	path := ts.MkAbs(list[0])
	data, err := os.ReadFile(path)
	ts.Check(err)
	n, err := strconv.Atoi(list[1])
	ts.Check(err)
	ts.Check(os.WriteFile(path, do(bytes.Clone(data), n), 0o666))
}

// copydir FROM TO copies a folder; TO is made.
func copydir(ts *testscript.TestScript, _ bool, list []string) {
	ts.Check(os.CopyFS(ts.MkAbs(list[1]), os.DirFS(ts.MkAbs(list[0]))))
}

// count N DIR demands that the folder has N entries, hidden ones too.
func count(ts *testscript.TestScript, _ bool, list []string) {
	entries, err := os.ReadDir(ts.MkAbs(list[1]))
	ts.Check(err)
	if strconv.Itoa(len(entries)) != list[0] {
		ts.Fatalf("%s has %d entries, want %s: %v", list[1], len(entries), list[0], entries)
	}
}
