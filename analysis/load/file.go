package load

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
)

var drive = regexp.MustCompile(`^([A-Za-z]:|/|\\)`)

// leaves refuses names that do not stay in the job's folder.
func leaves(name string) *fault.Fault {
	f := fault.Fault{Code: "outside", Expected: "a file in the job's folder", Mend: "copy it into the folder of job.toml and write its name only"}
	switch {
	case drive.MatchString(name):
		f.Found = fmt.Sprintf("%q is a full path", name)
	case name == ".." || strings.HasPrefix(name, "../") || strings.Contains(name, "/../") || strings.HasSuffix(name, "/.."):
		f.Found = fmt.Sprintf("%q leads out of the folder", name)
	case !fs.ValidPath(path.Clean(name)):
		f.Found = fmt.Sprintf("%q is not a file name", name)
	default:
		return nil
	}
	return &f
}

// readFile reads a regular file of at most limit bytes, never nil where it could.
func readFile(fsys fs.FS, name string, limit int64) ([]byte, *fault.Fault) {
	info, err := fs.Stat(fsys, name)
	if errors.Is(err, fs.ErrNotExist) {
		if same := composed(fsys, name); same != "" {
			name = same
			info, err = fs.Stat(fsys, name)
		}
	}
	if err != nil {
		return nil, cannot(fsys, name, err)
	}
	switch {
	case info.IsDir():
		return nil, &fault.Fault{Code: "folder", Found: fmt.Sprintf("%q is a folder", name), Expected: "a file", Mend: within(fsys, name)}
	case !info.Mode().IsRegular():
		return nil, &fault.Fault{Code: "device", Found: fmt.Sprintf("%q is a device or a pipe", name), Expected: "a file", Mend: "copy what it gives into an ordinary file"}
	case info.Size() > limit:
		return nil, tooLarge(name, limit)
	}
	file, err := fsys.Open(name)
	if err != nil {
		return nil, cannot(fsys, name, err)
	}
	defer file.Close()
	var b bytes.Buffer
	b.Grow(int(info.Size()) + bytes.MinRead)
	n, err := io.Copy(&b, io.LimitReader(file, limit+1))
	if err != nil {
		return nil, cannot(fsys, name, err)
	}
	if n > limit {
		return nil, tooLarge(name, limit)
	}
	return b.Bytes(), nil
}

// alike reports names that differ in no more than how their accents are stored.
func alike(a, b string) bool { return norm.NFC.String(a) == norm.NFC.String(b) }

// composed is the one file whose name differs from the wanted one only in how its
// accents are stored, which nobody can see: some systems part letter and accent.
func composed(fsys fs.FS, name string) (same string) {
	for _, n := range exports(fsys, path.Dir(name)) {
		if !alike(n, path.Base(name)) {
			continue
		}
		if same != "" {
			return ""
		}
		same = path.Join(path.Dir(name), n)
	}
	return same
}

func tooLarge(name string, limit int64) *fault.Fault {
	return &fault.Fault{Code: "size", Found: fmt.Sprintf("%q is larger than %d MiB", name, limit>>20), Expected: "an export of one job",
		Mend: "export only the hours of this job"}
}

// cannot says why a file cannot be read.
func cannot(fsys fs.FS, name string, err error) *fault.Fault {
	f := &fault.Fault{Code: "unreadable", Found: fmt.Sprintf("%q cannot be read: %s", name, cause(err)), Expected: "a file that can be read",
		Mend: "close it in other programs, or copy it again from the instrument"}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		f.Code, f.Found, f.Expected = "missing-file", fmt.Sprintf("there is no file %q", name), "a file in the job's folder"
		f.Mend = near(fsys, path.Dir(name), path.Base(name))
		if slices.Contains(exports(fsys, path.Dir(name)), path.Base(name)) {
			f.Found, f.Mend = fmt.Sprintf("%q is a link to a file that is not there", name), "copy the file itself into the folder of job.toml"
		}
	case strings.Contains(err.Error(), "escapes"): // os.Root has no error value for this
		f.Code, f.Found = "outside", fmt.Sprintf("%q is a link that leads out of the folder", name)
		f.Expected, f.Mend = "a file in the job's folder", "copy the file itself into the folder of job.toml"
	case errors.Is(err, fs.ErrPermission):
		f.Found, f.Mend = fmt.Sprintf("%q may not be read", name), "ask whoever owns the file for the right to read it"
	}
	return f
}

// cause is an error without the path that the message names already.
func cause(err error) string {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err.Error()
	}
	return err.Error()
}

// ours are the files of a job that are never an export.
var ours = map[string]bool{"job.toml": true, "job.xlsx": true, "job.schema.json": true, "company.toml": true}

// near is what to do where a file is missing: it names the one most like it, or
// the first few that there are.
func near(fsys fs.FS, dir, base string) string {
	const copyIt = "copy it into the folder"
	names := exports(fsys, dir)
	if best := job.Nearest(base, names); best != "" {
		return fmt.Sprintf("did you mean %q?", path.Join(dir, best))
	}
	if len(names) == 0 {
		return copyIt
	}
	return copyIt + ", or name one that is there: " + few(names)
}

// within is what to do where a folder is named.
func within(fsys fs.FS, dir string) string {
	names := exports(fsys, dir)
	for i := range names {
		names[i] = path.Join(dir, names[i])
	}
	if len(names) == 0 {
		return "name a file; there is none in it"
	}
	return "name a file in it: " + few(names)
}

// exports are the names of files in a folder that can be one of the job's.
func exports(fsys fs.FS, dir string) (names []string) {
	entries, _ := fs.ReadDir(fsys, dir) // one that cannot be read has none to offer
	for _, e := range entries {
		if n := e.Name(); !e.IsDir() && !strings.HasPrefix(n, ".") && !strings.HasPrefix(n, "~$") && !ours[n] {
			names = append(names, n)
		}
	}
	return names
}

// few lists the first names.
func few(names []string) string {
	const most = 5
	if len(names) > most {
		return fmt.Sprintf("%s and %d more", strings.Join(names[:most], ", "), len(names)-most)
	}
	return strings.Join(names, ", ")
}
