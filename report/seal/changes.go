package seal

import (
	"errors"
	"fmt"

	"dryhold/report/seal/internal/pdf"
)

// changes compares the customer's revision with the signed one. An object of the
// signed revision may be written again as it was. What may change is named here,
// key by key; new objects are of no effect unless one of these leads to them.
type changes struct {
	file      *pdf.File
	form      *form
	update    *pdf.Update
	signature pdf.Dict // the customer's signature dictionary
}

func (c *changes) check() error {
	for num, u := range c.update.Objects {
		if c.file.Offset(num) == 0 || num == c.form.blank {
			continue // the blank appearance gives way to the customer's own
		}
		old, err := c.file.Object(num)
		if err != nil {
			return err
		}
		if err := c.object(num, old, u); err != nil {
			return err
		}
	}
	if c.signature == nil {
		return errors.New("the customer's field was not signed")
	}
	return nil
}

func (c *changes) object(num int, old pdf.Object, u pdf.Updated) error {
	changed, isDict := u.Value.(pdf.Dict)
	was, wasDict := old.(pdf.Dict)
	root, _ := c.file.Trailer.Get("Root").(pdf.Ref)
	info, _ := c.file.Trailer.Get("Info").(pdf.Ref)
	metadata, _ := c.form.catalog.Get("Metadata").(pdf.Ref)
	switch {
	case u.Gen != 0:
		return fmt.Errorf("object %d was replaced", num)
	case num == metadata.Num:
		return checkMetadata(old, u.Value)
	case pdf.Equal(old, u.Value):
		return nil
	case !isDict || !wasDict:
		return fmt.Errorf("object %d was changed", num)
	case num == c.form.customer:
		return c.field(was, changed)
	case num == c.form.num:
		return c.acroForm(changed)
	case num == root.Num:
		return c.catalog(changed)
	case num == info.Num:
		return unlessEqual("the document's information", was, changed, "ModDate", "Producer")
	}
	return fmt.Errorf("object %d was changed", num)
}

// unlessEqual compares dictionaries but for some keys.
func unlessEqual(what string, a, b pdf.Dict, but ...pdf.Name) error {
	if !pdf.Equal(a.Without(but...), b.Without(but...)) {
		return fmt.Errorf("%s was changed", what)
	}
	return nil
}

// field allows a value, an appearance inside the field's own rectangle, and the
// flags that lock the field.
func (c *changes) field(was, changed pdf.Dict) error {
	if err := unlessEqual("the customer's field", was, changed, "V", "AP", "AS", "M", "MK", "DA", "F"); err != nil {
		return err
	}
	const locked = flagLocked | 1<<9 // Locked, LockedContents
	before, _ := was.Get("F").(int)
	after, ok := changed.Get("F").(int)
	if !ok || after&^locked != before&^locked {
		return errors.New("the customer's field was hidden")
	}
	appearance, ok := changed.Get("AP").(pdf.Dict)
	if !ok && changed.Get("AP") != nil || len(appearance.Without("N")) > 0 {
		return errors.New("the customer's field has an appearance that changes")
	}
	ref, ok := changed.Get("V").(pdf.Ref)
	signature, isDict := c.update.Objects[ref.Num].Value.(pdf.Dict)
	if !ok || !isDict || c.file.Offset(ref.Num) != 0 {
		return errors.New("the customer's field was not signed")
	}
	c.signature = signature
	return nil
}

// acroForm allows the fonts that appearances need.
func (c *changes) acroForm(changed pdf.Dict) error {
	return unlessEqual("the form", c.form.dict, changed, "DR", "DA")
}

// catalog allows the form to move, and validation data to be kept beside it.
func (c *changes) catalog(changed pdf.Dict) error {
	if err := unlessEqual("the catalog", c.form.catalog, changed, "AcroForm", "DSS", "Extensions"); err != nil {
		return err
	}
	switch form := changed.Get("AcroForm").(type) {
	case pdf.Dict:
		return c.acroForm(form)
	case pdf.Ref:
		if form.Num == c.form.num && form.Gen == 0 {
			return nil // compared as an object of its own
		}
		moved, _ := c.update.Objects[form.Num].Value.(pdf.Dict)
		return c.acroForm(moved)
	}
	return errors.New("the form was taken away")
}
