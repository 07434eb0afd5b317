package cms

import (
	"bytes"
	"crypto"
	_ "crypto/sha1" // to find a certificate that an old time-stamp authority names so
	"crypto/sha256"
	"crypto/x509"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"time"

	"golang.org/x/crypto/cryptobyte"
	der "golang.org/x/crypto/cryptobyte/asn1"
)

// Signed is a SignedData of one signer, by whatever software.
type Signed struct {
	Signer       *x509.Certificate
	Certificates []*x509.Certificate // as they stand in the message
	// Stamp is the time-stamp token over the signature; nil for none.
	Stamp []byte
	// Time is the signing-time attribute; zero where there is none.
	Time time.Time

	contentType oid
	content     []byte // nil where it is detached
	hash        crypto.Hash
	algorithm   x509.SignatureAlgorithm
	attributes  []byte // signed attributes as a SET
	digest      []byte // the message-digest attribute
	named       [][]byte
	namedBy     []crypto.Hash // digests of the signing-certificate attribute, the signer's first
	signature   []byte
}

var errSyntax = errors.New("the signature is not well-formed CMS")

// Parse reads a ContentInfo with SignedData in DER.
func Parse(encoded []byte) (*Signed, error) {
	var (
		outer, explicit0, data   cryptobyte.String
		content, list, signers   cryptobyte.String
		digests                  cryptobyte.String
		id                       oid
		version                  int64
		hasCertificates, hasData bool
		s                        = &Signed{}
	)
	input := cryptobyte.String(encoded)
	if !input.ReadASN1(&outer, der.SEQUENCE) || !input.Empty() ||
		!outer.ReadASN1ObjectIdentifier(&id) || !id.Equal(oidSignedData) ||
		!outer.ReadASN1(&explicit0, explicit(0)) || !outer.Empty() ||
		!explicit0.ReadASN1(&data, der.SEQUENCE) || !explicit0.Empty() ||
		!data.ReadASN1Integer(&version) || version < 1 || version > 5 || !data.ReadASN1(&digests, der.SET) ||
		!data.ReadASN1(&content, der.SEQUENCE) ||
		!data.ReadOptionalASN1(&list, &hasCertificates, explicit(0)) ||
		!data.SkipOptionalASN1(explicit(1)) ||
		!data.ReadASN1(&signers, der.SET) || !data.Empty() {
		return nil, errSyntax
	}
	if !content.ReadASN1ObjectIdentifier(&s.contentType) ||
		!content.ReadOptionalASN1(&explicit0, &hasData, explicit(0)) || !content.Empty() {
		return nil, errSyntax
	}
	if hasData && (!explicit0.ReadASN1Bytes(&s.content, der.OCTET_STRING) || !explicit0.Empty()) {
		return nil, errSyntax
	}
	if err := s.readCertificates(list); err != nil {
		return nil, err
	}
	if err := s.readSigner(signers); err != nil {
		return nil, err
	}
	return s, s.checkDigests(digests)
}

// checkDigests looks for the signer's digest among those of the message.
func (s *Signed) checkDigests(list cryptobyte.String) error {
	found := false
	for !list.Empty() {
		id, err := readAlgorithm(&list)
		if err != nil {
			return err
		}
		found = found || hashOf(id) == s.hash
	}
	if !found {
		return errSyntax
	}
	return nil
}

// readAlgorithm reads an AlgorithmIdentifier. Only RSA-PSS has parameters that
// matter, and the digest of the signer's entry stands for them.
func readAlgorithm(from *cryptobyte.String) (id oid, err error) {
	var algorithm, null cryptobyte.String
	if !from.ReadASN1(&algorithm, der.SEQUENCE) || !algorithm.ReadASN1ObjectIdentifier(&id) {
		return nil, errSyntax
	}
	if !algorithm.Empty() && !id.Equal(oidRSAPSS) &&
		(!algorithm.ReadASN1(&null, der.NULL) || !null.Empty() || !algorithm.Empty()) {
		return nil, errSyntax
	}
	return id, nil
}

func (s *Signed) readCertificates(list cryptobyte.String) error {
	for !list.Empty() {
		var element cryptobyte.String
		var tag der.Tag
		if !list.ReadAnyASN1Element(&element, &tag) {
			return errSyntax
		}
		// A certificate of the chain that cannot be read is of no use, and of no
		// harm: the signer's own is looked for afterwards.
		if c, err := x509.ParseCertificate(element); err == nil {
			s.Certificates = append(s.Certificates, c)
		}
	}
	return nil
}

