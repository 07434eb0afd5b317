package seal

import (
	"bytes"
	"errors"
	"fmt"
	"slices"

	"dryhold/report/seal/internal/pdf"
)

// Archive turns a drawn document into an archival one (PDF/A-3b) with a place for
// the signature, still empty. The same document gives the same bytes.
func Archive(doc Document) ([]byte, error) { return archive(doc, true) }

// Unsigned is Archive for a document that is no record: it has no place for a
// signature, and no viewer announces one that is missing.
func Unsigned(doc Document) ([]byte, error) { return archive(doc, false) }

func archive(doc Document, signed bool) ([]byte, error) {
	if err := doc.check(); err != nil {
		return nil, err
	}
	source, err := pdf.Read(doc.PDF)
	if err != nil {
		return nil, fmt.Errorf("the drawn document: %w", err)
	}
	a := &archiver{doc: doc, source: source, next: source.Size(), signed: signed}
	if err := a.run(); err != nil {
		return nil, fmt.Errorf("the drawn document: %w", err)
	}
	return a.w.Bytes, nil
}

func (doc Document) check() error {
	switch {
	case doc.Title == "" || doc.Language == "":
		return errors.New("an archival document needs a title and a language")
	case doc.Created.IsZero():
		return errors.New("an archival document needs a date")
	}
	return checkAttachments(doc.Attachments)
}

// archiver is one run of Archive. Objects of the source keep their numbers;
// new ones follow.
type archiver struct {
	doc    Document
	source *pdf.File
	w      *pdf.Writer
	next   int // the next free object number
	pages  []int
	drawn  []int // the streams that the pages are drawn by
	signed bool  // whether there is a place for a signature
	slot   slot

	letters *pdf.Ref // the map from codes to letters, once it is written
}

func (a *archiver) allocate() pdf.Ref {
	a.next++
	return pdf.Ref{Num: a.next - 1}
}

func (a *archiver) add(o pdf.Object) pdf.Ref {
	ref := a.allocate()
	a.w.Object(ref.Num, o)
	return ref
}

func (a *archiver) run() error {
	root, ok := a.source.Trailer.Get("Root").(pdf.Ref)
	infoRef, ok2 := a.source.Trailer.Get("Info").(pdf.Ref)
	if !ok || !ok2 {
		return errors.New("no catalog or no information dictionary")
	}
	catalog, err := a.source.Dict(root)
	if err != nil {
		return err
	}
	if err := a.readPages(catalog); err != nil {
		return err
	}
	a.w = pdf.NewWriter(a.size())
	if a.signed {
		a.slot = newSlot(a.allocate().Num)
		a.w.Raw(a.slot.num, a.slot.object())
	}
	anew, err := a.outlines(catalog)
	if err != nil {
		return err
	}
	if err := a.copyRest(append(append(anew, root.Num, infoRef.Num), a.pages...)); err != nil {
		return err
	}
	form, widgets, err := a.fields()
	if err != nil {
		return err
	}
	tree, err := a.structure()
	if err != nil {
		return err
	}
	if err := a.writePages(widgets); err != nil {
		return err
	}
	a.catalog(&catalog, form, tree)
	a.w.Object(root.Num, catalog)
	a.w.Object(infoRef.Num, info(a.doc))
	a.w.Finish(pdf.Dict{{Key: "Root", Value: root}, {Key: "Info", Value: infoRef}})
	if a.signed {
		a.slot.end = len(a.w.Bytes)
		copy(a.w.Bytes[slotOffset:], a.slot.object())
	}
	return nil
}

// size is a fair guess at the size of the result.
func (a *archiver) size() int {
	n := len(a.doc.PDF) + 2*slotSize + 16<<10
	for _, at := range a.doc.Attachments {
		n += len(at.Data)/4 + 1<<10
	}
	return n
}

