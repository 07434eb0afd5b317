package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"dryhold/report/seal"
)

func (a *app) extractCommand() *cobra.Command {
	var out string
	c := &cobra.Command{
		Use:   "extract RECORD.pdf",
		Short: "give the job folder back that a record carries",
		Long: "Writes the job file, the readings and whatever else the record carries into a new folder, as\n" +
			"they were when it was issued; make of that folder gives the same results.",
		Example: "  dryhold extract records/HR-0409.inspector.pdf --out HR-0409",
		Args:    args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			return a.extract(list[0], out)
		},
	}
	c.Flags().StringVarP(&out, "out", "o", "", "folder to be made (default: the record's name without .pdf)")
	return c
}

// extract writes the attachments into a new folder, and nothing outside it. Where it
// cannot write them all it leaves none.
func (a *app) extract(path, out string) error {
	sealed, err := openRecord(path)
	if err != nil {
		return &failure{codeOf(err), fmt.Errorf("%s: %w", path, err), advice(err)}
	}
	if out == "" {
		out = path[:len(path)-len(filepath.Ext(path))]
	}
	if err := os.Mkdir(out, 0o777); err != nil {
		return badFile(plainly(err), "give a folder that does not exist yet by --out")
	}
	if err := writeAll(out, sealed.Attachments); err != nil {
		return errors.Join(err, os.RemoveAll(out))
	}
	for _, file := range sealed.Attachments {
		fmt.Fprintln(a.out, filepath.Join(out, filepath.FromSlash(file.Name)))
	}
	return nil
}

func writeAll(dir string, list []seal.Attachment) error {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return err
	}
	defer root.Close()
	for _, file := range list {
		name := filepath.FromSlash(file.Name)
		if err := root.MkdirAll(filepath.Dir(name), 0o777); err != nil {
			return err
		}
		f, err := root.OpenFile(name, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o666)
		if err != nil {
			return err
		}
		_, err = f.Write(file.Data)
		if err := errors.Join(err, f.Close()); err != nil {
			return err
		}
	}
	return nil
}
