package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
)

// Format is the version of results.json that this program writes.
const Format = 1

// Parse reads results.json. A newer format is refused; an older one is read for ever.
func Parse(results []byte) (*Record, error) {
	var r struct {
		Record
		Traces Traces `json:"traces"`
	}
	if err := json.Unmarshal(results, &r); err != nil {
		return nil, err
	}
	if r.Format < 1 || r.Format > Format {
		return nil, fmt.Errorf("results.json has format %d, and this program reads up to %d", r.Format, Format)
	}
	r.Record.Traces = r.Traces
	return &r.Record, nil
}

// tracesKey begins the last key as JSON writes it; no other line begins so.
var tracesKey = []byte(",\n \"traces\": ")

// ParseFacts reads results.json without its traces, which are most of it. The
// slice is not changed.
func ParseFacts(results []byte) (*Record, error) {
	at := bytes.LastIndex(results, tracesKey)
	if at < 0 || !bytes.HasSuffix(results, []byte("}\n}\n")) { // written by another hand, or cut off
		return Parse(results)
	}
	return Parse(append(results[:at:at], "\n}"...))
}

// UnmarshalJSON reads what MarshalJSON wrote.
func (v *Value) UnmarshalJSON(data []byte) error {
	var raw struct {
		Value                 *float64
		Unit                  string
		Low, High, Confidence float64
	}
	if err := json.Unmarshal(data, &raw); err != nil {
		return err
	}
	if raw.Value == nil {
		return errors.New("a value without its number")
	}
	*v = Value{V: *raw.Value, Unit: raw.Unit, Low: raw.Low, High: raw.High, Confidence: raw.Confidence}
	return nil
}
