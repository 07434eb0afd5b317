package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"
	"strings"
	"unicode"
	"unicode/utf8"

	"dryhold/analysis/fault"
	"dryhold/cmd/dryhold/internal/issue"
	"dryhold/cmd/dryhold/internal/keys"
	"dryhold/report/seal"
)

// Exit codes. A batch gives the greatest of 1 to 5.
const (
	codeInternal    = 1 // internal or output
	codeUsage       = 2 // also an issued job changed without --amend
	codeJob         = 3 // job file or company.toml
	codeReadings    = 4 // missing, damaged or ambiguous
	codeKey         = 5 // key, signature or verification
	codeInterrupted = 130
)

// failure is an error with its exit code and what to do about it.
type failure struct {
	code int
	err  error
	hint string
}

func (f *failure) Error() string { return f.err.Error() }
func (f *failure) Unwrap() error { return f.err }

func usage(err error, hint string) error   { return &failure{codeUsage, err, hint} }
func badKey(err error, hint string) error  { return &failure{codeKey, err, hint} }
func badFile(err error, hint string) error { return &failure{codeInternal, err, hint} }

// plainly tells the commonest troubles with a file in words that every system has.
func plainly(err error) error {
	var at *fs.PathError
	if !errors.As(err, &at) {
		return err
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("there is no file or folder %s", at.Path)
	case errors.Is(err, fs.ErrExist):
		return fmt.Errorf("%s is there already", at.Path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: the system does not permit it", at.Path)
	}
	return err
}

// faults is a list of faults of one job, with the text that they point into.
type faults struct {
	list   fault.List
	source func(name string) []byte // nil where there is nothing to show
	shown  func(name string) string // the path to print for a file of the job
}

func (f *faults) Error() string { return f.list.Error() }

// code is that of the worst fault: readings before job file.
func (f *faults) code() int {
	code := 0
	for _, one := range f.list {
		switch {
		case one.Doubt:
		case one.Kind == fault.Readings:
			code = max(code, codeReadings)
		default:
			code = max(code, codeJob)
		}
	}
	return code
}

// codeOf is the exit code of an error.
func codeOf(err error) int {
	var list *faults
	var fail *failure
	var firm issue.FirmError
	switch {
	case err == nil:
		return 0
	case errors.As(err, &firm):
		return codeJob
	case errors.As(err, &list):
		return list.code()
	case errors.As(err, &fail):
		return fail.code
	case errors.Is(err, keys.ErrKey), errors.Is(err, seal.ErrPassphrase), errors.Is(err, seal.ErrNotSealed),
		errors.Is(err, seal.ErrAltered), errors.Is(err, seal.ErrAppended):
		return codeKey
	default:
		return codeInternal
	}
}

// report prints an error with its hint and returns its exit code.
func (a *app) report(err error) int {
	if errors.Is(err, errQuiet) {
		return 0
	}
	var list *faults
	var fail *failure
	if errors.As(err, &list) {
		a.faults(list)
		return list.code()
	}
	fmt.Fprintf(a.err, "dryhold: error: %s\n", err)
	if errors.As(err, &fail) && fail.hint != "" {
		a.hint(fail.hint)
	}
	return codeOf(err)
}

// remarks is where goes what is not wrong: nowhere under --quiet.
func (a *app) remarks() io.Writer {
	if a.quiet {
		return io.Discard
	}
	return a.err
}

func (a *app) hint(text string) {
	fmt.Fprintf(a.err, "dryhold: hint: %s\n", strings.ReplaceAll(text, "\n", "\n  "))
}

// faults prints each of a job's faults, those of company.toml once for all jobs.
func (a *app) faults(list *faults) {
	repeated := ""
	for _, one := range list.list {
		if filepath.Base(one.File) == "company.toml" && list.shown != nil {
			if _, told := a.told.LoadOrStore(list.shown(one.File)+one.Error(), true); told {
				repeated = list.shown(one.File)
				continue
			}
		}
		a.fault(list, one)
	}
	if repeated != "" {
		fmt.Fprintf(a.err, "dryhold: error: %s: the faults of %s that were told above\n", list.shown("."), repeated)
	}
}

// fault prints where, what was found, what was expected, the line itself and the mend.
func (a *app) fault(from *faults, f fault.Fault) {
	word := "error"
	if f.Doubt {
		word = "doubt"
	}
	named := f
	if from.shown != nil && f.File != "" {
		named.File = from.shown(f.File)
	}
	fmt.Fprintf(a.err, "dryhold: %s: %s", word, named.Error())
	if a.verbose && f.Code != "" {
		fmt.Fprintf(a.err, " [%s]", f.Code)
	}
	fmt.Fprintln(a.err)
	if f.Line > 0 && from.source != nil {
		fmt.Fprint(a.err, excerpt(from.source(f.File), f.Line, f.Column))
	}
	if f.Mend != "" {
		a.hint(f.Mend)
	}
}

// excerpt is the line with its number and a mark under the column.
func excerpt(text []byte, line, column int) string {
	lines := bytes.Split(text, []byte("\n"))
	if line > len(lines) {
		return ""
	}
	s := strings.ReplaceAll(strings.TrimRight(string(lines[line-1]), "\r"), "\t", " ")
	if s == "" || !utf8.ValidString(s) {
		return ""
	}
	if r := []rune(s); len(r) > 100 {
		if column > 90 {
			return ""
		}
		s = string(r[:99]) + "…"
	}
	out := fmt.Sprintf("  %4d | %s\n", line, s)
	if column > 0 && column <= utf8.RuneCountInString(s)+1 {
		out += strings.Repeat(" ", 6) + " | " + strings.Repeat(" ", column-1) + "^\n"
	}
	return out
}

// clean keeps what somebody else wrote from commanding the terminal: control
// characters and marks that turn the direction of writing are shown as U+FFFD.
type clean struct{ to io.Writer }

func (c clean) Write(p []byte) (int, error) {
	out := bytes.Map(func(r rune) rune {
		if r == '\n' || r == '\t' || !unicode.IsControl(r) && !unicode.Is(unicode.Bidi_Control, r) {
			return r
		}
		return utf8.RuneError
	}, p)
	if _, err := c.to.Write(out); err != nil {
		return 0, err
	}
	return len(p), nil
}

// pasted is a path as a command line takes it, here and on Windows.
func pasted(path string) string {
	if strings.ContainsAny(path, " &'()[];,") {
		return `"` + path + `"`
	}
	return path
}

// enumerated is a list in words: A, B and C.
func enumerated(names []string) string {
	last := len(names) - 1
	if last < 1 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:last], ", ") + " and " + names[last]
}

// counted is a number with its noun: 1 fault, 2 faults.
func counted(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return fmt.Sprintf("%d %s", n, noun)
}
