package record

import (
	"encoding/json"
	"fmt"
	"math"
	"sort"
	"strings"
)

// Difference is one place in which two results.json differ.
type Difference struct {
	Path     string `json:"path"`
	Was      string `json:"was"`
	Now      string `json:"now"`
	Material bool   `json:"material"` // a decision or cause changed, or a value left its stated interval
}

// Diff compares two results.json member by member: numbers by the relative
// tolerance, everything else exactly. The software's own name and version are
// left out, and so are the traces, which are drawings of the readings.
func Diff(was, now []byte, tolerance float64) ([]Difference, error) {
	var a, b map[string]any
	if err := json.Unmarshal(was, &a); err != nil {
		return nil, err
	}
	if err := json.Unmarshal(now, &b); err != nil {
		return nil, err
	}
	for _, name := range []string{"software", "traces"} {
		delete(a, name)
		delete(b, name)
	}
	d := differ{tolerance: tolerance}
	d.values("", a, b)
	return d.list, nil
}

type differ struct {
	tolerance float64
	list      []Difference
}

func (d *differ) values(path string, a, b any) {
	switch x := a.(type) {
	case map[string]any:
		if y, ok := b.(map[string]any); ok {
			d.members(path, x, y)
			return
		}
	case []any:
		if y, ok := b.([]any); ok && len(x) == len(y) {
			for i := range x {
				d.values(fmt.Sprintf("%s[%d]", path, i), x[i], y[i])
			}
			return
		}
	case float64:
		if y, ok := b.(float64); ok && close(x, y, d.tolerance) {
			return
		}
	default:
		if a == b {
			return
		}
	}
	d.add(path, a, b, settles(path))
}

// members compares two objects. A value that has an interval is material only
// when it leaves that interval.
func (d *differ) members(path string, a, b map[string]any) {
	for _, name := range names(a, b) {
		before := len(d.list)
		inner := strings.TrimPrefix(path+"."+name, ".")
		x, old := a[name]
		y, new := b[name]
		if !old || !new {
			// What a later version says besides takes nothing back, but for a whole test.
			d.add(inner, x, y, settles(inner) && (old || !strings.Contains(inner, ".")))
			continue
		}
		d.values(inner, x, y)
		if name == "value" && len(d.list) > before && leaves(a, y) {
			d.list[before].Material = true
		}
	}
}

// leaves reports whether the number now is outside the interval stated before.
func leaves(was map[string]any, now any) bool {
	low, ok := was["low"].(float64)
	high, _ := was["high"].(float64)
	v, number := now.(float64)
	return !number || ok && (v < low || v > high)
}

// settles reports whether the member is a decision or a cause.
func settles(path string) bool {
	name := path[strings.LastIndex(path, ".")+1:]
	return name == "decision" || name == "cause" || name == "hold" || name == "pressure_test"
}

func (d *differ) add(path string, a, b any, material bool) {
	d.list = append(d.list, Difference{path, brief(a), brief(b), material})
}

func brief(v any) string {
	if v == nil {
		return "absent"
	}
	text, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	if r := []rune(string(text)); len(r) > 80 {
		return string(r[:79]) + "…"
	}
	return string(text)
}

func names(a, b map[string]any) []string {
	var list []string
	for name := range a {
		list = append(list, name)
	}
	for name := range b {
		if _, both := a[name]; !both {
			list = append(list, name)
		}
	}
	sort.Strings(list)
	return list
}

// close is relative to the larger of the two; where both are below 1e-12 of
// anything measured they are equal.
func close(a, b, tolerance float64) bool {
	return a == b || math.Abs(a-b) <= tolerance*math.Max(math.Abs(a), math.Abs(b))
}
