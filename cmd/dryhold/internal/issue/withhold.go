package issue

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"github.com/BurntSushi/toml"

	"dryhold/analysis/fault"
	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/place"
)

// An ordinary record's name ends with an audience and .pdf, so these are never one.
func withheldName(number string, revision int, audience string) string {
	return stem(number, revision) + "." + audience + ".withheld.pdf"
}

func saltName(number string, revision int) string { return stem(number, revision) + ".withheld.toml" }

// saltFile is what the firm keeps, to show later who the customer was.
type saltFile struct {
	Format   int        `toml:"format"`
	Record   string     `toml:"record"` // digest of the ordinary record
	Salt     string     `toml:"salt"`   // hexadecimal
	Withheld []withheld `toml:"withheld"`
}

const saltHead = `# Keep this file private and safe, beside the ordinary record: it shows whom the copy
# without the customer is about. Each digest is HMAC-SHA-256 of key=value under the salt.
`

// stranger is the job without its customer, as files. The faults say where the
// customer would still be named.
func (w *Work) stranger(salt []byte) (map[string][]byte, []withheld, fault.List, error) {
	files := map[string][]byte{}
	for _, f := range w.Files {
		files[f.Name] = f.Data
	}
	list := customerTexts(w.Job, salt)
	hidden, err := hide(w.Job, files[jobName], list)
	if err != nil {
		return nil, nil, nil, err
	}
	files[jobName] = hidden
	for _, s := range w.Job.Signoffs {
		if s.Image != "" && byCustomer(w.Job, s) {
			return nil, nil, fault.List{{Code: "not-withheld", File: s.Image, Found: "a picture of the customer's own signature",
				Expected: "a file from which nobody can tell the customer", Mend: "a record with this picture cannot be told without the customer"}}, nil
		}
	}
	if p := w.Job.Photographs; len(p) > 0 {
		return nil, nil, fault.List{{Code: "not-withheld", File: p[0].File, Found: "a photograph, which may show the site",
			Expected: "a file from which nobody can tell the customer", Mend: "a record with photographs cannot be told without the customer"}}, nil
	}
	return files, list, leaks(files, list), nil
}

// withhold makes the copies without the customer of a record that stands in the
// output folder. Their results have another digest; the ordinary one is not in
// them, since names could be tried on it.
func (i *Issuer) withhold(ctx context.Context, w *Work, o *Outcome) error {
	var missing []string
	for _, audience := range w.Record.Show.Audience {
		name := withheldName(o.Number, o.Revision, audience)
		if !i.Out.Exists(name) {
			missing = append(missing, audience)
		}
		o.Files = append(o.Files, name)
	}
	if len(missing) == 0 || i.DryRun {
		return nil
	}
	salt, have, err := i.salt(o)
	if err != nil {
		return err
	}
	files, list, faults, err := w.stranger(salt)
	if err != nil || faults.Stops() {
		return errors.Join(err, faults)
	}
	copied, err := again(&issued{files: files, record: &record.Record{Software: i.Software, Job: record.Job{Revision: o.Revision}}})
	if err != nil {
		return fmt.Errorf("without the customer: %w", err)
	}
	var out []place.File
	if !have {
		kept, err := saltText(saltFile{Format: 1, Record: o.Digest, Salt: hex.EncodeToString(salt), Withheld: list})
		if err != nil {
			return err
		}
		out = append(out, place.File{Name: saltName(o.Number, o.Revision), Data: kept, Private: true})
	}
	key, err := i.Key(w.Job.Key, w.Job.Company.Name)
	if err != nil {
		return err
	}
	for _, audience := range missing {
		archived, pages, err := copied.Archive(audience, SignerOf(key.Certificate()))
		if err != nil {
			return fmt.Errorf("drawing for %s: %w", audience, err)
		}
		signed, err := i.seal(ctx, archived, key)
		if err != nil {
			return err
		}
		o.Pages += pages
		out = append(out, place.File{Name: withheldName(o.Number, o.Revision, audience), Data: signed})
	}
	if err := i.place(out); err != nil {
		return err
	}
	if o.State == Unchanged {
		o.State = Completed
	}
	return nil
}

// saltBytes is as long as the digest's own security.
const saltBytes = 32

// salt is the one in the output folder, or a new one.
func (i *Issuer) salt(o *Outcome) (salt []byte, have bool, err error) {
	path := filepath.Join(i.Out.Dir, saltName(o.Number, o.Revision))
	data, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		salt = make([]byte, saltBytes)
		rand.Read(salt) // never fails
		return salt, false, nil
	}
	if err != nil {
		return nil, false, err
	}
	var kept saltFile
	if _, err = toml.Decode(string(data), &kept); err == nil {
		salt, err = hex.DecodeString(kept.Salt)
	}
	if err == nil && (len(salt) != saltBytes || kept.Record != o.Digest) {
		err = errors.New("it is not about this record")
	}
	if err != nil {
		return nil, false, fmt.Errorf("%s: %w; move it away, with the copies that were made with it", path, err)
	}
	return salt, true, nil
}

func saltText(kept saltFile) ([]byte, error) {
	b := bytes.NewBufferString(saltHead)
	e := toml.NewEncoder(b)
	e.Indent = ""
	err := e.Encode(kept)
	return b.Bytes(), err
}
