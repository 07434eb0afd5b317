// Package seal turns a drawn document into a signed archival record and reads it back.
package seal

import (
	"context"
	"crypto/x509"
	"errors"
	"time"
)

// Archive turns a drawn document into an archival one (PDF/A-3b) with a place
// for the signature, still empty. The same document gives the same bytes.
func Archive(doc Document) ([]byte, error) { return nil, errors.New("not written yet") }

// Sign fills the empty place in what Archive returned. at is printed by viewers
// as the time of signing; it is the signer's claim. stamp may be nil.
func Sign(ctx context.Context, archived []byte, key *Key, at time.Time, stamp Stamper) ([]byte, error) {
	return nil, errors.New("not written yet")
}

// A Stamper obtains an RFC 3161 time-stamp token for a SHA-256 digest.
type Stamper func(ctx context.Context, digest []byte) (token []byte, err error)

// Open reads a sealed record and checks everything that can be checked without
// deciding whether to trust the signer. Any fault is an error, and then there is
// no Sealed: nothing of a changed record can be used by mistake.
func Open(data []byte) (*Sealed, error) { return nil, errors.New("not written yet") }

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
	// SelfMade is true when the certificate vouches for itself: the same holder of
	// the key, identity not vouched for by anybody else.
	SelfMade bool
	// At is the signer's claim. It is zero when they made none.
	At time.Time
	// Stamp is the proof of time; nil for none.
	Stamp *TimeStamp
}

// TimeStamp is a token of a time-stamp authority that existed at Time for the
// signature beside it. Whether the authority is to be trusted is the caller's decision.
type TimeStamp struct {
	Time        time.Time
	Certificate *x509.Certificate
}
