package seal_test

import (
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"strings"
	"testing"

	"dryhold/report/seal"
	"dryhold/report/seal/internal/cms"
	"dryhold/report/seal/internal/pdf"
)

// update is an incremental update in the making, with a signature in the
// customer's field.
type update struct {
	t       *testing.T
	base    *pdf.File
	objects map[int]pdf.Object
	order   []int
	trailer pdf.Dict
	between string // bytes before the table that no object accounts for
	entries string // more entries of the table
	gens    map[int]int

	root, info, form, field, page, content, metadata, sig int
}

func newUpdate(t *testing.T, record []byte) *update {
	t.Helper()
	base, err := pdf.Read(record)
	if err != nil {
		t.Fatal(err)
	}
	u := &update{t: t, base: base, objects: map[int]pdf.Object{}, gens: map[int]int{}, sig: base.Size()}
	num := func(o pdf.Object) int { return o.(pdf.Ref).Num }
	u.root, u.info = num(base.Trailer.Get("Root")), num(base.Trailer.Get("Info"))
	catalog := u.dict(u.root)
	u.form, u.metadata = num(catalog.Get("AcroForm")), num(catalog.Get("Metadata"))
	u.field = num(u.dict(u.form).Get("Fields").(pdf.Array)[1])
	u.page = num(u.dict(num(catalog.Get("Pages"))).Get("Kids").(pdf.Array)[0])
	u.content = num(u.dict(u.page).Get("Contents"))
	u.trailer = pdf.Dict{
		{Key: "Size", Value: base.Size() + 10}, {Key: "Root", Value: base.Trailer.Get("Root")},
		{Key: "Info", Value: base.Trailer.Get("Info")}, {Key: "ID", Value: base.Trailer.Get("ID")}, {Key: "Prev", Value: base.XRef},
	}
	u.edit(u.field, "V", pdf.Ref{Num: u.sig})
	return u
}

func (u *update) dict(num int) pdf.Dict {
	u.t.Helper()
	d, err := u.base.Dict(pdf.Ref{Num: num})
	if err != nil {
		u.t.Fatal(err)
	}
	return d
}

func (u *update) put(num int, o pdf.Object) {
	if _, ok := u.objects[num]; !ok {
		u.order = append(u.order, num)
	}
	u.objects[num] = o
}

// edit writes a dictionary of the record with another value for key.
func (u *update) edit(num int, key pdf.Name, value pdf.Object) {
	d, ok := u.objects[num].(pdf.Dict)
	if !ok {
		d = u.dict(num)
	}
	d.Set(key, value)
	u.put(num, d)
}

const room = 2000

// finish appends the update to record and signs the whole.
func (u *update) finish(record []byte, key *seal.Key) []byte {
	data := bytes.Clone(record)
	table := "xref\n0 1\n0000000000 65535 f \n"
	for _, num := range u.order {
		table += fmt.Sprintf("%d 1\n%010d %05d n \n", num, len(data), u.gens[num])
		data = fmt.Appendf(data, "%d %d obj\n", num, u.gens[num])
		data = append(pdf.Append(data, u.objects[num]), "\nendobj\n"...)
	}
	table += fmt.Sprintf("%d 1\n%010d 00000 n \n", u.sig, len(data)) + u.entries
	data = fmt.Appendf(data, "%d 0 obj\n<</Type /Sig /Filter /Adobe.PPKLite /SubFilter /ETSI.CAdES.detached /ByteRange [0 %-10d %-10d %-10d] /Contents ", u.sig, 0, 0, 0)
	from := len(data)
	data = append(append(append(data, '<'), strings.Repeat("0", 2*room)...), '>')
	to := len(data)
	data = append(data, " >>\nendobj\n"+u.between...)
	start := len(data)
	data = append(append(data, table...), "trailer\n"...)
	data = pdf.Append(data, u.trailer)
	data = fmt.Appendf(data, "\nstartxref\n%d\n%%%%EOF\n", start)
	at := bytes.LastIndex(data[:from], []byte("[0 ")) + 3
	copy(data[at:], fmt.Sprintf("%-10d %-10d %-10d", from, to, len(data)-to))
	signer, chain := key.Parts()
	m, err := cms.Sign(signer, chain, data[:from], data[to:])
	if err != nil {
		u.t.Fatal(err)
	}
	encoded, err := m.Encode()
	if err != nil {
		u.t.Fatal(err)
	}
	hex.Encode(data[from+1:], encoded)
	return data
}

