package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"
)

// Floats is a curve's column, stored with seven significant digits: a figure
// needs no more.
type Floats []float64

// MarshalJSON writes the column on one line.
func (f Floats) MarshalJSON() ([]byte, error) {
	b := make([]byte, 0, 10*len(f)+2)
	b = append(b, '[')
	for i, x := range f {
		if i > 0 {
			b = append(b, ',')
		}
		b = strconv.AppendFloat(b, x, 'g', 7, 64)
	}
	return append(b, ']'), nil
}

// UnmarshalJSON reads a column, whose syntax was checked before, in a third of the
// time that the general way takes.
func (f *Floats) UnmarshalJSON(data []byte) error {
	if string(data) == "null" {
		return nil
	}
	inside, ok := bytes.CutPrefix(data, []byte("["))
	if !ok {
		return fmt.Errorf("a curve's column is %.20s, and not a list of numbers", data)
	}
	inside = bytes.TrimSpace(bytes.TrimSuffix(inside, []byte("]")))
	*f = make(Floats, 0, bytes.Count(inside, []byte(","))+1)
	if len(inside) == 0 {
		return nil
	}
	for text := range bytes.SplitSeq(inside, []byte(",")) {
		x, err := strconv.ParseFloat(string(bytes.TrimSpace(text)), 64)
		if err != nil {
			return fmt.Errorf("a curve's column: %w", err)
		}
		*f = append(*f, x)
	}
	return nil
}

// JSON is results.json: keys in the order of the struct, one a line, but each
// curve on a line of its own; a newline at the end.
func (r *Record) JSON() ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	if err := e.Encode(r); err != nil {
		return nil, err
	}
	traces, err := json.Marshal(r.Traces)
	if err != nil {
		return nil, err
	}
	b.Truncate(b.Len() - len("\n}\n"))
	b.WriteString(",\n \"traces\": ")
	b.Write(bytes.ReplaceAll(traces, []byte("],"), []byte("],\n  ")))
	b.WriteString("\n}\n")
	return b.Bytes(), nil
}

// Digest is the SHA-256 of results.json, lower-case hex: the record's digest.
func Digest(results []byte) string {
	h := sha256.Sum256(results)
	return hex.EncodeToString(h[:])
}
