package issue

import (
	"crypto/x509"
	"errors"
	"fmt"
	"io/fs"
	"path"

	"dryhold/analysis/fault"
	"dryhold/analysis/load"
	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/place"
	"dryhold/report"
	"dryhold/report/plot"
	"dryhold/report/seal"
	"dryhold/templates"
)

// Signer is whose signature the pages announce; the zero value is none's.
type Signer struct{ Name, Fingerprint string }

// SignerOf is the holder of a certificate.
func SignerOf(c *x509.Certificate) Signer {
	return Signer{c.Subject.CommonName, seal.Fingerprint(c)}
}

// Archive draws the record for one audience, ready to be signed by the signer: the
// same bytes for the same job.
func (w *Work) Archive(audience string, by Signer) ([]byte, int, error) {
	words, err := w.words(audience)
	if err != nil {
		return nil, 0, err
	}
	show := w.Record.Show
	attached := append([]seal.Attachment{{Name: resultsFile, MIME: mediaType(resultsFile), Description: "every number of the record",
		Relationship: seal.Data, Data: w.Results}}, w.Files...)
	names := make([]string, len(attached))
	for i, a := range attached {
		names[i] = a.Name
	}
	drawn, err := report.Pages(w.Record, report.Options{Audience: audience, Language: show.Language, Units: show.Units, Paper: show.Paper,
		Digest: record.Digest(w.Results), Template: words, Images: w.images, Attachments: names, Signer: by.Name, KeyFingerprint: by.Fingerprint})
	if err != nil {
		return nil, 0, err
	}
	archived, err := seal.Archive(seal.Document{PDF: drawn.PDF, Title: drawn.Title, Language: drawn.Language, Created: drawn.Created,
		Producer: w.Record.Software.Name + " " + w.Record.Software.Version, Attachments: attached,
		CustomerField: drawn.CustomerField, Structure: drawn.Structure, ToUnicode: drawn.ToUnicode})
	return archived, drawn.Pages, err
}

// plots draws the figures as files of their own, in the form "svg" or "png".
func (w *Work) plots(o *Outcome, form string) ([]place.File, error) {
	words, err := w.words("inspector")
	if err != nil {
		return nil, err
	}
	show := w.Record.Show
	figures, err := report.Figures(w.Record, report.Options{Audience: "inspector", Language: show.Language, Units: show.Units, Template: words})
	if err != nil {
		return nil, err
	}
	draw := plot.SVG
	if form == "png" {
		draw = plot.PNG
	}
	var files []place.File
	for _, f := range figures {
		data, err := draw(f)
		if err != nil {
			return nil, err
		}
		files = append(files, place.File{Name: stem(o.Number, o.Revision) + "." + f.Name + "." + form, Data: data})
	}
	return files, nil
}

// picture keeps the logo, signatures' pictures and photographs by the names that pages use.
func (w *Work) picture(f load.NamedFile) {
	if w.images == nil {
		w.images = map[string][]byte{}
	}
	switch f.Role {
	case "logo":
		w.images[w.Job.Company.Logo] = f.Data
	case "image", "photograph":
		w.images[f.Name] = f.Data
	}
}

// maxTemplate bounds a template file.
const maxTemplate = 1 << 20

// template reads the wording that the job or the firm asks for.
func (w *Work) template(fsys fs.FS, firm Firm) *fault.Fault {
	name := w.Job.Record.Template
	if name == "" {
		return nil
	}
	bad := func(found, expected string) *fault.Fault {
		f := w.Job.Place("record.template", fault.Fault{Code: "template", Found: found, Expected: expected})
		return &f
	}
	as := path.Clean(name)
	if w.Job.Place("record.template", fault.Fault{}).File == companyFile && firm.FS != nil {
		fsys, as = firm.FS, path.Join(firmFolder, as)
	}
	info, err := fs.Stat(fsys, path.Clean(name))
	if err == nil && (!info.Mode().IsRegular() || info.Size() > maxTemplate) {
		err = errors.New("no ordinary file of at most 1 MB")
	}
	var data []byte
	if err == nil {
		data, err = fs.ReadFile(fsys, path.Clean(name))
	}
	if err != nil {
		return bad(fmt.Sprintf("%q cannot be read: %s", name, err), "a template that dryhold templates wrote, in the same folder")
	}
	if audience := templates.AudienceOf(data); audience != "" {
		w.wordsFor = audience
	}
	w.wording = data
	w.attach(as, "template", data)
	for _, audience := range Audiences {
		if _, err := w.words(audience); err != nil {
			return w.badTemplate(name, err)
		}
	}
	return nil
}

func (w *Work) badTemplate(name string, err error) *fault.Fault {
	f := &fault.Fault{Code: "template", File: name, Found: err.Error(), Mend: "dryhold templates writes a whole one to begin from"}
	var e *templates.Error
	if errors.As(err, &e) {
		f.Line, f.Key, f.Found, f.Expected = e.Line, e.Key, e.Found, e.Expected
	}
	return f
}

// words is the template for an audience: our own, unless a file is for it.
func (w *Work) words(audience string) (*templates.Template, error) {
	if w.wording == nil || w.wordsFor != "" && w.wordsFor != audience {
		return templates.Load(audience, nil)
	}
	return templates.Load(audience, w.wording)
}
