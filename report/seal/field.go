package seal

import (
	"fmt"
	"math"

	"dryhold/report/seal/internal/pdf"
)

// Annotation flags (ISO 32000-1, table 165).
const (
	flagPrint  = 1 << 2
	flagLocked = 1 << 7
)

// Names of the fields. The record's own is invisible: what the signature means is
// printed on the page by whoever draws it.
const (
	recordField   = "record"
	customerField = "customer"
)

// fields writes the signature fields, where there are to be any. widgets are their annotations, by page.
func (a *archiver) fields() (form pdf.Object, widgets map[int][]pdf.Ref, err error) {
	if !a.signed {
		return nil, nil, nil
	}
	widgets = map[int][]pdf.Ref{}
	own := Field{Label: a.doc.Title}
	ref := a.field(recordField, own, flagPrint|flagLocked, pdf.Ref{Num: a.slot.num})
	fields := pdf.Array{ref}
	widgets[0] = append(widgets[0], ref)
	if f := a.doc.CustomerField; f != nil {
		if f.Page < 0 || f.Page >= len(a.pages) || f.Rect[0] >= f.Rect[2] || f.Rect[1] >= f.Rect[3] {
			return nil, nil, fmt.Errorf("the customer's field has no area on a page: page %d, %v", f.Page, f.Rect)
		}
		ref := a.field(customerField, *f, flagPrint, nil)
		fields = append(fields, ref)
		widgets[f.Page] = append(widgets[f.Page], ref)
	}
	return a.add(pdf.Dict{
		{Key: "Fields", Value: fields},
		{Key: "SigFlags", Value: 3}, // signatures exist; append only
	}), widgets, nil
}

// field writes a signature field that is its own annotation, with a blank
// appearance, as PDF/A demands.
func (a *archiver) field(name string, f Field, flags int, value pdf.Object) pdf.Ref {
	for i, x := range f.Rect {
		f.Rect[i] = math.Round(x*100) / 100 // signing software writes it again, with as many digits as it likes
	}
	blank := a.add(&pdf.Stream{Dict: pdf.Dict{
		{Key: "Type", Value: pdf.Name("XObject")},
		{Key: "Subtype", Value: pdf.Name("Form")},
		{Key: "BBox", Value: pdf.Array{0, 0, f.Rect[2] - f.Rect[0], f.Rect[3] - f.Rect[1]}},
	}})
	d := pdf.Dict{
		{Key: "Type", Value: pdf.Name("Annot")},
		{Key: "Subtype", Value: pdf.Name("Widget")},
		{Key: "FT", Value: pdf.Name("Sig")},
		{Key: "T", Value: pdf.String(name)},
		{Key: "TU", Value: pdf.Text(f.Label)},
		{Key: "F", Value: flags},
		{Key: "Rect", Value: pdf.Array{f.Rect[0], f.Rect[1], f.Rect[2], f.Rect[3]}},
		{Key: "P", Value: pdf.Ref{Num: a.pages[f.Page]}},
		{Key: "AP", Value: pdf.Dict{{Key: "N", Value: blank}}},
	}
	if value != nil {
		d.Set("V", value)
	}
	return a.add(d)
}
