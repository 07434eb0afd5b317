package seal

import (
	"crypto"
	"crypto/x509"
	"errors"
	"time"
)

// Key is a private key with its certificate.
type Key struct {
	signer crypto.Signer
	chain  []*x509.Certificate // the signer's first
}

// NewKey makes a P-256 key and a certificate that vouches for itself.
func NewKey(name string, from, until time.Time) (*Key, error) {
	return nil, errors.New("not written yet")
}

// DecodeKey reads what Encode wrote, or a PKCS#12 file from an authority.
// ErrPassphrase is returned when the passphrase is missing or wrong.
func DecodeKey(data []byte, passphrase string) (*Key, error) {
	return nil, errors.New("not written yet")
}

// ErrPassphrase is returned by DecodeKey.
var ErrPassphrase = errors.New("the passphrase is missing or wrong")

// Encode gives PEM (PKCS#8 and certificate), or PKCS#12 where there is a passphrase.
func (k *Key) Encode(passphrase string) ([]byte, error) { return nil, errors.New("not written yet") }

// Certificate is the signer's certificate.
func (k *Key) Certificate() *x509.Certificate { return k.chain[0] }

// Fingerprint is the SHA-256 of a certificate, as 64 lower case hex digits.
func Fingerprint(cert *x509.Certificate) string { return "" }

// EncodeCertificate gives a certificate as PEM, to be handed out.
func EncodeCertificate(cert *x509.Certificate) []byte { return nil }

// DecodeCertificate reads a certificate, PEM or DER.
func DecodeCertificate(data []byte) (*x509.Certificate, error) {
	return nil, errors.New("not written yet")
}
