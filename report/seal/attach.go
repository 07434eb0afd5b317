package seal

import (
	"bytes"
	"cmp"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"time"
	"unicode"
	"unicode/utf8"

	"github.com/klauspost/compress/zlib"

	"dryhold/report/seal/internal/pdf"
)

// deflaters are kept, since each holds more than half a megabyte.
var deflaters = sync.Pool{New: func() any {
	w, err := zlib.NewWriterLevel(nil, zlib.BestSpeed)
	if err != nil {
		panic(err) // the level is a constant
	}
	return w
}}

func deflate(data []byte) []byte {
	var b bytes.Buffer
	b.Grow(64 + len(data)/2)
	w := deflaters.Get().(*zlib.Writer)
	defer deflaters.Put(w)
	w.Reset(&b)
	w.Write(data) // a bytes.Buffer takes everything
	w.Close()
	return b.Bytes()
}

// Pack compresses attachments once, for several records that carry the same ones.
// Archive packs what is not packed; Data must not be changed afterwards.
func Pack(list []Attachment) []Attachment {
	list = slices.Clone(list)
	for i := range list {
		if a := &list[i]; a.packed == nil {
			a.packed = deflate(a.Data)
		}
	}
	return list
}

// checkName accepts a file's name, or its path inside the job's folder.
func checkName(name string) error {
	switch {
	case !fs.ValidPath(name) || name == ".":
		return fmt.Errorf("attachment %q: the name is not that of a file in a folder or one below it", name)
	case !utf8.ValidString(name) || strings.ContainsFunc(name, unicode.IsControl) || strings.Contains(name, `\`):
		return fmt.Errorf("attachment %q: the name has a control character or a backslash", name)
	}
	return nil
}

func checkAttachments(list []Attachment) error {
	seen, size := map[string]bool{}, 0
	relationships := []Relationship{Source, Data, Alternative, Supplement, Unspecified}
	for _, a := range list {
		if err := checkName(a.Name); err != nil {
			return err
		}
		if seen[a.Name] {
			return fmt.Errorf("attachment %q is there twice", a.Name)
		}
		seen[a.Name] = true
		if size += len(a.Data); size > MaxAttached {
			return fmt.Errorf("the attachments have more than %d MB together", MaxAttached>>20)
		}
		if !slices.Contains(relationships, a.Relationship) {
			return fmt.Errorf("attachment %q: the relationship %q is not one of PDF/A-3", a.Name, a.Relationship)
		}
		if kind, sub, ok := strings.Cut(a.MIME, "/"); !ok || kind == "" || sub == "" {
			return fmt.Errorf("attachment %q: %q is not a media type", a.Name, a.MIME)
		}
	}
	return nil
}

// attach writes the attachments and enters them in the catalog.
func (a *archiver) attach(catalog *pdf.Dict, list []Attachment, created time.Time) {
	if len(list) == 0 {
		return
	}
	type named struct {
		key  pdf.String
		spec pdf.Ref
	}
	var names []named
	var associated pdf.Array
	for _, at := range Pack(list) {
		spec := a.attachOne(at, created)
		associated = append(associated, spec)
		names = append(names, named{pdf.Text(at.Name), spec})
	}
	slices.SortFunc(names, func(x, y named) int { return cmp.Compare(x.key, y.key) })
	var leaf pdf.Array
	for _, n := range names {
		leaf = append(leaf, n.key, n.spec)
	}
	catalog.Set("Names", pdf.Dict{{Key: "EmbeddedFiles", Value: pdf.Dict{{Key: "Names", Value: leaf}}}})
	catalog.Set("AF", associated)
}

func (a *archiver) attachOne(at Attachment, created time.Time) pdf.Ref {
	file := a.add(&pdf.Stream{Dict: pdf.Dict{
		{Key: "Type", Value: pdf.Name("EmbeddedFile")},
		{Key: "Subtype", Value: pdf.Name(at.MIME)},
		{Key: "Params", Value: pdf.Dict{
			{Key: "ModDate", Value: date(created)},
			{Key: "Size", Value: len(at.Data)},
		}},
		{Key: "Filter", Value: pdf.Name("FlateDecode")},
	}, Raw: at.packed})
	spec := pdf.Dict{
		{Key: "Type", Value: pdf.Name("Filespec")},
		{Key: "F", Value: pdf.String(asciiName(at.Name))},
		{Key: "UF", Value: pdf.Text(at.Name)},
		{Key: "AFRelationship", Value: pdf.Name(at.Relationship)},
		{Key: "EF", Value: pdf.Dict{{Key: "F", Value: file}, {Key: "UF", Value: file}}},
	}
	if at.Description != "" {
		spec.Set("Desc", pdf.Text(at.Description))
	}
	return a.add(spec)
}

// asciiName is the name for readers older than Unicode file names.
func asciiName(name string) string {
	return strings.Map(func(r rune) rune {
		if r > '~' {
			return '_'
		}
		return r
	}, name)
}

// date is a PDF date in UTC.
func date(t time.Time) pdf.String { return pdf.String(t.UTC().Format("D:20060102150405Z")) }
