package main

import (
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryhold/cmd/dryhold/internal/place"
)

// printed is a flag of a command that prints a text: the name of a file for it. What a
// shell on Windows writes by > need not have the bytes that the program gave it.
func printed(c *cobra.Command) *string {
	return c.Flags().StringP("out", "o", "", "write it to a file, which must not be there yet")
}

// print gives a text out, or writes it to a new file where one is named.
func (a *app) print(text []byte, path string) error {
	if path != "" {
		return putNew(path, text)
	}
	_, err := a.out.Write(text)
	return err
}

// putNew writes a file as a whole, and never over another one.
func putNew(path string, data []byte) error {
	dir, err := place.Open(filepath.Dir(path))
	if err != nil {
		return badFile(err, "give another file by --out")
	}
	defer dir.Close()
	err = dir.Put([]place.File{{Name: filepath.Base(path), Data: data}})
	if errors.Is(err, fs.ErrExist) {
		return badFile(fmt.Errorf("there is a file %s already", path), "give another name by --out; nothing is written over")
	}
	return err
}
