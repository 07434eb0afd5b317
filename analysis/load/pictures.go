package load

import (
	"errors"
	"fmt"
	"io/fs"

	"dryhold/analysis/fault"
	"dryhold/analysis/picture"
)

// images reads the logo and the signatures' pictures.
func (l *loader) images() {
	j := l.out.Job
	if name := j.Company.Logo; name != "" {
		if l.company != nil && j.Place("company.logo", fault.Fault{}).File == l.company.Name {
			l.companyLogo(name)
		} else {
			l.picture(l.fsys, name, "company.logo", "logo")
		}
	}
	for i, s := range j.Signoffs {
		if s.Image != "" {
			l.picture(l.fsys, s.Image, fmt.Sprintf("signoff[%d].image", i), "image")
		}
	}
	for i, p := range j.Photographs {
		at := fmt.Sprintf("photograph[%d].file", i)
		if i == MaxPhotographs {
			l.fault(at, fault.Fault{Code: "photographs", Found: fmt.Sprintf("%d photographs", len(j.Photographs)),
				Expected: fmt.Sprintf("at most %d", MaxPhotographs), Mend: "choose those that show what the record speaks of"})
			return
		}
		l.picture(l.fsys, p.File, at, "photograph")
	}
}

// picture reads a picture and keeps it without anything but its dots, so that
// no record carries where and with what it was taken.
func (l *loader) picture(fsys fs.FS, name, at, role string) {
	limit, side := int64(MaxImage), 0
	if role == "photograph" {
		limit, side = picture.MaxBytes, keptSide
	}
	before := len(l.out.Files)
	l.read(fsys, name, at, role, limit, fault.Job)
	if len(l.out.Files) == before {
		return
	}
	last := &l.out.Files[before]
	bare, err := picture.Bare(last.Data, side)
	if bad := (*picture.Error)(nil); errors.As(err, &bad) {
		l.fault(at, fault.Fault{Code: "picture", Kind: fault.Job, Found: fmt.Sprintf("%q: %s", name, bad.Found), Expected: "a PNG or JPEG picture", Mend: bad.Mend})
		l.out.Files = l.out.Files[:before]
		return
	}
	last.Data = bare
}

func (l *loader) companyLogo(name string) {
	if l.o.Company == nil {
		l.fault("company.logo", fault.Fault{Code: "missing-file", Found: fmt.Sprintf("%q beside %s cannot be read", name, l.company.Name), Expected: "the logo"})
		return
	}
	before := len(l.out.Files)
	l.picture(l.o.Company, name, "company.logo", "logo")
	for i := before; i < len(l.out.Files); i++ {
		l.out.Files[i].Name = "company/" + l.out.Files[i].Name
	}
}
