package record

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"strconv"
)

// Floats is a curve's column.
type Floats []float64

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
	facts, err := r.facts()
	if err != nil {
		return nil, err
	}
	results, _, err := r.withTraces(facts)
	return results, err
}

// Written is JSON, and the record as Parse finds it there.
func (r *Record) Written() (results []byte, read *Record, err error) {
	facts, err := r.facts()
	if err == nil {
		read, err = Parse(facts)
	}
	if err != nil {
		return nil, nil, err
	}
	results, read.Traces, err = r.withTraces(facts)
	return results, read, err
}

// facts are all but the traces.
func (r *Record) facts() ([]byte, error) {
	b := bytes.NewBuffer(make([]byte, 0, 64<<10)) // as much as most take with their traces
	e := json.NewEncoder(b)
	e.SetEscapeHTML(false)
	e.SetIndent("", " ")
	err := e.Encode(r)
	return b.Bytes(), err
}

// withTraces puts the traces behind the facts, and tells what is read there.
func (r *Record) withTraces(facts []byte) ([]byte, Traces, error) {
	facts = facts[:len(facts)-len("\n}\n")]
	results, read, err := r.Traces.write(append(facts, tracesKey...))
	return append(results, "\n}\n"...), read, err
}

// Digest is the SHA-256 of results.json, lower-case hex: the record's digest.
func Digest(results []byte) string {
	h := sha256.Sum256(results)
	return hex.EncodeToString(h[:])
}
