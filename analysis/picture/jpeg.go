package picture

import "encoding/binary"

// JPEG markers (ITU-T T.81, table B.1).
const (
	soi   = 0xD8
	eoi   = 0xD9
	sos   = 0xDA
	app0  = 0xE0
	app1  = 0xE1
	app14 = 0xEE
	app15 = 0xEF
	com   = 0xFE
)

// segments walks a JPEG file: visit gets each marker with its segment, the two
// bytes of its length included and the data of a scan behind its header. It
// reports whether the end of the image was met.
func segments(data []byte, visit func(marker byte, segment []byte)) bool {
	i := 2
	for i+4 <= len(data) {
		if data[i] != 0xFF {
			return false
		}
		marker := data[i+1]
		if marker == 0xFF { // a fill byte
			i++
			continue
		}
		if marker == eoi {
			return true
		}
		i += 2
		end := i + int(binary.BigEndian.Uint16(data[i:]))
		if end < i+2 || end > len(data) {
			return false
		}
		if marker == sos {
			end = scan(data, end)
		}
		visit(marker, data[i:end])
		i = end
	}
	return i+2 <= len(data) && data[i] == 0xFF && data[i+1] == eoi
}

// scan is where the data of a scan end: before a marker that is no restart.
func scan(data []byte, i int) int {
	for ; i+1 < len(data); i++ {
		if data[i] == 0xFF && data[i+1] != 0 && data[i+1] != 0xFF && (data[i+1] < 0xD0 || data[i+1] > 0xD7) {
			return i
		}
	}
	return len(data)
}

// bareJPEG leaves out comments and all application segments but the one that
// tells how colours were coded, and whatever stands behind the image. whole says
// whether the image's end was found.
func bareJPEG(data []byte) (out []byte, whole bool) {
	out = append(make([]byte, 0, len(data)), 0xFF, soi)
	whole = segments(data, func(marker byte, segment []byte) {
		colours := marker == app14 && len(segment) == 14 && string(segment[2:7]) == "Adobe"
		if marker == com || marker >= app0 && marker <= app15 && !colours {
			return
		}
		out = append(append(out, 0xFF, marker), segment...)
	})
	return append(out, 0xFF, eoi), whole
}

// exif is the TIFF structure that a camera wrote (CIPA DC-008), nil for none.
func exif(data []byte) []byte {
	var found []byte
	segments(data, func(marker byte, segment []byte) {
		const head = "Exif\x00\x00"
		if marker == app1 && found == nil && len(segment) > 2+len(head) && string(segment[2:2+len(head)]) == head {
			found = segment[2+len(head):]
		}
	})
	return found
}
