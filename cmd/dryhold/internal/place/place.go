// Package place puts finished files into the output folder: each appears under
// its final name only when it is complete, and never over another file.
package place

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"
)

// File is a finished file and its final name.
type File struct {
	Name    string
	Data    []byte
	Private bool // for its owner alone, where the system has modes
}

// Folder is an output folder in use by this run.
type Folder struct {
	Dir  string
	lock lock
}

const pattern = ".dryhold-*.part"

// Open makes the folder where it is missing, and clears what a killed run left
// behind: only when no other run uses the folder.
func Open(dir string) (*Folder, error) {
	if err := os.MkdirAll(dir, 0o777); err != nil {
		return nil, err
	}
	f := &Folder{Dir: dir}
	alone, err := f.lock.take(dir)
	if err != nil {
		return nil, err
	}
	left, err := filepath.Glob(filepath.Join(escape(dir), pattern))
	if err != nil {
		return nil, errors.Join(err, f.Close())
	}
	for _, path := range left {
		if alone || old(path) {
			os.Remove(path) // what cannot be removed does no harm
		}
	}
	if err := f.lock.share(); err != nil {
		return nil, errors.Join(err, f.Close())
	}
	return f, nil
}

// old is the rule where a folder cannot be locked: no run writes one file for a day.
func old(path string) bool {
	info, err := os.Stat(path)
	return err == nil && time.Since(info.ModTime()) > 24*time.Hour
}

// escape keeps a folder's name from being a pattern.
func escape(dir string) string {
	out := make([]byte, 0, len(dir))
	for i := range len(dir) {
		if c := dir[i]; filepath.Separator == '/' && (c == '*' || c == '?' || c == '[' || c == '\\') {
			out = append(out, '\\')
		}
		out = append(out, dir[i])
	}
	return string(out)
}

// Close lets other runs clear the folder.
func (f *Folder) Close() error { return f.lock.drop() }

// Exists reports whether something has that name.
func (f *Folder) Exists(name string) bool {
	_, err := os.Lstat(filepath.Join(f.Dir, name))
	return err == nil
}

// Put places all files or none. The first file is the claim of a record: the error
// wraps fs.ErrExist where its name is taken. A later one that is there was placed by
// a run that saw the claim and completed the record meanwhile, and stands.
func (f *Folder) Put(files []File) (err error) {
	temps := make([]string, 0, len(files))
	defer func() {
		for _, path := range temps {
			if e := os.Remove(path); !errors.Is(e, os.ErrNotExist) { // renamed, where there are no links
				err = errors.Join(err, e)
			}
		}
	}()
	paths, faults := make([]string, len(files)), make([]error, len(files))
	var wg sync.WaitGroup
	for i, file := range files { // at once, since each waits for the disk
		wg.Go(func() { paths[i], faults[i] = f.write(file) })
	}
	wg.Wait()
	for i, file := range files {
		if paths[i] != "" {
			temps = append(temps, paths[i])
		}
		if err == nil && faults[i] != nil { // what ails one ails the others
			err = fmt.Errorf("%s: %w", filepath.Join(f.Dir, file.Name), faults[i])
		}
	}
	if err != nil {
		return err
	}
	for i, file := range files {
		err := link(temps[i], filepath.Join(f.Dir, file.Name))
		if i > 0 && errors.Is(err, os.ErrExist) {
			continue
		}
		if err != nil {
			for _, placed := range files[:i] {
				err = errors.Join(err, os.Remove(filepath.Join(f.Dir, placed.Name)))
			}
			return err
		}
	}
	return nil
}

func (f *Folder) write(file File) (string, error) {
	t, err := os.CreateTemp(f.Dir, pattern)
	if err != nil {
		return "", err
	}
	_, err = t.Write(file.Data)
	mode := os.FileMode(0o644)
	if file.Private {
		mode = 0o600
	}
	// The mode is that of an ordinary new file as far as the system lets us know it.
	return t.Name(), errors.Join(err, t.Chmod(mode), t.Sync(), t.Close())
}

// link gives a finished file its final name and fails where that is taken. Where
// the file system has no links it is renamed after a look.
func link(from, to string) error {
	err := os.Link(from, to)
	if err == nil || errors.Is(err, os.ErrExist) {
		return err
	}
	if _, taken := os.Lstat(to); taken == nil {
		return &os.LinkError{Op: "rename", Old: from, New: to, Err: os.ErrExist}
	}
	return os.Rename(from, to)
}