// What signing software does to a file and what nobody may do, always with a good
// signature of the customer's over the whole.
func TestCustomerChanges(t *testing.T) {
	key, customer := newKey(t), newKey(t)
	_, record := sealed(t, key, nil)
	stream := func(text string) *pdf.Stream { return &pdf.Stream{Raw: []byte(text)} }
	metadata := func(u *update, old, new string) {
		o, err := u.base.Object(u.metadata)
		if err != nil {
			t.Fatal(err)
		}
		s := *o.(*pdf.Stream)
		if !bytes.Contains(s.Raw, []byte(old)) {
			t.Fatalf("no %q in the metadata", old)
		}
		s.Raw = bytes.ReplaceAll(s.Raw, []byte(old), []byte(new))
		u.put(u.metadata, &s)
	}
	field := func(u *update) pdf.Dict { return u.objects[u.field].(pdf.Dict) }
	tests := []struct {
		name string
		edit func(u *update)
		want string // in the reason; empty where it is accepted
	}{
		{"the field alone", func(u *update) {}, ""},
		{"a comment", func(u *update) { u.between = "% signed\n" }, ""},
		{"an appearance", func(u *update) {
			u.edit(u.field, "AP", pdf.Dict{{Key: "N", Value: pdf.Ref{Num: u.sig + 1}}})
			u.edit(u.field, "F", 4|128)
			u.put(u.sig+1, stream("0 0 m 10 10 l S"))
		}, ""},
		{"the page as it was", func(u *update) { u.put(u.page, u.dict(u.page)) }, ""},
		{"fonts for appearances", func(u *update) { u.edit(u.form, "DR", pdf.Dict{}) }, ""},
		{"form moved, validation data", func(u *update) {
			u.edit(u.root, "AcroForm", u.dict(u.form))
			u.edit(u.root, "DSS", pdf.Dict{})
		}, ""},
		{"dates of the change", func(u *update) {
			metadata(u, "<xmp:ModifyDate>2031-04-09", "<xmp:ModifyDate>2031-04-11")
			u.edit(u.info, "ModDate", pdf.String("D:20310411000000Z"))
		}, ""},

		{"a page", func(u *update) { u.edit(u.page, "Rotate", 90) }, "object 3 was changed"},
		{"what is drawn", func(u *update) { u.put(u.content, stream("")) }, "object 4 was changed"},
		{"another generation", func(u *update) { u.put(u.page, u.dict(u.page)); u.gens[u.page] = 1 }, "was replaced"},
		{"an object taken away", func(u *update) { u.entries = "4 1\n0000000000 00001 f \n" }, "object 4 is taken away"},
		{"an object without an entry", func(u *update) { u.between = "90 0 obj\nnull\nendobj\n" }, "object 90 is not where"},
		{"an entry that leads back", func(u *update) { u.entries = "4 1\n0000000015 00000 n \n" }, "object 4 is not where"},
		{"an entry without an object", func(u *update) { u.entries = "90 1\n0000000099 00000 n \n"; u.trailer.Set("Size", 100) }, "object 90 is not where"},
		{"loose bytes", func(u *update) { u.between = "loose\n" }, "whole number"},
		{"the field larger", func(u *update) { u.edit(u.field, "Rect", pdf.Array{0, 0, 612, 792}) }, "customer's field was changed"},
		{"the field hidden", func(u *update) { u.edit(u.field, "F", 2) }, "hidden"},
		{"an appearance under the mouse", func(u *update) {
			u.edit(u.field, "AP", pdf.Dict{{Key: "N", Value: pdf.Ref{Num: 4}}, {Key: "R", Value: pdf.Ref{Num: 4}}})
		}, "appearance that changes"},
		{"an action", func(u *update) { u.edit(u.field, "AA", pdf.Dict{}) }, "customer's field was changed"},
		{"an unsigned field", func(u *update) { d := field(u); d.Delete("V"); u.put(u.field, d) }, "not signed"},
		{"our signature in their field", func(u *update) { u.edit(u.field, "V", u.dict(u.ownField()).Get("V")) }, "not signed"},
		{"our field emptied", func(u *update) { d := u.dict(u.ownField()); d.Delete("V"); u.put(u.ownField(), d) }, "was changed"},
		{"one more field", func(u *update) {
			fields := u.dict(u.form).Get("Fields").(pdf.Array)
			u.edit(u.form, "Fields", append(fields, pdf.Ref{Num: u.sig + 1}))
		}, "the form was changed"},
		{"viewers draw fields anew", func(u *update) { u.edit(u.form, "NeedAppearances", true) }, "the form was changed"},
		{"an opening action", func(u *update) { u.edit(u.root, "OpenAction", pdf.Dict{}) }, "the catalog was changed"},
		{"form taken away", func(u *update) { d := u.dict(u.root); d.Delete("AcroForm"); u.put(u.root, d) }, "taken away"},
		{"form exchanged", func(u *update) { u.edit(u.root, "AcroForm", pdf.Ref{Num: u.sig + 1}) }, "the form was changed"},
		{"another title", func(u *update) { u.edit(u.info, "Title", pdf.String("x")) }, "information was changed"},
		{"another title in the metadata", func(u *update) { metadata(u, "Evacuation", "Other") }, "metadata was changed"},
		{"metadata that is none", func(u *update) { u.put(u.metadata, pdf.Dict{}) }, "metadata was replaced"},
		{"encryption", func(u *update) { u.trailer.Set("Encrypt", pdf.Dict{}) }, `"Encrypt"`},
		{"a hidden table", func(u *update) { u.trailer.Set("XRefStm", 15) }, `"XRefStm"`},
		{"another root", func(u *update) { u.trailer.Set("Root", pdf.Ref{Num: 3}) }, "Root was changed"},
		{"no way back", func(u *update) { u.trailer.Delete("Prev") }, "does not follow"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			u := newUpdate(t, record)
			test.edit(u)
			got, err := seal.Open(u.finish(record, customer))
			if test.want == "" {
				if err != nil || !got.Customer.Certificate.Equal(customer.Certificate()) {
					t.Errorf("refused: %v", err)
				}
				return
			}
			if !errors.Is(err, seal.ErrAppended) || !strings.Contains(fmt.Sprint(err), test.want) {
				t.Errorf("got %v, expected %q", err, test.want)
			}
		})
	}
}

func (u *update) ownField() int { return u.dict(u.form).Get("Fields").(pdf.Array)[0].(pdf.Ref).Num }

// A record that both signed: whatever changes after our part shows. Inside the
// customer's signature one kind of byte says nothing: the message's version numbers,
// 1 to 5.
func TestEveryChangeShowsAfterTheCustomer(t *testing.T) {
	_, record := sealed(t, newKey(t), nil)
	both := newUpdate(t, record).finish(record, newKey(t))
	if _, err := seal.Open(both); err != nil {
		t.Fatal(err)
	}
	var silent []int
	for at := len(record); at < len(both); at++ {
		for _, by := range []byte{0x01, 0x20} { // another digit; the other case
			data := bytes.Clone(both)
			data[at] ^= by
			if _, err := seal.Open(data); err == nil {
				silent = append(silent, at)
			}
		}
	}
	if len(silent) > 2 {
		t.Errorf("bytes %v of %d to %d changed, and nothing was said", silent, len(record), len(both))
	}
}
