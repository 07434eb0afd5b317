package cms

import (
	"crypto"
	"errors"

	"golang.org/x/crypto/cryptobyte"
	der "golang.org/x/crypto/cryptobyte/asn1"
)

// eachAttribute reads a SET OF Attribute. The values that matter here are single;
// of others, the first is handed on.
func eachAttribute(list cryptobyte.String, use func(oid, cryptobyte.String) error) error {
	seen := map[string]bool{}
	for !list.Empty() {
		var attribute, values, value cryptobyte.String
		var id cryptobyte.String
		var tag der.Tag
		if !list.ReadASN1(&attribute, der.SEQUENCE) || !attribute.ReadASN1Element(&id, der.OBJECT_IDENTIFIER) ||
			!attribute.ReadASN1(&values, der.SET) || !values.ReadAnyASN1Element(&value, &tag) {
			return errSyntax
		}
		if seen[string(id)] {
			return errors.New("the signature has an attribute twice")
		}
		seen[string(id)] = true
		var known oid
		if !id.ReadASN1ObjectIdentifier(&known) {
			continue // arcs too large for the type, as ours is
		}
		if err := use(known, value); err != nil {
			return err
		}
	}
	return nil
}

func (s *Signed) signedAttribute(id oid, value cryptobyte.String) error {
	var contentType oid
	switch {
	case id.Equal(oidContentType):
		if !value.ReadASN1ObjectIdentifier(&contentType) || !contentType.Equal(s.contentType) {
			return errors.New("the signature is for another type of content")
		}
	case id.Equal(oidMessageDigest):
		if !value.ReadASN1Bytes(&s.digest, der.OCTET_STRING) {
			return errSyntax
		}
	case id.Equal(oidSigningTime):
		if generalized := value.PeekASN1Tag(der.GeneralizedTime); generalized && !value.ReadASN1GeneralizedTime(&s.Time) ||
			!generalized && !value.ReadASN1UTCTime(&s.Time) {
			return errSyntax
		}
	case id.Equal(oidSigningCertV2):
		return s.readNamed(value, crypto.SHA256)
	case id.Equal(oidSigningCertificate):
		return s.readNamed(value, crypto.SHA1)
	}
	return nil
}

// readNamed reads the certificate digests of SigningCertificate or its version 2,
// which differ in the digest and in whether another may be named.
func (s *Signed) readNamed(value cryptobyte.String, hash crypto.Hash) error {
	var outer, list cryptobyte.String
	if !value.ReadASN1(&outer, der.SEQUENCE) || !outer.ReadASN1(&list, der.SEQUENCE) {
		return errSyntax
	}
	for !list.Empty() {
		var entry, algorithm cryptobyte.String
		var named bool
		var sum []byte
		if !list.ReadASN1(&entry, der.SEQUENCE) || !entry.ReadOptionalASN1(&algorithm, &named, der.SEQUENCE) ||
			!entry.ReadASN1Bytes(&sum, der.OCTET_STRING) {
			return errSyntax
		}
		h := hash
		if named {
			var id oid
			if !algorithm.ReadASN1ObjectIdentifier(&id) || hashOf(id) == 0 {
				return errors.New("the signature names its certificate by a digest that this program does not know")
			}
			h = hashOf(id)
		}
		s.named, s.namedBy = append(s.named, sum), append(s.namedBy, h)
	}
	return nil
}
