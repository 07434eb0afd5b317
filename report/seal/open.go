package seal

import (
	"bytes"
	"crypto/x509"
	"encoding/hex"
	"errors"
	"fmt"
	"time"

	"dryhold/report/seal/internal/cms"
	"dryhold/report/seal/internal/pdf"
)

// Errors of Open, to be told apart with errors.Is; each is wrapped with the reason.
var (
	ErrNotSealed = errors.New("not a sealed record")
	ErrAltered   = errors.New("changed since it was signed")
	ErrAppended  = errors.New("something other than the customer's signature was added")
)

// Sealed is a record whose signatures hold.
type Sealed struct {
	// Signature is the issuer's.
	Signature Signature
	// Customer is the other party's signature; nil while their field is empty.
	Customer *Signature
	// Attachments in the order in which they were attached.
	Attachments []Attachment
	// Unsigned is the record before it was signed: byte for byte what Archive returned.
	Unsigned []byte
}

// Signature says who signed, and when they say that they did.
type Signature struct {
	Certificate *x509.Certificate
	// Chain is what else the signature carries: certificates of authorities.
	Chain []*x509.Certificate
	// SelfMade is true when the certificate vouches for itself: the same holder of
	// the key, identity not vouched for by anybody else.
	SelfMade bool
	// At is the signer's claim; zero when they made none.
	At time.Time
	// Stamp is the proof of time; nil for none.
	Stamp *TimeStamp
}

// TimeStamp is the token of a time-stamp authority: the signature beside it
// existed at Time. Whether to trust the authority is the caller's decision.
type TimeStamp struct {
	Time        time.Time
	Certificate *x509.Certificate
	Chain       []*x509.Certificate // what the token carries
}

// MaxFile bounds what Open looks at, in bytes.
const MaxFile = 256 << 20

// Open reads a sealed record and checks everything that can be checked without
// deciding whom to trust. Any fault is an error, and then there is no Sealed:
// nothing of a changed record can be used by mistake.
func Open(data []byte) (*Sealed, error) {
	if len(data) > MaxFile {
		return nil, fmt.Errorf("%w: the file has %d MB, more than the %d that are read", ErrNotSealed, len(data)>>20, MaxFile>>20)
	}
	s, err := findSlot(data)
	if err != nil {
		return nil, err
	}
	base := data[:s.end]
	r := &Sealed{Unsigned: s.clear(base)}
	if err := r.readSignature(base, s); err != nil {
		return nil, err
	}
	// From here on the bytes are as somebody signed them; that somebody may still
	// be hostile.
	file, err := pdf.Read(base)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNotSealed, err)
	}
	form, err := readForm(file, s)
	if err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNotSealed, err)
	}
	if r.Attachments, err = readAttachments(file); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrNotSealed, err)
	}
	if len(data) == len(base) {
		return r, nil
	}
	if r.Customer, err = readCustomer(file, form, data); err != nil {
		return nil, fmt.Errorf("%w: %w", ErrAppended, err)
	}
	return r, nil
}

// readSignature checks the issuer's signature over base.
func (r *Sealed) readSignature(base []byte, s slot) error {
	if bytes.Equal(base, r.Unsigned) {
		return fmt.Errorf("%w: it was prepared but never signed", ErrNotSealed)
	}
	encoded, err := contents(base[s.from+1 : s.to-1])
	if err != nil {
		return fmt.Errorf("%w: %w", ErrAltered, err)
	}
	message, err := cms.Open(encoded, base[:s.from], base[s.to:])
	if err != nil {
		return fmt.Errorf("%w: %w", ErrAltered, err)
	}
	at, err := s.signedAt(base)
	signer := message.Certificates[0]
	if err != nil || at.Before(signer.NotBefore) || at.After(signer.NotAfter) {
		return fmt.Errorf("%w: the time of signing is outside the certificate's period", ErrNotSealed)
	}
	r.Signature, err = newSignature(message.Certificates, at, message.Stamp, message.Signature)
	if err != nil {
		return fmt.Errorf("%w: %w", ErrAltered, err)
	}
	return nil
}

// newSignature takes the signer's certificate first.
func newSignature(chain []*x509.Certificate, at time.Time, token, signature []byte) (Signature, error) {
	s := Signature{Certificate: chain[0], Chain: chain[1:], At: at, SelfMade: selfMade(chain[0])}
	if err := checkUsage(chain[0]); err != nil || token == nil {
		return s, err
	}
	stamp, err := cms.OpenStamp(token, signature)
	if err != nil {
		return s, err
	}
	s.Stamp = &TimeStamp{stamp.Time, stamp.Certificate, stamp.Certificates}
	return s, nil
}

func selfMade(c *x509.Certificate) bool {
	return bytes.Equal(c.RawIssuer, c.RawSubject) &&
		c.CheckSignature(c.SignatureAlgorithm, c.RawTBSCertificate, c.Signature) == nil
}

// contents decodes the hexadecimal signature of a record, which must be in lower
// case and padded with zeros, so that each signature has one spelling.
func contents(text []byte) ([]byte, error) {
	raw := make([]byte, len(text)/2)
	if _, err := hex.Decode(raw, text); err != nil {
		return nil, errors.New("the signature is not hexadecimal")
	}
	if !bytes.Equal(hex.AppendEncode(nil, raw), text) {
		return nil, errors.New("the signature is not spelled as it was")
	}
	encoded, padding, err := cms.Definite(raw)
	if err != nil {
		return nil, err
	}
	if !bytes.HasPrefix(raw, encoded) || len(bytes.Trim(padding, "\x00")) > 0 {
		return nil, errors.New("the signature is not padded as it was")
	}
	return encoded, nil
}