func (s *Signed) readSigner(signers cryptobyte.String) error {
	var signer, signed, unsigned cryptobyte.String
	var hasSigned, hasUnsigned bool
	var version int64
	if !signers.ReadASN1(&signer, der.SEQUENCE) || !signers.Empty() {
		return errors.New("the signature has no signer, or more than one")
	}
	if !signer.ReadASN1Integer(&version) || version != 1 && version != 3 {
		return errSyntax
	}
	if err := s.findSigner(&signer); err != nil {
		return err
	}
	digestID, err := readAlgorithm(&signer)
	if err != nil || !signer.ReadOptionalASN1(&signed, &hasSigned, explicit(0)) {
		return errSyntax
	}
	algorithmID, err := readAlgorithm(&signer)
	if err != nil || !signer.ReadASN1Bytes(&s.signature, der.OCTET_STRING) ||
		!signer.ReadOptionalASN1(&unsigned, &hasUnsigned, explicit(1)) || !signer.Empty() {
		return errSyntax
	}
	if s.hash = hashOf(digestID); s.hash == 0 || s.hash == crypto.SHA1 {
		return fmt.Errorf("the signature uses the digest %v, which is unknown or no longer safe", digestID)
	}
	if s.algorithm = algorithmOf(algorithmID, s.hash); s.algorithm == x509.UnknownSignatureAlgorithm {
		return fmt.Errorf("the signature uses the algorithm %v, which this program does not know", algorithmID)
	}
	var b cryptobyte.Builder
	b.AddASN1(der.SET, func(b *cryptobyte.Builder) { b.AddBytes(signed) })
	s.attributes = b.BytesOrPanic()
	if err := eachAttribute(signed, s.signedAttribute); err != nil {
		return err
	}
	return eachAttribute(unsigned, func(id oid, value cryptobyte.String) error {
		if id.Equal(oidTimeStamp) {
			s.Stamp = value
		}
		return nil
	})
}

// findSigner reads the signer's identifier and looks its certificate up.
func (s *Signed) findSigner(signer *cryptobyte.String) error {
	var issuerSerial, issuer, key cryptobyte.String
	serial := new(big.Int)
	match := func(c *x509.Certificate) bool {
		return bytes.Equal(c.RawIssuer, issuer) && c.SerialNumber.Cmp(serial) == 0
	}
	switch {
	case signer.PeekASN1Tag(der.Tag(0).ContextSpecific()):
		if !signer.ReadASN1(&key, der.Tag(0).ContextSpecific()) {
			return errSyntax
		}
		match = func(c *x509.Certificate) bool { return bytes.Equal(c.SubjectKeyId, key) }
	case !signer.ReadASN1(&issuerSerial, der.SEQUENCE) ||
		!issuerSerial.ReadASN1Element(&issuer, der.SEQUENCE) ||
		!issuerSerial.ReadASN1Integer(serial) || !issuerSerial.Empty():
		return errSyntax
	}
	i := slices.IndexFunc(s.Certificates, match)
	if i < 0 {
		return errors.New("the signature does not carry its signer's certificate")
	}
	s.Signer = s.Certificates[i]
	return nil
}

// Verify checks the signature over parts, taken together, and that the
// certificate is the one that the signer named.
func (s *Signed) Verify(parts ...[]byte) error {
	switch {
	case s.digest == nil:
		return errors.New("the signature has no message digest")
	case !bytes.Equal(s.digest, digest(s.hash, parts...)):
		return errors.New("the digest of the signed bytes differs")
	case len(s.named) > 0 && !bytes.Equal(s.named[0], digest(s.namedBy[0], s.Signer.Raw)):
		return errors.New("the certificate is not the one that the signer named")
	}
	if err := s.Signer.CheckSignature(s.algorithm, s.attributes, s.signature); err != nil {
		return fmt.Errorf("the signature does not fit its certificate: %w", err)
	}
	return nil
}

// Signature is the signature itself, over which a time-stamp goes.
func (s *Signed) Signature() []byte { return s.signature }

// ordered are the certificates in the order in which the signer named them.
func (s *Signed) ordered() []*x509.Certificate {
	var list []*x509.Certificate
	for _, sum := range s.named {
		for _, c := range s.Certificates {
			if h := sha256.Sum256(c.Raw); bytes.Equal(h[:], sum) {
				list = append(list, c)
				break
			}
		}
	}
	if len(list) == 0 {
		return []*x509.Certificate{s.Signer}
	}
	return list
}
