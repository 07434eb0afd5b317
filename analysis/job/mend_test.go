package job

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Every fault of a job file says what to do, whatever stands in the place of whatever value.
func TestEveryFaultHasAMend(t *testing.T) {
	values := []string{`""`, `"nonsense"`, `"May 19"`, `"5/6/2031"`, `"2031-04-31"`, `"12"`, `"12 furlongs"`, `"-5 micron"`, `"1e9 L"`, `"a\\b"`, `"ж"`, `7`, `-7`, `1e99`, `true`,
		`2031-04-09`, `1890-01-01`, `13:05:00`, `2031-04-09T13:05:00`, `1890-01-01T00:00:00`, `2031-03-09T02:30:00`, `2031-11-02T01:30:00`, `[]`, `["x", 7]`, `[7]`, `{x = 1}`, `[{x = 1}]`}
	seen := map[string]bool{}
	look := func(text string) {
		_, faults := decode(text)
		for _, f := range faults {
			if f.Mend != "" || seen[f.Error()] {
				continue
			}
			seen[f.Error()] = true
			t.Errorf("no mend: %v", f)
		}
	}
	lines := strings.Split(good, "\n")
	for i, line := range lines {
		key, _, assigned := strings.Cut(line, " = ")
		for _, v := range values {
			if assigned {
				look(strings.Join(slices.Concat(lines[:i], []string{key + " = " + v}, lines[i+1:]), "\n"))
			}
		}
		look(strings.Join(slices.Concat(lines[:i], lines[i+1:]), "\n"))
		look(strings.Join(slices.Concat(lines[:i+1], []string{line}, lines[i+1:]), "\n"))
	}
	tables := []string{"job", "company", "technician", "customer", "site", "system", "boundary", "pump_check", "evacuation", "hold", "pressure_test", "recovery", "charge", "startup", "record",
		"[equipment]", "[system.line]", "[system.component]", "[instrument]", "[readings]", "[event]", "[attempt]", "[leak_check]", "[signoff]", "[photograph]"}
	for _, table := range tables {
		keys := Keys(strings.Trim(table, "[]"))
		if len(keys) == 0 {
			t.Errorf("no table %s", table)
		}
		for _, k := range keys {
			name := k.Path[strings.LastIndexByte(k.Path, '.')+1:]
			for _, v := range values {
				look(fmt.Sprintf("format = 1\n[job]\nnumber = \"1\"\ntimezone = \"America/Denver\"\n[%s]\n%s = %s\n", table, name, v))
			}
		}
		look(good + "[" + table + "]\nnothing = 1\n")
		look(good + table + " = 1\n")
	}
}
