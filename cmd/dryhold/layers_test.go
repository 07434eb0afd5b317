package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// layers says which of our packages each room may import. Everybody may import
// analysis/fault. Packages under an internal folder belong to the room above it.
var layers = map[string]string{
	"analysis/fault":              "",
	"analysis/quantity":           "",
	"analysis/fluid":              "",
	"analysis/picture":            "",
	"analysis/fit":                "",
	"analysis/job":                "analysis/quantity analysis/fluid",
	"analysis/readings":           "analysis/quantity",
	"analysis/load":               "analysis/job analysis/readings analysis/picture",
	"analysis/form":               "analysis/job analysis/quantity",
	"analysis/vacuum":             "analysis/quantity analysis/readings analysis/fluid analysis/fit",
	"analysis/pressure":           "analysis/quantity analysis/readings analysis/fluid analysis/fit",
	"analysis/startup":            "analysis/quantity analysis/fluid",
	"analysis/decision":           "analysis/quantity",
	"analysis/record":             "analysis/quantity",
	"analysis":                    "analysis/*",
	"report/face":                 "",
	"report/plot":                 "analysis/record analysis/quantity report/face",
	"report":                      "analysis/record analysis/quantity analysis/picture report/plot report/face report/seal templates",
	"report/seal":                 "",
	"report/seal/stamp":           "report/seal",
	"report/seal/stamp/stamptest": "",
	"report/register":             "analysis/record analysis/quantity",
	"templates":                   "",
	"samples":                     "*",
	"cmd/dryhold":                 "*",
}

// room is the package that an import path belongs to in the table.
func room(path string) string {
	path = strings.TrimPrefix(path, "dryhold/")
	if i := strings.Index(path, "/internal/"); i >= 0 {
		path = path[:i]
	}
	if strings.HasPrefix(path, "samples/") {
		path = "samples"
	}
	return path
}

func TestLayers(t *testing.T) {
	for _, p := range listPackages(t) {
		from := room(p.ImportPath)
		if from == "dryhold" {
			continue // the module's root holds no package of ours
		}
		allowed, known := layers[from]
		if !known {
			t.Errorf("%s is not in the table of rooms", from)
			continue
		}
		if p.Doc == "" {
			t.Errorf("%s has no package comment", p.ImportPath)
		}
		for _, i := range p.Imports {
			if !strings.HasPrefix(i, "dryhold/") {
				continue
			}
			to := room(i)
			if to != from && to != "analysis/fault" && !permits(allowed, to) {
				t.Errorf("%s must not import %s", p.ImportPath, i)
			}
		}
	}
}

func permits(allowed, to string) bool {
	return slices.ContainsFunc(strings.Fields(allowed), func(a string) bool {
		prefix, all := strings.CutSuffix(a, "*")
		return a == to || all && strings.HasPrefix(to, prefix)
	})
}

type listed struct {
	ImportPath, Doc string
	Imports         []string
}

func listPackages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-e", "-json=ImportPath,Doc,Imports", "dryhold/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		err := d.Decode(&p)
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, p)
	}
	if len(all) < 10 {
		t.Fatalf("go list found only %d packages", len(all))
	}
	return all
}
