package seal

import (
	"fmt"
	"slices"

	"dryhold/report/seal/internal/pdf"
)

// kinds are the standard structure types of ISO 32000-1, 14.8.4, that a record
// may use; others would need a role map.
var kinds = []string{"Document", "Part", "Sect", "Div", "Caption", "H", "H1", "H2", "H3", "H4", "H5", "H6", "P",
	"L", "LI", "Lbl", "LBody", "Table", "THead", "TBody", "TFoot", "TR", "TH", "TD", "Span", "Note", "Figure"}

// maxMarked bounds the marked-content numbers of a page.
const maxMarked = 1 << 16

// structurer writes a structure tree.
type structurer struct {
	*archiver
	parents []pdf.Array // by page and MCID: the element that owns it
}

// structure writes the structure tree and returns its root, nil for none.
func (a *archiver) structure() (pdf.Object, error) {
	if len(a.doc.Structure) == 0 {
		return nil, nil
	}
	s := &structurer{a, make([]pdf.Array, len(a.pages))}
	root, document := a.allocate(), a.allocate()
	kids, err := s.elements(a.doc.Structure, document)
	if err != nil {
		return nil, err
	}
	a.w.Object(document.Num, pdf.Dict{
		{Key: "Type", Value: pdf.Name("StructElem")},
		{Key: "S", Value: pdf.Name("Document")},
		{Key: "P", Value: root},
		{Key: "K", Value: kids},
	})
	var numbers pdf.Array
	for i, page := range s.parents {
		if page == nil {
			page = pdf.Array{}
		}
		numbers = append(numbers, i, a.add(page))
	}
	a.w.Object(root.Num, pdf.Dict{
		{Key: "Type", Value: pdf.Name("StructTreeRoot")},
		{Key: "K", Value: document},
		{Key: "ParentTree", Value: a.add(pdf.Dict{{Key: "Nums", Value: numbers}})},
		{Key: "ParentTreeNextKey", Value: len(a.pages)},
	})
	return root, nil
}

func (s *structurer) elements(list []Element, parent pdf.Ref) (pdf.Array, error) {
	kids := pdf.Array{}
	for _, e := range list {
		ref, err := s.element(e, parent)
		if err != nil {
			return nil, err
		}
		kids = append(kids, ref)
	}
	return kids, nil
}

func (s *structurer) element(e Element, parent pdf.Ref) (pdf.Ref, error) {
	if !slices.Contains(kinds, e.Kind) {
		return pdf.Ref{}, fmt.Errorf("%q is not a kind of structure element", e.Kind)
	}
	if e.Kind == "Figure" && e.Alt == "" {
		return pdf.Ref{}, fmt.Errorf("a figure needs a description in words")
	}
	ref := s.allocate()
	kids := pdf.Array{}
	for _, m := range e.Content {
		if err := s.own(m, ref); err != nil {
			return ref, err
		}
		if m.Page == e.Content[0].Page { // that of the element
			kids = append(kids, m.MCID)
			continue
		}
		kids = append(kids, pdf.Dict{
			{Key: "Type", Value: pdf.Name("MCR")},
			{Key: "Pg", Value: pdf.Ref{Num: s.pages[m.Page]}},
			{Key: "MCID", Value: m.MCID},
		})
	}
	below, err := s.elements(e.Children, ref)
	if err != nil {
		return ref, err
	}
	d := make(pdf.Dict, 0, 8) // the type need not be said
	d = append(d, pdf.Entry{Key: "S", Value: pdf.Name(e.Kind)}, pdf.Entry{Key: "P", Value: parent}, pdf.Entry{Key: "K", Value: append(kids, below...)})
	if len(e.Content) > 0 {
		d.Set("Pg", pdf.Ref{Num: s.pages[e.Content[0].Page]})
	}
	if e.Alt != "" {
		d.Set("Alt", pdf.Text(e.Alt))
	}
	if e.Lang != "" {
		d.Set("Lang", pdf.Text(e.Lang))
	}
	if attributes := e.tableAttributes(); attributes != nil {
		d.Set("A", attributes)
	}
	s.w.Object(ref.Num, d)
	return ref, nil
}

// tableAttributes are those of ISO 32000-1, 14.8.5.7; nil for none.
func (e Element) tableAttributes() pdf.Object {
	d := pdf.Dict{{Key: "O", Value: pdf.Name("Table")}}
	if e.Scope != "" {
		d.Set("Scope", pdf.Name(e.Scope))
	}
	if e.ColSpan > 1 {
		d.Set("ColSpan", e.ColSpan)
	}
	if e.RowSpan > 1 {
		d.Set("RowSpan", e.RowSpan)
	}
	if len(d) == 1 {
		return nil
	}
	return d
}

// own enters ref as the owner of m.
func (s *structurer) own(m Marked, ref pdf.Ref) error {
	if m.Page < 0 || m.Page >= len(s.pages) || m.MCID < 0 || m.MCID >= maxMarked {
		return fmt.Errorf("there is no marked content %d on page %d", m.MCID, m.Page)
	}
	page := s.parents[m.Page]
	for len(page) <= m.MCID {
		page = append(page, nil)
	}
	if page[m.MCID] != nil {
		return fmt.Errorf("marked content %d on page %d has two owners", m.MCID, m.Page)
	}
	page[m.MCID] = ref
	s.parents[m.Page] = page
	return nil
}
