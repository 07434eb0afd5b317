package issue

import (
	"io/fs"
	"path"
)

// firmFiles is the folder of company.toml. What the file names is looked for in a
// folder "company" first, where a record's attachments have it and extract puts it.
type firmFiles struct{ fs.FS }

const firmFolder = "company"

// Open implements fs.FS.
func (f firmFiles) Open(name string) (fs.File, error) {
	file, err := f.FS.Open(path.Join(firmFolder, name))
	if err != nil {
		return f.FS.Open(name)
	}
	return file, err
}

// Stat implements fs.StatFS: to open a pipe would wait for ever.
func (f firmFiles) Stat(name string) (fs.FileInfo, error) {
	info, err := fs.Stat(f.FS, path.Join(firmFolder, name))
	if err != nil {
		return fs.Stat(f.FS, name)
	}
	return info, err
}
