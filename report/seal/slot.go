package seal

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"time"
)

const (
	// slotOffset is where a record's first object begins: the signature
	// dictionary, so that nothing has to be searched for in a file that is not
	// trusted yet.
	slotOffset = len("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n")

	// slotSize is the room for a signature, in bytes. A P-256 signature with its own
	// certificate takes 0.8 kB, a chain of three RSA certificates 5 kB, a
	// time-stamp token with its chain up to 8 kB.
	slotSize = 16 << 10

	slotHead = "%d 0 obj\n<</Type /Sig\n/Filter /Adobe.PPKLite\n/SubFilter /ETSI.CAdES.detached\n/M (D:"
	slotMid  = "Z)\n/ByteRange [0 %-10d %-10d %-10d]\n/Contents <"
	slotTail = ">\n>>\nendobj\n"

	// unsignedTime stands for the time of signing until there is one.
	unsignedTime = "19000101000000"
	timeLayout   = "20060102150405"
)

// noSignature fills the place of a signature until there is one.
var noSignature = bytes.Repeat([]byte{'0'}, 2*slotSize)

// slot is the place for the signature in a record.
type slot struct {
	num      int // object number of the signature dictionary
	time     int // offset of the 14 digits of the time
	from, to int // the signature, with its angle brackets: what the byte range leaves out
	end      int // of the signed revision
}

func newSlot(num int) slot {
	s := slot{num: num}
	s.time = slotOffset + len(fmt.Sprintf(slotHead, num))
	s.from = s.time + len(timeLayout) + len(fmt.Sprintf(slotMid, 0, 0, 0)) - 1
	s.to = s.from + 2*slotSize + 2
	return s
}

// after is the offset of what follows the signature dictionary.
func (s slot) after() int { return s.to - 1 + len(slotTail) }

// object is the signature dictionary before it is signed.
func (s slot) object() []byte {
	b := make([]byte, 0, s.after()-slotOffset)
	b = fmt.Appendf(b, slotHead, s.num)
	b = append(b, unsignedTime...)
	b = fmt.Appendf(b, slotMid, s.from, s.to, s.end-s.to)
	b = append(b, noSignature...)
	return append(b, slotTail...)
}

// findSlot reads the slot of a record. Every byte of the dictionary but those that
// signing fills must be as Archive wrote it.
func findSlot(data []byte) (slot, error) {
	digits, _, ok := bytes.Cut(data[min(slotOffset, len(data)):min(slotOffset+10, len(data))], []byte(" "))
	num, err := strconv.Atoi(string(digits))
	if !ok || err != nil || num < 1 || !bytes.HasPrefix(data[slotOffset:], fmt.Appendf(nil, slotHead, num)) {
		if bytes.HasPrefix(data, []byte("%PDF-")) {
			return slot{}, fmt.Errorf("%w: it never was one, or other software has saved it anew", ErrNotSealed)
		}
		return slot{}, fmt.Errorf("%w: it is no PDF", ErrNotSealed)
	}
	s := newSlot(num)
	if len(data) < s.after() {
		return slot{}, fmt.Errorf("%w: it is cut short", ErrAltered)
	}
	length := string(data[s.from-len("]\n/Contents ")-10:][:10])
	rest, err := strconv.Atoi(strings.TrimRight(length, " "))
	if err != nil || rest < 0 {
		return slot{}, fmt.Errorf("%w: the byte range %.10q is not a number", ErrAltered, length)
	}
	if rest > len(data)-s.to {
		return slot{}, fmt.Errorf("%w: it is cut short", ErrAltered)
	}
	s.end = s.to + rest
	if !bytes.Equal(s.clear(data[:s.after()])[slotOffset:], s.object()) {
		return slot{}, fmt.Errorf("%w: the signature dictionary is not as it was made", ErrAltered)
	}
	return s, nil
}

// isClear reports whether data has neither signature nor time.
func (s slot) isClear(data []byte) bool {
	return string(data[s.time:][:len(timeLayout)]) == unsignedTime && bytes.Equal(data[s.from+1:s.to-1], noSignature)
}

// clear returns a copy of data without signature and time.
func (s slot) clear(data []byte) []byte {
	c := bytes.Clone(data)
	copy(c[s.time:], unsignedTime)
	copy(c[s.from+1:], noSignature)
	return c
}

// signedAt reads the time that the dictionary gives.
func (s slot) signedAt(data []byte) (time.Time, error) {
	return time.Parse(timeLayout, string(data[s.time:][:len(timeLayout)]))
}
