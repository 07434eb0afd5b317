package issue

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"dryhold/analysis/record"
	"dryhold/report/seal"
)

// issued is a record that is in the output folder already.
type issued struct {
	digest string
	record *record.Record
	files  map[string][]byte // its attachments but results.json; nil where no PDF is left
	result []byte
}

// before reads the record of that number and revision, from any of its PDFs, or
// from results.json alone where a killed run came no further.
func (i *Issuer) before(number string, revision int) (*issued, error) {
	for _, audience := range Audiences {
		name := filepath.Join(i.Out.Dir, pdfName(number, revision, audience))
		info, err := os.Stat(name) // before it is opened: opening a pipe waits for ever
		if errors.Is(err, os.ErrNotExist) {
			continue
		}
		if err == nil && !info.Mode().IsRegular() {
			err = fmt.Errorf("%s is no ordinary file; move it away to issue the job", name)
		}
		if err != nil {
			return nil, err
		}
		data, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		sealed, err := seal.Open(data)
		if err != nil {
			return nil, fmt.Errorf("%s, issued before: %w; move it away to issue the job again", name, err)
		}
		return fromSealed(sealed)
	}
	name := filepath.Join(i.Out.Dir, resultsName(number, revision))
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, err
	}
	rec, err := record.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("%s, written before: %w; move it away to issue the job again", name, err)
	}
	return &issued{digest: record.Digest(data), record: rec, result: data}, nil
}

// maxResults bounds results.json, which has less than 1 MB: to read it takes many
// times its size.
const maxResults = 16 << 20

func fromSealed(s *seal.Sealed) (*issued, error) {
	b := &issued{files: map[string][]byte{}}
	for _, a := range s.Attachments {
		if a.Name != resultsFile {
			b.files[a.Name] = a.Data
			continue
		}
		if len(a.Data) > maxResults {
			return nil, fmt.Errorf("%w: its results.json has %d MB, more than the %d that are read", seal.ErrNotSealed, len(a.Data)>>20, maxResults>>20)
		}
		rec, err := record.Parse(a.Data)
		if err != nil {
			return nil, err
		}
		b.digest, b.record, b.result = record.Digest(a.Data), rec, a.Data
	}
	if b.record == nil {
		return nil, fmt.Errorf("%w: it carries no results.json", seal.ErrNotSealed)
	}
	return b, nil
}

// changed names the files that are not those of the record; none where it was made
// from these very files, or where what else the firm's file says, as of a new gauge,
// changes nothing in the record.
func (b *issued) changed(w *Work) (names []string) {
	if b.files == nil {
		if !b.again(w) {
			names = append(names, "its results")
		}
		return names
	}
	if names = b.others(w); slices.Equal(names, []string{companyFile}) && b.again(w) {
		return nil
	}
	return names
}

// again reports whether the job comes out as it did.
func (b *issued) again(w *Work) bool {
	faults := w.run(b.record.Software, b.record.Job.Revision)
	return !faults.Stops() && bytes.Equal(w.Results, b.result)
}

// others names the files that differ from those of the record, on either side.
func (b *issued) others(w *Work) (names []string) {
	left := maps.Clone(b.files)
	for _, f := range w.Files {
		if old, ok := left[f.Name]; !ok || !bytes.Equal(old, f.Data) {
			names = append(names, f.Name)
		}
		delete(left, f.Name)
	}
	return append(names, slices.Sorted(maps.Keys(left))...)
}
