package main

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"dryhold/analysis/record"
	"dryhold/report/register"
)

func (a *app) registerCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "register DIR",
		Short: "write register.xlsx, the list of all records in a folder",
		Long: "One row a record, in grey where a later revision replaced it, with a sheet for pumps and one for\n" +
			"instruments. It is made from the records alone, so it can be made again at any time; what is\n" +
			"written into it by hand is lost then.",
		Example: "  dryhold register records",
		Args:    args(cobra.ExactArgs(1)),
		RunE:    func(_ *cobra.Command, list []string) error { return a.register(list[0]) },
	}
}

const registerName = "register.xlsx"

func (a *app) register(dir string) error {
	names, err := resultFiles(dir)
	if err != nil {
		return badFile(fmt.Errorf("the records cannot be listed: %w", plainly(err)), "give the folder that make wrote to by --out")
	}
	if len(names) == 0 {
		return usage(fmt.Errorf("%s holds no records", dir), "give the folder that make wrote to by --out")
	}
	t, err := os.CreateTemp(dir, ".dryhold-*.part")
	if err != nil {
		return badFile(err, "")
	}
	defer os.Remove(t.Name())
	rows := 0
	twice, err := register.Write(t, a.entries(dir, names, &rows))
	if err := errors.Join(err, t.Chmod(0o644), t.Sync(), t.Close()); err != nil {
		return badFile(err, "")
	}
	path := filepath.Join(dir, registerName)
	if open := lockOf(dir, registerName); open != "" {
		return badFile(fmt.Errorf("%s is open in a spreadsheet program (%s is there)", path, open), "close it there and run this again; nothing was changed")
	}
	if err := os.Rename(t.Name(), path); err != nil {
		return badFile(fmt.Errorf("%s cannot be replaced: %w", path, err), "close it in the spreadsheet program and run this again; nothing was changed")
	}
	for _, two := range twice {
		fmt.Fprintf(a.err, "dryhold: doubt: the readings of %s serve the jobs %s\n", two.File, enumerated(two.Jobs))
	}
	if !a.quiet {
		fmt.Fprintf(a.out, "%s: %s\n", path, counted(rows, "record"))
	}
	return nil
}

// resultFiles are all results.json under dir, by name and revision.
func resultFiles(dir string) ([]string, error) {
	var names []string
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err == nil && d.Type().IsRegular() && strings.HasSuffix(d.Name(), ".results.json") {
			names = append(names, path)
		}
		return err
	})
	slices.SortFunc(names, func(x, y string) int {
		a, r := revisionOf(x)
		b, s := revisionOf(y)
		return cmp.Or(strings.Compare(a, b), cmp.Compare(r, s))
	})
	return names, err
}

// revisionOf splits the path of a results.json into that of its job and its revision.
func revisionOf(path string) (string, int) {
	path = strings.TrimSuffix(path, ".results.json")
	if i := strings.LastIndex(path, ".r"); i >= 0 {
		if n, err := strconv.Atoi(path[i+2:]); err == nil {
			return path[:i], n
		}
	}
	return path, 1
}

// entries gives the records in their order; one that cannot be read is named and left out.
func (a *app) entries(dir string, names []string, rows *int) iter.Seq[register.Entry] {
	return func(yield func(register.Entry) bool) {
		i, seen := 0, map[string]string{} // by digest
		for r := range readAhead(dir, names) {
			path := names[i]
			i++
			if r.err != nil {
				a.worse(a.report(badFile(fmt.Errorf("%s: %w", path, r.err), "the record's PDF carries the same file: dryhold extract gives it back")))
				continue
			}
			if first, copied := seen[r.entry.Digest]; copied {
				fmt.Fprintf(a.err, "dryhold: note: %s is a copy of %s; it is listed once\n", path, first)
				continue
			}
			seen[r.entry.Digest] = path
			*rows++
			if !yield(r.entry) {
				return
			}
		}
	}
}

type readEntry struct {
	entry register.Entry
	err   error
}

// readAhead reads a few records at the same time, and gives them in the order of their names.
func readAhead(dir string, names []string) iter.Seq[readEntry] {
	return func(yield func(readEntry) bool) {
		ahead, stop := make(chan chan readEntry, runtime.NumCPU()), make(chan struct{})
		defer close(stop)
		go func() {
			defer close(ahead)
			for _, path := range names {
				c := make(chan readEntry, 1)
				select {
				case ahead <- c:
				case <-stop:
					return
				}
				go func() {
					e, err := entry(dir, path)
					c <- readEntry{e, err}
				}()
			}
		}()
		for c := range ahead {
			if !yield(<-c) {
				return
			}
		}
	}
}

const maxResults = 64 << 20

func entry(dir, path string) (register.Entry, error) {
	data, err := readLimited(path, maxResults)
	if err != nil {
		return register.Entry{}, err
	}
	rec, err := record.ParseFacts(data)
	if err != nil {
		return register.Entry{}, fmt.Errorf("not the results of a record: %w", err)
	}
	e := register.Entry{Record: rec, Digest: record.Digest(data)}
	stem := strings.TrimSuffix(path, "results.json")
	for _, audience := range []string{"inspector", "warranty", "homeowner"} {
		if _, err := os.Stat(stem + audience + ".pdf"); err == nil {
			rel, err := filepath.Rel(dir, stem+audience+".pdf")
			e.Link = filepath.ToSlash(rel)
			return e, err
		}
	}
	return e, nil
}

// lockOf is the file that a spreadsheet program leaves beside a workbook that it
// has open; empty for none.
func lockOf(dir, workbook string) string {
	for _, name := range []string{"~$" + workbook, ".~lock." + workbook + "#"} {
		if _, err := os.Stat(filepath.Join(dir, name)); err == nil {
			return name
		}
	}
	return ""
}
