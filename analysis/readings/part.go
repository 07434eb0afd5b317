package readings

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"strings"
)

// archive is a workbook's zip archive. It checks the size and the CRC of every
// part that is read, also where the CRC is given as 0, which archive/zip lets
// pass.
type archive struct {
	parts  map[string]*zip.File
	budget int64 // bytes that may still be unpacked
}

var errTooLarge = fmt.Errorf("it unpacks to more than %d MiB", maxUnpacked>>20)

func openArchive(data []byte) (*archive, *zip.Reader, error) {
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, nil, errors.New("the archive can't be opened (" + strings.TrimPrefix(err.Error(), "zip: ") + ")")
	}
	a := &archive{map[string]*zip.File{}, maxUnpacked}
	for _, f := range z.File {
		name := partName(f.Name)
		if a.parts[name] != nil {
			return nil, nil, fmt.Errorf("it holds two parts named %q", f.Name)
		}
		a.parts[name] = f
	}
	return a, z, nil
}

// partName folds a part's name: they are compared without regard to case
// (ECMA-376 part 2, 6.2.2), and some writers begin them with a slash.
func partName(s string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(s, `\`, "/"), "/"))
}

// read unpacks one part whole, or says why it can't.
func (a *archive) read(name string, limit int64) ([]byte, error) {
	f := a.parts[partName(name)]
	if f == nil {
		return nil, fmt.Errorf("the part %s is missing", name)
	}
	damaged := func(why string) error { return fmt.Errorf("the part %s is damaged: %s", name, why) }
	size := int64(f.UncompressedSize64)
	switch {
	case f.Flags&1 != 0:
		return nil, fmt.Errorf("the part %s is encrypted", name)
	case size < 0 || size > limit || size > a.budget:
		return nil, errTooLarge
	case int64(f.CompressedSize64) < size/1100:
		return nil, damaged("its sizes do not fit each other")
	}
	a.budget -= size
	raw, err := f.OpenRaw()
	if err != nil {
		return nil, damaged(err.Error())
	}
	var in io.Reader = raw
	switch f.Method {
	case zip.Deflate:
		in = flate.NewReader(raw)
	case zip.Store:
	default:
		return nil, damaged("it is packed in an unknown way")
	}
	out := make([]byte, size)
	if _, err := io.ReadFull(in, out); err != nil {
		return nil, damaged("it ends too early or can't be unpacked")
	}
	var more [1]byte
	if n, err := in.Read(more[:]); n > 0 || err != io.EOF {
		return nil, damaged("it is longer than its stated size")
	}
	if crc32.ChecksumIEEE(out) != f.CRC32 {
		return nil, damaged("its checksum differs")
	}
	return out, nil
}
