package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"golang.org/x/text/unicode/norm"

	"dryhold/analysis/job"
	"dryhold/analysis/load"
)

// exports looks at the spreadsheets in the folder, if it is there, and says what
// it makes of them.
func exports(dir string, instruments []job.Instrument, f job.Facts, say io.Writer) ([]job.Recording, error) {
	entries, err := os.ReadDir(dir)
	if err != nil && !errors.Is(err, os.ErrNotExist) {
		return nil, err
	}
	var list []job.Recording
	for _, e := range entries {
		ext, ok := extension(e.Name())
		if !e.Type().IsRegular() || !ok {
			continue
		}
		data, err := readLimited(filepath.Join(dir, e.Name()), load.MaxReadings)
		if err != nil {
			return nil, err
		}
		for _, r := range recordings(e.Name(), data, f) {
			if ext == ".txt" && r.Measures == "" {
				continue // somebody's notes
			}
			list = append(list, r.Recording)
			fmt.Fprintf(say, "dryhold: %s: %s\n", e.Name(), r.says)
		}
	}
	list = joined(list)
	name(list, instruments)
	return list, nil
}

// extension is the end of a file's name, and whether it may be an instrument's export.
func extension(name string) (ext string, ok bool) {
	if strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || name == "job.xlsx" {
		return "", false
	}
	ext = filepath.Ext(strings.TrimSuffix(strings.ToLower(name), ".gz"))
	return ext, slices.Contains([]string{".csv", ".tsv", ".txt", ".xlsx", ".xls"}, ext)
}

// unnamed are the spreadsheets in a job's folder that its recordings do not name.
func unnamed(dir string, j *job.Job) (names []string) {
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		ext, ok := extension(e.Name())
		same := func(name string) bool { return norm.NFC.String(name) == norm.NFC.String(e.Name()) }
		named := slices.ContainsFunc(j.Readings, func(r job.Reading) bool { return slices.ContainsFunc(r.File, same) })
		if ok && ext != ".txt" && !named {
			names = append(names, e.Name())
		}
	}
	return names
}

// pause is the longest time between two files of one recording.
const pause = time.Minute

// joined makes one recording of files of which each goes on where another ends,
// with the same columns: a logger that begins a new file at a certain length.
func joined(list []job.Recording) (out []job.Recording) {
	order := slices.Clone(list)
	slices.SortStableFunc(order, func(a, b job.Recording) int { return a.First.Compare(b.First) })
	for _, r := range order {
		k := slices.IndexFunc(out, func(before job.Recording) bool {
			after := r.First.Sub(before.Last)
			return !before.First.IsZero() && before.Measures == r.Measures && before.Columns == r.Columns && before.Sheet == r.Sheet &&
				before.Files[0] != r.Files[0] && after > 0 && after <= pause
		})
		if k < 0 {
			out = append(out, r)
			continue
		}
		out[k].Files = append(out[k].Files, r.Files...)
		out[k].Last = r.Last
	}
	return out
}

// name gives each recording an id of its own, and the gauge that made it where
// only one can have.
func name(list []job.Recording, instruments []job.Instrument) {
	ids := map[string]string{"vacuum": "vacuum", "pressure": "nitrogen", "": "recording"}
	taken := map[string]int{}
	for i := range list {
		r := &list[i]
		r.Instrument = only(instruments, r.Measures)
		r.ID = ids[r.Measures]
		if taken[r.ID]++; taken[r.ID] > 1 {
			r.ID = fmt.Sprintf("%s-%d", r.ID, taken[r.ID])
		}
	}
}

// only is the id of the one instrument that measures something, "" for none or several.
func only(list []job.Instrument, measures string) (id string) {
	for _, in := range list {
		if in.Measures == measures {
			if id != "" {
				return ""
			}
			id = in.ID
		}
	}
	return id
}
