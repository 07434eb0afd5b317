package seal

import (
	"errors"

	"dryhold/report/seal/internal/pdf"
)

// outlines writes the bookmarks again with their counts (ISO 32000-1, 12.3.3):
// fpdf leaves the root's out and gives every entry zero. Entries with others
// below them are closed. It returns the numbers of the objects that it wrote.
func (a *archiver) outlines(catalog pdf.Dict) ([]int, error) {
	ref, ok := catalog.Get("Outlines").(pdf.Ref)
	if !ok {
		return nil, nil
	}
	root, err := a.source.Dict(ref)
	if err != nil {
		return nil, err
	}
	numbers := []int{ref.Num}
	count, err := a.outline(root.Get("First"), &numbers)
	if err != nil {
		return nil, err
	}
	root.Set("Count", count)
	a.w.Object(ref.Num, root)
	return numbers, nil
}

// outline writes an entry and those that follow it, and counts them.
func (a *archiver) outline(first pdf.Object, numbers *[]int) (int, error) {
	count := 0
	for next := first; next != nil; count++ {
		ref, ok := next.(pdf.Ref)
		if !ok || len(*numbers) > a.source.Size() {
			return 0, errors.New("the bookmarks lead in a circle")
		}
		entry, err := a.source.Dict(ref)
		if err != nil {
			return 0, err
		}
		*numbers = append(*numbers, ref.Num)
		entry.Delete("Count")
		below, err := a.outline(entry.Get("First"), numbers)
		if err != nil {
			return 0, err
		}
		if below > 0 {
			entry.Set("Count", -below)
		}
		a.w.Object(ref.Num, entry)
		next = entry.Get("Next")
	}
	return count, nil
}
