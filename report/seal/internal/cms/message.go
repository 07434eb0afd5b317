// Package cms makes and reads the signatures of a sealed record: Cryptographic
// Message Syntax SignedData (RFC 5652) with the signing-certificate-v2 attribute
// (RFC 5035), and time-stamp tokens (RFC 3161).
//
// It is our own because the general CMS libraries for Go either cannot leave the
// signing-time attribute out, as PAdES demands (ETSI EN 319 142-1), or are not
// kept; and because a record's own signature is held to a stricter rule than a
// library has: it is taken apart, put together again, and must come out byte for
// byte the same, so that no bit of it can be changed unnoticed. The encoding is
// that of golang.org/x/crypto/cryptobyte, the cryptography that of the standard
// library.
package cms

import (
	"bytes"
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/rsa"
	"crypto/sha256"
	_ "crypto/sha512" // for keys on larger curves
	"crypto/x509"
	"errors"
	"fmt"
	"slices"

	"golang.org/x/crypto/cryptobyte"
	der "golang.org/x/crypto/cryptobyte/asn1"
)

// Message is a detached signature as this project makes it.
type Message struct {
	Certificates []*x509.Certificate // the signer's first
	Digest       []byte              // of the signed bytes, with the digest of the key
	Signature    []byte              // over the signed attributes
	Stamp        []byte              // time-stamp token over Signature; nil for none
}

// Algorithms says how a key signs: P-256 and RSA with SHA-256, larger curves with
// the digest of their size.
func Algorithms(public crypto.PublicKey) (crypto.Hash, x509.SignatureAlgorithm, error) {
	switch key := public.(type) {
	case *rsa.PublicKey:
		if key.N.BitLen() < 2048 {
			return 0, 0, fmt.Errorf("the RSA key has %d bits; at least 2048 are needed", key.N.BitLen())
		}
		return crypto.SHA256, x509.SHA256WithRSA, nil
	case *ecdsa.PublicKey:
		switch key.Curve {
		case elliptic.P256():
			return crypto.SHA256, x509.ECDSAWithSHA256, nil
		case elliptic.P384():
			return crypto.SHA384, x509.ECDSAWithSHA384, nil
		case elliptic.P521():
			return crypto.SHA512, x509.ECDSAWithSHA512, nil
		}
	}
	return 0, 0, fmt.Errorf("a key of the kind %T cannot sign a record; use P-256 or RSA", public)
}

// Sign signs parts, taken together, with key.
func Sign(key crypto.Signer, certificates []*x509.Certificate, parts ...[]byte) (*Message, error) {
	hash, _, err := Algorithms(key.Public())
	if err != nil {
		return nil, err
	}
	m := &Message{Certificates: certificates, Digest: digest(hash, parts...)}
	m.Signature, err = key.Sign(rand.Reader, digest(hash, m.attributes()), hash)
	return m, err
}

func digest(hash crypto.Hash, parts ...[]byte) []byte {
	h := hash.New()
	for _, p := range parts {
		h.Write(p)
	}
	return h.Sum(nil)
}

// attributes are the signed attributes, as the SET over which the signature goes.
// The signing certificate attribute lists every certificate of the message, so
// that none can be exchanged.
func (m *Message) attributes() []byte {
	list := [][]byte{
		attribute(oidContentType, func(b *cryptobyte.Builder) { b.AddASN1ObjectIdentifier(oidData) }),
		attribute(oidMessageDigest, func(b *cryptobyte.Builder) { b.AddASN1OctetString(m.Digest) }),
		attribute(oidSigningCertV2, func(b *cryptobyte.Builder) {
			b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) { // SigningCertificateV2
				b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
					for _, c := range m.Certificates {
						sum := sha256.Sum256(c.Raw) // SHA-256 is the default, so it is not named
						b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) { b.AddASN1OctetString(sum[:]) })
					}
				})
			})
		}),
	}
	return set(der.SET, list)
}

// attribute encodes an Attribute with one value.
func attribute(id oid, value cryptobyte.BuilderContinuation) []byte {
	var b cryptobyte.Builder
	b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
		b.AddASN1ObjectIdentifier(id)
		b.AddASN1(der.SET, value)
	})
	return b.BytesOrPanic()
}

// set encodes a SET OF in the order that DER demands.
func set(tag der.Tag, list [][]byte) []byte {
	slices.SortFunc(list, bytes.Compare)
	var b cryptobyte.Builder
	b.AddASN1(tag, func(b *cryptobyte.Builder) { b.AddBytes(bytes.Join(list, nil)) })
	return b.BytesOrPanic()
}

