package picture

import "encoding/binary"

// kept chunks make the picture (W3C PNG, 11.2 and 11.3.1); all others tell about it.
var kept = map[string]bool{"IHDR": true, "PLTE": true, "IDAT": true, "IEND": true, "tRNS": true}

// barePNG leaves out all chunks but those that make the picture, and whatever
// stands behind it. whole says whether its end was found.
func barePNG(data []byte) (out []byte, whole bool) {
	const signature = 8
	out = append(make([]byte, 0, len(data)), data[:min(signature, len(data))]...)
	for i := signature; i+12 <= len(data); {
		end := i + 12 + int(binary.BigEndian.Uint32(data[i:]))
		if end > len(data) || end < i+12 {
			break
		}
		kind := string(data[i+4 : i+8])
		if kept[kind] {
			out = append(out, data[i:end]...)
		}
		if kind == "IEND" {
			return out, true
		}
		i = end
	}
	return out, false
}
