package seal

import (
	"errors"

	"dryhold/report/seal/internal/pdf"
)

// readPages lists the pages, which are kids of one tree.
func (a *archiver) readPages(catalog pdf.Dict) error {
	tree, err := a.source.Dict(catalog.Get("Pages"))
	if err != nil {
		return err
	}
	kids, _ := tree.Get("Kids").(pdf.Array)
	for _, k := range kids {
		ref, ok := k.(pdf.Ref)
		if !ok {
			return errors.New("a page is not an object of its own")
		}
		page, err := a.source.Dict(ref)
		if err != nil {
			return err
		}
		if contents, ok := page.Get("Contents").(pdf.Ref); ok {
			a.drawn = append(a.drawn, contents.Num)
		}
		a.pages = append(a.pages, ref.Num)
	}
	if len(a.pages) == 0 {
		return errors.New("no pages")
	}
	return nil
}

// writePages writes each page with the widgets that belong on it.
func (a *archiver) writePages(widgets map[int][]pdf.Ref) error {
	for i, num := range a.pages {
		page, err := a.source.Dict(pdf.Ref{Num: num})
		if err != nil {
			return err
		}
		annotations, _ := page.Get("Annots").(pdf.Array)
		for j, o := range annotations {
			if d, ok := o.(pdf.Dict); ok {
				d.Set("F", flagPrint) // PDF/A-3 demands it of links too
				annotations[j] = d
			}
		}
		for _, w := range widgets[i] {
			annotations = append(annotations, w)
		}
		if len(annotations) > 0 {
			page.Set("Annots", annotations)
		}
		if len(a.doc.Structure) > 0 {
			page.Set("StructParents", i)
			page.Set("Tabs", pdf.Name("S"))
		}
		a.w.Object(num, page)
	}
	return nil
}