// Encode gives the message in DER.
func (m *Message) Encode() ([]byte, error) {
	hash, algorithm, err := Algorithms(m.Certificates[0].PublicKey)
	if err != nil {
		return nil, err
	}
	var b cryptobyte.Builder
	b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) { // ContentInfo
		b.AddASN1ObjectIdentifier(oidSignedData)
		b.AddASN1(explicit(0), func(b *cryptobyte.Builder) {
			b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) { // SignedData
				b.AddASN1Int64(1)
				b.AddASN1(der.SET, func(b *cryptobyte.Builder) { addAlgorithm(b, oidOf(hash), false) })
				b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) { b.AddASN1ObjectIdentifier(oidData) })
				b.AddBytes(set(explicit(0), raws(m.Certificates)))
				b.AddASN1(der.SET, func(b *cryptobyte.Builder) { m.addSigner(b, hash, algorithm) })
			})
		})
	})
	return b.Bytes()
}

func (m *Message) addSigner(b *cryptobyte.Builder, hash crypto.Hash, algorithm x509.SignatureAlgorithm) {
	signer := m.Certificates[0]
	b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
		b.AddASN1Int64(1)
		b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
			b.AddBytes(signer.RawIssuer)
			b.AddASN1BigInt(signer.SerialNumber)
		})
		addAlgorithm(b, oidOf(hash), false)
		signed := m.attributes()
		signed[0] = byte(explicit(0)) // IMPLICIT here, SET where it is signed
		b.AddBytes(signed)
		addAlgorithm(b, oidOfAlgorithm(algorithm), algorithm == x509.SHA256WithRSA)
		b.AddASN1OctetString(m.Signature)
		if m.Stamp != nil {
			b.AddBytes(set(explicit(1), m.unsigned()))
		}
	})
}

// unsigned are the time-stamp and its digest. A token's own signature does not
// cover all of its bytes (the certificates of its authority, for one); the digest
// makes a change to any of them show.
func (m *Message) unsigned() [][]byte {
	sum := sha256.Sum256(m.Stamp)
	var b cryptobyte.Builder
	b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
		b.AddBytes(stampDigestOID)
		b.AddASN1(der.SET, func(b *cryptobyte.Builder) { b.AddASN1OctetString(sum[:]) })
	})
	stamp := attribute(oidTimeStamp, func(b *cryptobyte.Builder) { b.AddBytes(m.Stamp) })
	return [][]byte{stamp, b.BytesOrPanic()}
}

// stampDigestOID is 2.25.42487717674662311274986687862792244658, made from a
// random UUID (ITU-T X.667): an identifier that needs no registration.
var stampDigestOID = []byte{0x06, 0x13, 0x69, 0xbf, 0xf6, 0xeb, 0x8d, 0xd9, 0xf4, 0xda, 0x95,
	0xe1, 0xa3, 0xd4, 0xd0, 0xf4, 0x93, 0x8a, 0xcf, 0x9b, 0x32}

func explicit(n uint8) der.Tag { return der.Tag(n).ContextSpecific().Constructed() }

func addAlgorithm(b *cryptobyte.Builder, id oid, null bool) {
	b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
		b.AddASN1ObjectIdentifier(id)
		if null {
			b.AddASN1NULL()
		}
	})
}

func raws(certificates []*x509.Certificate) [][]byte {
	var list [][]byte
	for _, c := range certificates {
		list = append(list, c.Raw)
	}
	return list
}

// Open reads a message that Encode wrote, without a byte of difference, and
// checks its signature over parts. certificates come back with the signer's first.
func Open(encoded []byte, parts ...[]byte) (*Message, error) {
	s, err := Parse(encoded)
	if err != nil {
		return nil, err
	}
	if _, _, err := Algorithms(s.Signer.PublicKey); err != nil {
		return nil, err
	}
	if err := s.Verify(parts...); err != nil {
		return nil, err
	}
	m := &Message{Certificates: s.ordered(), Digest: s.digest, Signature: s.signature, Stamp: s.Stamp}
	again, err := m.Encode()
	if err != nil {
		return nil, err
	}
	if !bytes.Equal(again, encoded) {
		return nil, errors.New("the signature is not encoded as a record's is")
	}
	return m, nil
}
