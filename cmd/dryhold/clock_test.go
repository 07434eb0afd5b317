package main

import (
	"fmt"
	"net/http/httptest"
	"os"
	"os/exec"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"

	"dryhold/report/seal/stamp/stamptest"
)

// condition "without:PROGRAM" holds where an outside program is missing; in CI
// that is a failure.
func condition(cond string) (bool, error) {
	name, ok := strings.CutPrefix(cond, "without:")
	if !ok {
		return false, fmt.Errorf("there is no condition %q", cond)
	}
	_, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") != "" {
		return false, err
	}
	return err != nil, nil
}

// clock starts a time-stamp server on the loopback and sets $CLOCK to its address.
func clock(ts *testscript.TestScript, _ bool, _ []string) {
	dir := ts.MkAbs("clock")
	ts.Check(os.Mkdir(dir, 0o777))
	a, err := stamptest.Authority(dir)
	ts.Check(err)
	server := httptest.NewServer(a)
	ts.Defer(server.Close)
	ts.Setenv("CLOCK", server.URL)
}
