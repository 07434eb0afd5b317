package seal

import (
	"bytes"
	"compress/zlib"
	"errors"
	"fmt"
	"io"
	"sync"

	"dryhold/report/seal/internal/pdf"
)

const (
	// maxAttachments bounds the number of files in a record.
	maxAttachments = 1000
	// MaxAttached bounds the bytes of all files in a record together, so that a
	// small file cannot fill the memory.
	MaxAttached = 256 << 20
)

// form is what the signed revision says of its fields.
type form struct {
	catalog  pdf.Dict
	dict     pdf.Dict // AcroForm
	num      int      // its object number; 0 where the catalog holds it
	customer int      // object number of the customer's field; 0 for none
	blank    int      // object number of that field's appearance
}

// readForm demands the fields that Archive writes: the record's own, which holds
// the signature that was checked, and perhaps the customer's.
func readForm(file *pdf.File, s slot) (*form, error) {
	catalog, err := file.Dict(file.Trailer.Get("Root"))
	if err != nil {
		return nil, err
	}
	ref, _ := catalog.Get("AcroForm").(pdf.Ref)
	dict, err := file.Dict(ref)
	if err != nil {
		return nil, err
	}
	fields, _ := dict.Get("Fields").(pdf.Array)
	if len(fields) < 1 || len(fields) > 2 {
		return nil, errors.New("the form is not that of a record")
	}
	f := &form{catalog: catalog, dict: dict, num: ref.Num}
	own, _, err := readField(file, fields[0], recordField)
	if err != nil {
		return nil, err
	}
	if own.Get("V") != pdf.Object(pdf.Ref{Num: s.num}) || file.Offset(s.num) != slotOffset {
		return nil, errors.New("the record's field holds another signature")
	}
	if len(fields) == 1 {
		return f, nil
	}
	customer, num, err := readField(file, fields[1], customerField)
	if err == nil && customer.Get("V") != nil {
		err = errors.New("the customer's field was not empty when the record was signed")
	}
	f.customer = num
	appearance, _ := customer.Get("AP").(pdf.Dict)
	blank, _ := appearance.Get("N").(pdf.Ref)
	f.blank = blank.Num
	return f, err
}

func readField(file *pdf.File, o pdf.Object, name string) (pdf.Dict, int, error) {
	ref, _ := o.(pdf.Ref)
	d, err := file.Dict(ref)
	if err != nil {
		return nil, 0, err
	}
	if d.Get("T") != pdf.Object(pdf.String(name)) || d.Get("FT") != pdf.Object(pdf.Name("Sig")) {
		return nil, 0, fmt.Errorf("there is no signature field %q", name)
	}
	return d, ref.Num, nil
}

// readAttachments reads the files that the catalog names as associated.
func readAttachments(file *pdf.File) ([]Attachment, error) {
	catalog, err := file.Dict(file.Trailer.Get("Root"))
	if err != nil {
		return nil, err
	}
	specs, _ := catalog.Get("AF").(pdf.Array)
	if len(specs) > maxAttachments {
		return nil, fmt.Errorf("%d attachments are more than the %d that are read", len(specs), maxAttachments)
	}
	var list []Attachment
	left := MaxAttached
	for _, o := range specs {
		a, err := readAttachment(file, o, left)
		if err != nil {
			return nil, err
		}
		left -= len(a.Data)
		list = append(list, a)
	}
	return list, checkAttachments(list)
}

func readAttachment(file *pdf.File, o pdf.Object, left int) (a Attachment, err error) {
	spec, err := file.Dict(o)
	if err != nil {
		return a, err
	}
	name, _ := spec.Get("UF").(pdf.String)
	description, _ := spec.Get("Desc").(pdf.String)
	relationship, _ := spec.Get("AFRelationship").(pdf.Name)
	embedded, _ := spec.Get("EF").(pdf.Dict)
	o, err = file.Resolve(embedded.Get("F"))
	stream, ok := o.(*pdf.Stream)
	if err != nil || !ok || stream.Dict.Get("Filter") != pdf.Object(pdf.Name("FlateDecode")) {
		return a, fmt.Errorf("attachment %q cannot be read", name.Decode())
	}
	kind, _ := stream.Dict.Get("Subtype").(pdf.Name)
	parameters, _ := stream.Dict.Get("Params").(pdf.Dict)
	size, _ := parameters.Get("Size").(int)
	data, err := inflate(stream.Raw, size, left)
	if err != nil {
		return a, fmt.Errorf("attachment %q: %w", name.Decode(), err)
	}
	return Attachment{Name: name.Decode(), MIME: string(kind), Description: description.Decode(),
		Relationship: Relationship(relationship), Data: data}, nil
}

// inflaters are kept, since each holds 40 kB.
var inflaters sync.Pool

// inflate believes the stated size as far as text is packed, to have the room at once.
func inflate(raw []byte, size, limit int) ([]byte, error) {
	source := bytes.NewReader(raw)
	r, ok := inflaters.Get().(io.ReadCloser)
	var err error
	if ok {
		err = r.(zlib.Resetter).Reset(source, nil)
	} else {
		r, err = zlib.NewReader(source)
	}
	if err != nil {
		return nil, err
	}
	defer inflaters.Put(r)
	room := max(0, min(size, limit, 16*len(raw)))
	data := bytes.NewBuffer(make([]byte, 0, room+bytes.MinRead))
	if _, err := data.ReadFrom(io.LimitReader(r, int64(limit)+1)); err != nil {
		return nil, err
	}
	if data.Len() > limit {
		return nil, fmt.Errorf("the attachments inflate to more than %d MB", MaxAttached>>20)
	}
	return data.Bytes(), nil
}
