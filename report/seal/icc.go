package seal

import (
	"encoding/binary"
	"math"
	"sync"
)

// srgb is an ICC profile (version 2.1, matrix and curves) for the colour space of
// IEC 61966-2-1, made here so that the record carries nobody else's profile and
// licence. It is 1 kB: three colorants, one curve of 256 points that all share.
var srgb = sync.OnceValue(func() []byte {
	curve := make([]byte, 0, 2*256)
	for i := range 256 {
		v := float64(i) / 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		curve = binary.BigEndian.AppendUint16(curve, uint16(math.Round(v*65535)))
	}
	text := "sRGB (IEC 61966-2-1)"
	description := append([]byte{0, 0, 0, byte(len(text) + 1)}, text...)
	description = append(description, make([]byte, 1+4+4+2+1+67)...) // no Unicode, no Macintosh text
	points := binary.BigEndian.AppendUint32(nil, 256)
	return profile([]tag{
		{"desc", element("desc", description)},
		{"cprt", element("text", append([]byte("no rights reserved"), 0))},
		{"wtpt", xyz(0.9642, 1, 0.8249)},
		// The primaries of IEC 61966-2-1 under D65, adapted to D50 by Bradford's method.
		{"rXYZ", xyz(0.43607, 0.22249, 0.01392)},
		{"gXYZ", xyz(0.38515, 0.71687, 0.09708)},
		{"bXYZ", xyz(0.14307, 0.06061, 0.71410)},
		{"rTRC", element("curv", append(points, curve...))},
		{"gTRC", nil}, {"bTRC", nil}, // nil: the element before
	})
})

type tag struct {
	signature string
	data      []byte
}

func element(kind string, data []byte) []byte {
	return append(append([]byte(kind), 0, 0, 0, 0), data...)
}

func xyz(values ...float64) []byte {
	var b []byte
	for _, v := range values { // s15Fixed16Number
		b = binary.BigEndian.AppendUint32(b, uint32(math.Round(v*65536)))
	}
	return element("XYZ ", b)
}

// profile puts header, tag table and elements together (ICC.1:2001-04).
func profile(tags []tag) []byte {
	table := binary.BigEndian.AppendUint32(nil, uint32(len(tags)))
	var body []byte
	first := 128 + 4 + 12*len(tags)
	at, size := 0, 0
	for _, t := range tags {
		if t.data != nil {
			at, size = first+len(body), len(t.data)
			body = append(body, t.data...)
			body = append(body, make([]byte, -len(body)&3)...)
		}
		table = append(table, t.signature...)
		table = binary.BigEndian.AppendUint32(table, uint32(at))
		table = binary.BigEndian.AppendUint32(table, uint32(size))
	}
	header := make([]byte, 128)
	binary.BigEndian.PutUint32(header, uint32(first+len(body)))
	header[8], header[9] = 2, 0x10
	copy(header[12:], "mntrRGB XYZ ")
	binary.BigEndian.PutUint16(header[24:], 2000) // a fixed date: 2000-01-01
	header[27], header[29] = 1, 1
	copy(header[36:], "acsp")
	copy(header[68:], xyz(0.9642, 1, 0.8249)[8:]) // D50, the illuminant of the connection space
	return append(append(header, table...), body...)
}

var packedProfile = sync.OnceValue(func() []byte { return deflate(srgb()) })
