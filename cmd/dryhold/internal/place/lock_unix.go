//go:build unix

package place

import (
	"errors"
	"os"

	"golang.org/x/sys/unix"
)

// lock is a shared lock on the folder itself, held for the whole run.
type lock struct{ dir *os.File }

// take opens the folder and reports whether no other run uses it. A file system
// without locks is never taken to be ours alone.
func (l *lock) take(dir string) (alone bool, err error) {
	if l.dir, err = os.Open(dir); err != nil {
		return false, err
	}
	return unix.Flock(int(l.dir.Fd()), unix.LOCK_EX|unix.LOCK_NB) == nil, nil
}

func (l *lock) share() error {
	err := unix.Flock(int(l.dir.Fd()), unix.LOCK_SH)
	if errors.Is(err, unix.ENOTSUP) || errors.Is(err, unix.ENOLCK) || errors.Is(err, unix.EBADF) || errors.Is(err, unix.ENOSYS) {
		return nil
	}
	return err
}

func (l *lock) drop() error { return l.dir.Close() }
