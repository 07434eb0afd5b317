package issue

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"dryhold/cmd/dryhold/internal/place"
	"dryhold/report/seal"
)

// seal signs and then reads its own work as a stranger would.
func (i *Issuer) seal(ctx context.Context, archived []byte, key *seal.Key) ([]byte, error) {
	signed, err := seal.Sign(ctx, archived, key, i.Now(), i.Stamper)
	if err != nil {
		return nil, &SealError{err}
	}
	back, err := seal.Open(signed)
	if err != nil {
		return nil, fmt.Errorf("internal: the record that was just signed does not verify: %w", err)
	}
	if string(back.Unsigned) != string(archived) {
		return nil, errors.New("internal: the record that was just signed reads differently")
	}
	return signed, nil
}

// SealError says that a record could not be signed.
type SealError struct{ err error }

func (e *SealError) Error() string { return "signing: " + e.err.Error() }

func (e *SealError) Unwrap() error { return e.err }

// place puts the files; where another run placed the same record at the same
// time, that one stands.
func (i *Issuer) place(files []place.File) error {
	if i.Turn != nil {
		<-i.Turn
		defer func() { i.Turn <- struct{}{} }()
	}
	err := i.Out.Put(files)
	if !errors.Is(err, fs.ErrExist) {
		return err
	}
	var path *os.LinkError
	if errors.As(err, &path) {
		return fmt.Errorf("%s is there already: another run has just placed it; run again to see how they compare", filepath.Base(path.New))
	}
	return err
}
