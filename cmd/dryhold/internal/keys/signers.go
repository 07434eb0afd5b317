package keys

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"

	"crypto/x509"

	"dryhold/report/seal"
)

const signersFile = "signers.pem"

// Known is the certificates in signers.pem of the configuration folder and of
// the keys here that need no passphrase; a missing file is none.
func Known() ([]*x509.Certificate, error) {
	dir, err := Folder()
	if err != nil {
		return nil, err
	}
	var list []*x509.Certificate
	path := filepath.Join(dir, signersFile)
	data, err := ReadFile(path)
	switch {
	case errors.Is(err, fs.ErrNotExist), errors.Is(err, errEmpty):
	case err != nil:
		return nil, fmt.Errorf("%w: %w", ErrKey, err)
	default:
		if list, err = seal.DecodeCertificates(data); err != nil {
			return nil, fmt.Errorf("%w: %s: %w", ErrKey, path, err)
		}
	}
	own, _ := filepath.Glob(filepath.Join(dir, "*.key"))
	for _, path := range own {
		if data, err := ReadFile(path); err == nil && !protected(data) {
			if k, err := seal.DecodeKey(data, ""); err == nil {
				list = append(list, k.Certificate())
			}
		}
	}
	return list, nil
}

// Trust adds certificates to the known signers, each once.
func Trust(list []*x509.Certificate) error {
	dir, err := Folder()
	if err != nil {
		return err
	}
	known, err := Known()
	if err != nil {
		return err
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return fmt.Errorf("%w: %w", ErrKey, err)
	}
	f, err := os.OpenFile(filepath.Join(dir, signersFile), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o600)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrKey, err)
	}
	for _, c := range list {
		if slices.ContainsFunc(known, c.Equal) {
			continue
		}
		known = append(known, c)
		_, e := f.Write(seal.EncodeCertificate(c))
		err = errors.Join(err, e)
	}
	return errors.Join(err, f.Close())
}
