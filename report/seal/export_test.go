package seal

import (
	"crypto"
	"crypto/x509"
)

// Parts opens a key, for signatures that the package itself would not make.
func (k *Key) Parts() (crypto.Signer, []*x509.Certificate) { return k.signer, k.chain }

// Forge puts any body behind an empty signature, to be signed by a hostile hand.
func Forge(body []byte) []byte {
	s := newSlot(1)
	data := append([]byte("%PDF-1.7\n%\xE2\xE3\xCF\xD3\n"), s.object()...)
	data = append(data, body...)
	s.end = len(data)
	copy(data[slotOffset:], s.object())
	return data
}

// SRGB is the profile before it is compressed.
var SRGB = srgb
