// Package keys holds the signing keys and known signers in the configuration
// folder: one file a key, readable by its owner only.
package keys

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"sync"
	"time"

	"crypto/x509"

	"dryhold/report/seal"
)

// ErrKey marks every error of this package that concerns a key.
var ErrKey = errors.New("signing key")

// Default is the name of the key that is used where company.toml names none.
const Default = "default"

// Store is the keys of one configuration folder. It may be used by several
// goroutines; a passphrase is asked for once a key.
type Store struct {
	ask func(name string) (string, error)

	mu     sync.Mutex
	opened map[string]*seal.Key
	failed map[string]error
}

// Open returns the store; ask obtains the passphrase of a protected key.
func Open(ask func(name string) (string, error)) *Store {
	return &Store{ask: ask, opened: map[string]*seal.Key{}, failed: map[string]error{}}
}

// Folder is the configuration folder: DRYHOLD_CONFIG, or the user's own.
func Folder() (string, error) {
	if dir := os.Getenv("DRYHOLD_CONFIG"); dir != "" {
		return dir, nil
	}
	dir, err := os.UserConfigDir()
	if err != nil {
		return "", fmt.Errorf("%w: there is no configuration folder: %w; set DRYHOLD_CONFIG to one", ErrKey, err)
	}
	return filepath.Join(dir, "dryhold"), nil
}

var validName = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$`)

// Path is the file of the key of that name.
func Path(name string) (string, error) {
	if !validName.MatchString(name) {
		return "", fmt.Errorf("%w: the name %q cannot be used; expected letters, digits, - and _", ErrKey, name)
	}
	dir, err := Folder()
	if err != nil {
		return "", err
	}
	return filepath.Join(dir, name+".key"), nil
}

// Get reads a key. The error wraps fs.ErrNotExist where there is none.
func (s *Store) Get(name string) (*seal.Key, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.get(name)
}

func (s *Store) get(name string) (*seal.Key, error) {
	if k := s.opened[name]; k != nil {
		return k, nil
	}
	if err := s.failed[name]; err != nil {
		return nil, err
	}
	k, err := s.read(name)
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			s.failed[name] = err
		}
		return nil, err
	}
	s.opened[name] = k
	return k, nil
}

func (s *Store) read(name string) (*seal.Key, error) {
	path, err := Path(name)
	if err != nil {
		return nil, err
	}
	data, err := ReadFile(path)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrKey, err)
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrKey, err)
	}
	if runtime.GOOS != "windows" && info.Mode().Perm()&0o077 != 0 {
		return nil, fmt.Errorf("%w: %s can be read by others (mode %04o); expected 0600: chmod 600 %s",
			ErrKey, path, info.Mode().Perm(), path)
	}
	k, err := Decode(data, name, s.ask)
	if err != nil {
		return nil, fmt.Errorf("%w: %s: %w", ErrKey, path, err)
	}
	return k, nil
}

// maxFile bounds a file of keys or certificates.
const maxFile = 1 << 20

var errEmpty = errors.New("is empty")

// ReadFile reads a file of keys or certificates.
func ReadFile(path string) ([]byte, error) {
	info, err := os.Stat(path) // before it is opened: opening a pipe waits for ever
	switch {
	case err != nil:
		return nil, err
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("%s is no ordinary file", path)
	case info.Size() == 0:
		return nil, fmt.Errorf("%s %w", path, errEmpty)
	case info.Size() > maxFile:
		return nil, fmt.Errorf("%s is larger than 1 MB", path)
	}
	return os.ReadFile(path)
}

// Decode reads a key file, and asks for the passphrase only where it needs one.
func Decode(data []byte, name string, ask func(string) (string, error)) (*seal.Key, error) {
	if !protected(data) {
		return seal.DecodeKey(data, "")
	}
	passphrase, err := ask(name)
	if err != nil {
		if k, e := seal.DecodeKey(data, ""); e == nil { // a file whose passphrase is empty
			return k, nil
		}
		return nil, err
	}
	return seal.DecodeKey(data, passphrase)
}

// protected files are PKCS#12, whose first byte is that of a sequence (ITU-T X.690):
// to try a passphrase on one takes a third of a second.
func protected(data []byte) bool {
	const sequence = 0x30
	return data[0] == sequence && !bytes.Contains(data, []byte("-----BEGIN"))
}

// GetOrMake reads the key, or makes one for holder on first use; made says that it did.
func (s *Store) GetOrMake(name, holder string, now time.Time) (k *seal.Key, made bool, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	k, err = s.get(name)
	if !errors.Is(err, fs.ErrNotExist) {
		return k, false, err
	}
	k, err = New(holder, now, 10)
	if err != nil {
		return nil, false, err
	}
	err = Save(name, k, "")
	if errors.Is(err, fs.ErrExist) { // another run was quicker
		k, err = s.get(name)
		return k, false, err
	}
	if err != nil {
		return nil, false, err
	}
	s.opened[name] = k
	return k, true, nil
}

// New makes a key whose certificate shows the holder's name.
func New(holder string, now time.Time, years int) (*seal.Key, error) {
	holder = strings.TrimSpace(holder)
	if r := []rune(holder); len(r) > 64 { // the most that RFC 5280 allows
		holder = string(r[:64])
	}
	k, err := seal.NewKey(holder, now.Add(-time.Hour).UTC().Truncate(time.Hour), now.AddDate(years, 0, 0).UTC().Truncate(time.Hour))
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrKey, err)
	}
	return k, nil
}

// Save writes a key for its owner only, and never over another.
func Save(name string, k *seal.Key, passphrase string) error {
	path, err := Path(name)
	if err != nil {
		return err
	}
	data, err := k.Encode(passphrase)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrKey, err)
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o700); err != nil {
		return fmt.Errorf("%w: %w", ErrKey, err)
	}
	f, err := os.CreateTemp(filepath.Dir(path), ".key-*") // mode 0600
	if err != nil {
		return fmt.Errorf("%w: %w", ErrKey, err)
	}
	defer os.Remove(f.Name())
	_, err = f.Write(data)
	if err := errors.Join(err, f.Sync(), f.Close()); err != nil {
		return fmt.Errorf("%w: %w", ErrKey, err)
	}
	if err := os.Link(f.Name(), path); err != nil {
		return fmt.Errorf("%w: %w", ErrKey, err)
	}
	if protected(data) { // it cannot be opened to look whose it is
		return Trust([]*x509.Certificate{k.Certificate()})
	}
	return nil
}
