package seal

import (
	"encoding/xml"
	"strings"
	"time"

	"dryhold/report/seal/internal/pdf"
)

// metadata is the XMP packet (ISO 16684-1) that marks the file as PDF/A-3b, and
// info the information dictionary that must say the same.
const metadata = `<?xpacket begin="` + "\uFEFF" + `" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/"
 xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/">
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>B</pdfaid:conformance>
<dc:format>application/pdf</dc:format>
<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<pdf:Producer>{producer}</pdf:Producer>
<xmp:CreateDate>{date}</xmp:CreateDate>
<xmp:ModifyDate>{date}</xmp:ModifyDate>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="r"?>
`

func xmp(doc Document) *pdf.Stream {
	text := strings.NewReplacer(
		"{language}", escape(doc.Language),
		"{title}", escape(doc.Title),
		"{producer}", escape(doc.Producer),
		"{date}", doc.Created.UTC().Format(time.RFC3339),
	).Replace(metadata)
	return &pdf.Stream{Dict: pdf.Dict{
		{Key: "Type", Value: pdf.Name("Metadata")},
		{Key: "Subtype", Value: pdf.Name("XML")},
	}, Raw: []byte(text)}
}

func info(doc Document) pdf.Dict {
	return pdf.Dict{
		{Key: "Title", Value: pdf.Text(doc.Title)},
		{Key: "Producer", Value: pdf.Text(doc.Producer)},
		{Key: "CreationDate", Value: date(doc.Created)},
		{Key: "ModDate", Value: date(doc.Created)},
	}
}

func escape(s string) string {
	var b strings.Builder
	xml.EscapeText(&b, []byte(s)) // a strings.Builder takes everything
	return b.String()
}
