// Bom turns the output of "go version -m -json" into a CycloneDX 1.5 bill of materials.
package main

import (
	"encoding/json"
	"fmt"
	"os"
	"runtime/debug"
)

type component struct {
	Type    string `json:"type"`
	Name    string `json:"name"`
	Version string `json:"version"`
	PURL    string `json:"purl"`
}

func main() {
	if err := run(); err != nil {
		fmt.Fprintln(os.Stderr, "bom:", err)
		os.Exit(1)
	}
}

func run() error {
	var info debug.BuildInfo
	if err := json.NewDecoder(os.Stdin).Decode(&info); err != nil {
		return err
	}
	list := []component{{"library", "std", info.GoVersion, "pkg:golang/std@" + info.GoVersion}}
	for _, d := range info.Deps {
		list = append(list, component{"library", d.Path, d.Version, "pkg:golang/" + d.Path + "@" + d.Version})
	}
	e := json.NewEncoder(os.Stdout)
	e.SetIndent("", "  ")
	return e.Encode(map[string]any{
		"bomFormat": "CycloneDX", "specVersion": "1.5", "version": 1,
		"metadata":   map[string]any{"component": component{"application", "dryhold", info.Main.Version, "pkg:golang/dryhold@" + info.Main.Version}},
		"components": list,
	})
}
