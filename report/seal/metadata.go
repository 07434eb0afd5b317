package seal

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"slices"
	"strings"

	"dryhold/report/seal/internal/pdf"
)

// checkMetadata lets signing software bring the dates of the metadata up to date
// and write the rest in another form; what it says must stay the same.
func checkMetadata(old, changed pdf.Object) error {
	was, ok := old.(*pdf.Stream)
	is, ok2 := changed.(*pdf.Stream)
	if !ok || !ok2 || is.Dict.Get("Filter") != nil {
		return errors.New("the metadata was replaced")
	}
	a, err := statements(was.Raw)
	if err != nil {
		return err
	}
	b, err := statements(is.Raw)
	if err != nil {
		return err
	}
	if !slices.Equal(a, b) {
		return errors.New("the metadata was changed")
	}
	return nil
}

// statements lists the properties of an XMP packet with their values, but for
// those that a save may change.
func statements(packet []byte) ([]string, error) {
	const (
		rdf   = "http://www.w3.org/1999/02/22-rdf-syntax-ns#"
		basic = "http://ns.adobe.com/xap/1.0/"
		media = "http://ns.adobe.com/xap/1.0/mm/"
	)
	ignored := func(n xml.Name) bool {
		return n.Space == media || n.Space == "xmlns" || n.Local == "xmlns" || n.Space == rdf ||
			n.Space == basic && n.Local != "CreateDate" || n.Local == "Producer" || n.Local == "xmptk" || n.Local == "lang"
	}
	var list []string
	var property []xml.Name // open elements that are properties, not RDF syntax
	d := xml.NewDecoder(bytes.NewReader(packet))
	for {
		token, err := d.Token()
		if err == io.EOF {
			slices.Sort(list)
			return list, nil
		}
		if err != nil {
			return nil, errors.New("the metadata is not well-formed XML")
		}
		switch token := token.(type) {
		case xml.StartElement:
			property = append(property, token.Name)
			for _, a := range token.Attr {
				if !ignored(a.Name) {
					list = append(list, a.Name.Space+a.Name.Local+"="+a.Value)
				}
			}
		case xml.EndElement:
			property = property[:len(property)-1]
		case xml.CharData:
			text := strings.TrimSpace(string(token))
			i := len(property) - 1
			for i >= 0 && property[i].Space == rdf {
				i--
			}
			if text != "" && i >= 0 && !ignored(property[i]) {
				list = append(list, property[i].Space+property[i].Local+"="+text)
			}
		}
	}
}
