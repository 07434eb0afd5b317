package seal

import (
	"bytes"
	"crypto/x509"
	"encoding/hex"
	"errors"
	"fmt"
	"time"

	"dryhold/report/seal/internal/cms"
	"dryhold/report/seal/internal/pdf"
)

// maxContents bounds the customer's signature, in bytes; some software puts
// revocation lists inside.
const maxContents = 8 << 20

// readCustomer reads the revision after the signed one: a signature over the
// whole file, in the customer's field, that changes nothing else.
func readCustomer(file *pdf.File, f *form, data []byte) (*Signature, error) {
	if f.customer == 0 {
		return nil, errors.New("the record has no field for a customer")
	}
	update, err := pdf.ReadUpdate(file, data)
	if err != nil {
		return nil, err
	}
	c := &changes{file: file, form: f, update: update}
	if err := c.check(); err != nil {
		return nil, err
	}
	return readForeign(c.signature, data)
}

// readForeign checks a signature made by other software. What its byte range
// leaves out must be what the dictionary holds as its contents, which then is that
// place: no signature can hold a copy of itself in the bytes that it covers.
func readForeign(dict pdf.Dict, data []byte) (*Signature, error) {
	kind, _ := dict.Get("SubFilter").(pdf.Name)
	if kind != "ETSI.CAdES.detached" && kind != "adbe.pkcs7.detached" {
		return nil, fmt.Errorf("the customer's signature is of the kind %.40q, which this program does not know", kind)
	}
	from, to, err := gap(dict, len(data))
	if err != nil {
		return nil, errors.New("the customer's signature does not cover the whole file")
	}
	raw := make([]byte, (to-from)/2-1)
	written, _ := dict.Get("Contents").(pdf.String)
	if _, err := hex.Decode(raw, data[from+1:to-1]); err != nil || string(written) != string(raw) || len(raw) > maxContents {
		return nil, errors.New("the customer's signature is not in its place")
	}
	if text := data[from+1 : to-1]; bytes.ContainsAny(text, "abcdef") && bytes.ContainsAny(text, "ABCDEF") {
		return nil, errors.New("the customer's signature is not spelled as software writes it")
	}
	encoded, padding, err := cms.Definite(raw)
	if err != nil {
		return nil, err
	}
	if len(bytes.Trim(padding, "\x00")) > 0 {
		return nil, errors.New("something is hidden behind the customer's signature")
	}
	s, err := cms.Parse(encoded)
	if err != nil {
		return nil, err
	}
	if err := s.Verify(data[:from], data[to:]); err != nil {
		return nil, fmt.Errorf("customer: %w", err)
	}
	at := s.Time
	if m, ok := dict.Get("M").(pdf.String); ok && at.IsZero() {
		at = parseDate(string(m))
	}
	signature, err := newSignature(append([]*x509.Certificate{s.Signer}, s.Certificates...), at, s.Stamp, s.Signature())
	return &signature, err
}

// gap is what a byte range leaves out of a file of size bytes.
func gap(dict pdf.Dict, size int) (from, to int, err error) {
	array, _ := dict.Get("ByteRange").(pdf.Array)
	var n [4]int
	for i, o := range array {
		v, ok := o.(int)
		if !ok || i > 3 || v < 0 || v > size {
			return 0, 0, errors.New("bad byte range")
		}
		n[i] = v
	}
	if len(array) != 4 || n[0] != 0 || n[2]+n[3] != size || n[2]-n[1] < 4 || (n[2]-n[1])%2 != 0 {
		return 0, 0, errors.New("bad byte range")
	}
	return n[1], n[2], nil
}

// parseDate reads a PDF date with whatever parts it has; zero where it has none.
func parseDate(s string) time.Time {
	for _, layout := range []string{"D:20060102150405Z07'00'", "D:20060102150405Z07'00", "D:20060102150405Z", "D:20060102150405"} {
		if t, err := time.Parse(layout, s); err == nil {
			return t
		}
	}
	return time.Time{}
}
