package cms

import (
	"bytes"
	"crypto"
	"crypto/sha256"
	"crypto/x509"
	"errors"
	"fmt"
	"math/big"
	"slices"
	"strings"
	"time"

	"golang.org/x/crypto/cryptobyte"
	der "golang.org/x/crypto/cryptobyte/asn1"
)

// StampRequest is a TimeStampReq for a SHA-256 digest that asks for the
// authority's certificate (RFC 3161, 2.4.1).
func StampRequest(digest []byte, nonce *big.Int) []byte {
	var b cryptobyte.Builder
	b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
		b.AddASN1Int64(1)
		b.AddASN1(der.SEQUENCE, func(b *cryptobyte.Builder) {
			addAlgorithm(b, oidOf(crypto.SHA256), true)
			b.AddASN1OctetString(digest)
		})
		b.AddASN1BigInt(nonce)
		b.AddASN1Boolean(true)
	})
	return b.BytesOrPanic()
}

// StampToken takes the token out of a TimeStampResp and checks that it answers
// the nonce.
func StampToken(response []byte, nonce *big.Int) ([]byte, error) {
	input := cryptobyte.String(response)
	var outer, status, texts, token cryptobyte.String
	var code int64
	var hasTexts bool
	if !input.ReadASN1(&outer, der.SEQUENCE) || !outer.ReadASN1(&status, der.SEQUENCE) ||
		!status.ReadASN1Integer(&code) || !status.ReadOptionalASN1(&texts, &hasTexts, der.SEQUENCE) {
		return nil, errors.New("the answer is not a time-stamp response")
	}
	if code > 1 { // 0 granted, 1 granted with modifications
		return nil, fmt.Errorf("the time-stamp authority refused, status %d%s", code, statusText(texts))
	}
	if !outer.ReadASN1Element(&token, der.SEQUENCE) {
		return nil, errors.New("the time-stamp response has no token")
	}
	s, err := Parse(token)
	if err != nil {
		return nil, err
	}
	info, err := s.stampInfo()
	if err != nil {
		return nil, err
	}
	if info.nonce == nil || info.nonce.Cmp(nonce) != 0 {
		return nil, errors.New("the time-stamp answers another request: its nonce differs")
	}
	return token, nil
}

func statusText(texts cryptobyte.String) string {
	var all strings.Builder
	for !texts.Empty() {
		var text cryptobyte.String
		if !texts.ReadASN1(&text, der.UTF8String) {
			break
		}
		fmt.Fprintf(&all, ": %.200q", string(text))
	}
	return all.String()
}

// stampInfo is a TSTInfo.
type stampInfo struct {
	hash   crypto.Hash
	digest []byte
	time   time.Time
	nonce  *big.Int // nil for none
}

func (s *Signed) stampInfo() (*stampInfo, error) {
	if !s.contentType.Equal(oidTSTInfo) {
		return nil, errors.New("the time-stamp is a signature of another kind")
	}
	var (
		info                         stampInfo
		outer, imprint, algorithm    cryptobyte.String
		clock, optional              cryptobyte.String
		version, serial              = new(big.Int), new(big.Int)
		policy, digestID             oid
		hasAccuracy, hasOrder, nonce bool
	)
	input := cryptobyte.String(s.content)
	if !input.ReadASN1(&outer, der.SEQUENCE) || !outer.ReadASN1Integer(version) ||
		!outer.ReadASN1ObjectIdentifier(&policy) || !outer.ReadASN1(&imprint, der.SEQUENCE) ||
		!imprint.ReadASN1(&algorithm, der.SEQUENCE) || !algorithm.ReadASN1ObjectIdentifier(&digestID) ||
		!imprint.ReadASN1Bytes(&info.digest, der.OCTET_STRING) || !outer.ReadASN1Integer(serial) ||
		!outer.ReadASN1(&clock, der.GeneralizedTime) ||
		!outer.ReadOptionalASN1(&optional, &hasAccuracy, der.SEQUENCE) ||
		!outer.ReadOptionalASN1(&optional, &hasOrder, der.BOOLEAN) {
		return nil, errors.New("the time-stamp's content is not well-formed")
	}
	if nonce = outer.PeekASN1Tag(der.INTEGER); nonce {
		if info.nonce = new(big.Int); !outer.ReadASN1Integer(info.nonce) {
			return nil, errors.New("the time-stamp's content is not well-formed")
		}
	}
	// RFC 3161 permits fractions of a second, which the library's reader does not.
	t, err := time.Parse("20060102150405.999999999Z", string(clock))
	if err != nil {
		return nil, fmt.Errorf("the time-stamp's time %.40q is not well-formed", clock)
	}
	info.time, info.hash = t, hashOf(digestID)
	return &info, nil
}

// Stamp is a checked time-stamp.
type Stamp struct {
	Time         time.Time
	Certificate  *x509.Certificate
	Certificates []*x509.Certificate // as they stand in the token
}

// OpenStamp checks a token over signature.
func OpenStamp(token, signature []byte) (*Stamp, error) {
	s, err := Parse(token)
	if err != nil {
		return nil, err
	}
	info, err := s.stampInfo()
	if err != nil {
		return nil, err
	}
	switch {
	case info.hash == 0 || info.hash == crypto.SHA1 || !bytes.Equal(info.digest, digest(info.hash, signature)):
		return nil, errors.New("the time-stamp is for another signature")
	case len(s.named) == 0:
		return nil, errors.New("the time-stamp does not name its authority's certificate")
	case !slices.Contains(s.Signer.ExtKeyUsage, x509.ExtKeyUsageTimeStamping):
		return nil, errors.New("the time-stamp's certificate is not one for time-stamps")
	case info.time.Before(s.Signer.NotBefore) || info.time.After(s.Signer.NotAfter):
		return nil, errors.New("the time-stamp was made outside its certificate's period")
	}
	if err := s.Verify(s.content); err != nil {
		return nil, err
	}
	return &Stamp{info.time, s.Signer, s.Certificates}, nil
}

// StampDigest is what a time-stamp authority is asked to stamp.
func (m *Message) StampDigest() []byte {
	sum := sha256.Sum256(m.Signature)
	return sum[:]
}
