package pdf

import (
	"crypto/sha256"
	"fmt"
	"strconv"
)

// Append writes o after b.
func Append(b []byte, o Object) []byte {
	switch o := o.(type) {
	case nil:
		return append(b, "null"...)
	case bool:
		return strconv.AppendBool(b, o)
	case int:
		return strconv.AppendInt(b, int64(o), 10)
	case float64:
		return strconv.AppendFloat(b, o, 'f', -1, 64)
	case Name:
		return appendName(b, o)
	case String:
		return appendString(b, o)
	case Ref:
		b = strconv.AppendInt(b, int64(o.Num), 10)
		b = append(b, ' ')
		b = strconv.AppendInt(b, int64(o.Gen), 10)
		return append(b, " R"...)
	case Array:
		b = append(b, '[')
		for i, v := range o {
			if i > 0 {
				b = append(b, ' ')
			}
			b = Append(b, v)
		}
		return append(b, ']')
	case Dict:
		b = append(b, "<<"...)
		for _, e := range o {
			b = append(appendName(b, e.Key), ' ')
			b = append(Append(b, e.Value), '\n')
		}
		return append(b, ">>"...)
	case *Stream:
		d := o.Dict.Without("Length")
		d.Set("Length", len(o.Raw))
		b = append(Append(b, d), "\nstream\n"...)
		return append(append(b, o.Raw...), "\nendstream"...)
	}
	panic(fmt.Sprintf("pdf: no object: %T", o)) // a fault of the program, never of a file
}

func appendName(b []byte, n Name) []byte {
	b = append(b, '/')
	for i := range len(n) {
		if c := n[i]; c > '~' || !isRegular(c) || c == '#' {
			b = fmt.Appendf(b, "#%02X", c)
		} else {
			b = append(b, c)
		}
	}
	return b
}

// Writer puts a file of one revision together.
type Writer struct {
	Bytes   []byte
	offsets []int // by object number; 0 where there is none
}

// NewWriter begins a PDF 1.7 file of about size bytes. The second line marks the
// file as binary (ISO 32000-1, 7.5.2).
func NewWriter(size int) *Writer {
	w := &Writer{Bytes: make([]byte, 0, size)}
	w.Bytes = append(w.Bytes, "%PDF-1.7\n%\xE2\xE3\xCF\xD3\n"...)
	return w
}

func (w *Writer) begin(num int) {
	for len(w.offsets) <= num {
		w.offsets = append(w.offsets, 0)
	}
	w.offsets[num] = len(w.Bytes)
}

// Object writes an indirect object.
func (w *Writer) Object(num int, o Object) {
	w.begin(num)
	w.Bytes = fmt.Appendf(w.Bytes, "%d 0 obj\n", num)
	w.Bytes = append(Append(w.Bytes, o), "\nendobj\n"...)
}

// Raw writes an indirect object as it came from another file, from its number to
// the end of line after endobj.
func (w *Writer) Raw(num int, source []byte) {
	w.begin(num)
	w.Bytes = append(w.Bytes, source...)
}

// Finish writes the cross-reference table and the trailer, with an ID made from
// the digest of everything before it.
func (w *Writer) Finish(trailer Dict) {
	digest := sha256.Sum256(w.Bytes)
	id := String(digest[:16])
	trailer.Set("Size", len(w.offsets))
	trailer.Set("ID", Array{id, id})
	start := len(w.Bytes)
	w.Bytes = fmt.Appendf(w.Bytes, "xref\n0 %d\n0000000000 65535 f \n", len(w.offsets))
	for _, o := range w.offsets[1:] {
		w.Bytes = fmt.Appendf(w.Bytes, "%010d 00000 n \n", o)
	}
	w.Bytes = append(w.Bytes, "trailer\n"...)
	w.Bytes = Append(w.Bytes, trailer)
	w.Bytes = fmt.Appendf(w.Bytes, "\nstartxref\n%d\n%%%%EOF\n", start)
}