// copyRest copies every object but those that are written anew.
func (a *archiver) copyRest(anew []int) error {
	ends := []int{a.source.XRef}
	for num := range a.source.Size() {
		ends = append(ends, a.source.Offset(num))
	}
	slices.Sort(ends)
	for num := 1; num < a.source.Size(); num++ {
		if slices.Contains(anew, num) {
			continue
		}
		from := a.source.Offset(num)
		i, _ := slices.BinarySearch(ends, from+1)
		if from == 0 || i == len(ends) || ends[i] > len(a.doc.PDF) {
			return fmt.Errorf("object %d is missing or out of order", num)
		}
		object := a.doc.PDF[from:ends[i]]
		if err := checkObject(num, object); err != nil {
			return err
		}
		if slices.Contains(a.drawn, num) && a.pack(num) || a.spell(num, object) {
			continue
		}
		a.w.Raw(num, object)
	}
	return nil
}

// spell writes a font of one-byte codes with its map to letters.
func (a *archiver) spell(num int, object []byte) bool {
	if a.doc.ToUnicode == nil || !bytes.Contains(object[:min(len(object), 256)], []byte("/Subtype /TrueType\n")) {
		return false
	}
	font, err := a.source.Dict(pdf.Ref{Num: num})
	if err != nil {
		return false
	}
	if a.letters == nil {
		ref := a.add(&pdf.Stream{Dict: pdf.Dict{{Key: "Filter", Value: pdf.Name("FlateDecode")}}, Raw: deflate(a.doc.ToUnicode)})
		a.letters = &ref
	}
	font.Set("ToUnicode", *a.letters)
	a.w.Object(num, font)
	return true
}

// pack writes a page's stream compressed where it is not yet: fpdf would do it with
// a new compressor of more than a megabyte for each page, and here they are kept.
func (a *archiver) pack(num int) bool {
	o, err := a.source.Resolve(pdf.Ref{Num: num})
	stream, ok := o.(*pdf.Stream)
	if err != nil || !ok || stream.Dict.Get("Filter") != nil {
		return false
	}
	a.w.Object(num, &pdf.Stream{Dict: pdf.Dict{{Key: "Filter", Value: pdf.Name("FlateDecode")}}, Raw: deflate(stream.Raw)})
	return true
}

// checkObject refuses what PDF/A-3 does and fpdf can be made to write.
func checkObject(num int, object []byte) error {
	if !bytes.HasPrefix(object, fmt.Appendf(nil, "%d 0 obj\n", num)) || !bytes.HasSuffix(object, []byte("endobj\n")) {
		return fmt.Errorf("object %d is not as fpdf writes it", num)
	}
	head, _, _ := bytes.Cut(object[:min(len(object), 4096)], []byte("stream\n"))
	switch {
	case bytes.Contains(head, []byte("/Subtype /Type1\n")):
		return fmt.Errorf("object %d: a font is not embedded; use one from a file", num)
	case bytes.Contains(head, []byte("/DeviceCMYK")):
		return fmt.Errorf("object %d: a CMYK image does not go with the sRGB output intent", num)
	}
	return nil
}

// catalog completes the catalog. form and tree are AcroForm and StructTreeRoot.
func (a *archiver) catalog(catalog *pdf.Dict, form, tree pdf.Object) {
	doc := a.doc
	catalog.Delete("Names") // fpdf writes an empty one; scripts have no place here
	catalog.Set("Lang", pdf.Text(doc.Language))
	catalog.Set("ViewerPreferences", pdf.Dict{{Key: "DisplayDocTitle", Value: true}})
	catalog.Set("Metadata", a.add(xmp(doc)))
	profile := a.add(&pdf.Stream{Dict: pdf.Dict{
		{Key: "N", Value: 3},
		{Key: "Filter", Value: pdf.Name("FlateDecode")},
	}, Raw: packedProfile()})
	catalog.Set("OutputIntents", pdf.Array{pdf.Dict{
		{Key: "Type", Value: pdf.Name("OutputIntent")},
		{Key: "S", Value: pdf.Name("GTS_PDFA1")}, // so named in every part of ISO 19005
		{Key: "OutputConditionIdentifier", Value: pdf.String("sRGB")},
		{Key: "Info", Value: pdf.String("sRGB (IEC 61966-2-1)")},
		{Key: "DestOutputProfile", Value: profile},
	}})
	if form != nil {
		catalog.Set("AcroForm", form)
	}
	if tree != nil {
		catalog.Set("StructTreeRoot", tree)
		catalog.Set("MarkInfo", pdf.Dict{{Key: "Marked", Value: true}})
	}
	a.attach(catalog, doc.Attachments, doc.Created)
}
