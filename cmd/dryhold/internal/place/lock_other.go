//go:build !unix

package place

// lock does nothing where a folder cannot be locked: only old files are cleared.
type lock struct{}

func (*lock) take(string) (bool, error) { return false, nil }
func (*lock) share() error              { return nil }
func (*lock) drop() error               { return nil }
