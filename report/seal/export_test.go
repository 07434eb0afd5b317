package seal

import (
	"bytes"
	"crypto"
	"crypto/x509"
)

// Parts opens a key, for signatures that the package itself would not make.
func (k *Key) Parts() (crypto.Signer, []*x509.Certificate) { return k.signer, k.chain }

// Forge puts another body behind the empty signature of an archive, to be signed
// by a hostile hand, and Body takes out the body that is there.
func Forge(archived, body []byte) []byte {
	s, err := findSlot(archived)
	if err != nil {
		panic(err)
	}
	data := append(bytes.Clone(archived[:slotOffset+len(s.object())]), body...)
	s.end = len(data)
	copy(data[slotOffset:], s.object())
	return data
}

func Body(archived []byte) []byte {
	s, err := findSlot(archived)
	if err != nil {
		panic(err)
	}
	return archived[slotOffset+len(s.object()):]
}

// SRGB is the profile before it is compressed.
var SRGB = srgb

// Deflate and Inflate are the compression of a record's streams, and its undoing.
var (
	Deflate = deflate
	Inflate = inflate
)
