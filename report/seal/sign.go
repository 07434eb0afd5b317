package seal

import (
	"bytes"
	"context"
	"encoding/hex"
	"errors"
	"fmt"
	"time"

	"dryhold/report/seal/internal/cms"
)

// A Stamper obtains an RFC 3161 time-stamp token for a SHA-256 digest.
type Stamper func(ctx context.Context, digest []byte) (token []byte, err error)

// Sign fills the empty place in what Archive returned. at is shown by viewers as
// the time of signing; it is the signer's claim and must lie in the certificate's
// period. stamp may be nil; otherwise its token is checked, and a record that
// cannot get one is not signed.
func Sign(ctx context.Context, archived []byte, key *Key, at time.Time, stamp Stamper) ([]byte, error) {
	s, err := findSlot(archived)
	if err != nil || s.end != len(archived) || !s.isClear(archived) {
		return nil, errors.New("only what Archive returned can be signed")
	}
	at = at.UTC().Truncate(time.Second)
	if c := key.Certificate(); at.Before(c.NotBefore) || at.After(c.NotAfter) {
		return nil, fmt.Errorf("the certificate is valid from %s to %s, not at %s",
			c.NotBefore.Format(time.RFC3339), c.NotAfter.Format(time.RFC3339), at.Format(time.RFC3339))
	}
	signed := bytes.Clone(archived)
	copy(signed[s.time:], at.Format(timeLayout))
	message, err := cms.Sign(key.signer, key.chain, signed[:s.from], signed[s.to:])
	if err != nil {
		return nil, err
	}
	if stamp != nil {
		if message.Stamp, err = stamp(ctx, message.StampDigest()); err != nil {
			return nil, fmt.Errorf("time-stamp: %w", err)
		}
		if _, err := cms.OpenStamp(message.Stamp, message.Signature); err != nil {
			return nil, err
		}
	}
	encoded, err := message.Encode()
	if err != nil {
		return nil, err
	}
	if len(encoded) > slotSize {
		return nil, fmt.Errorf("the signature takes %d bytes and there is room for %d: leave certificates out", len(encoded), slotSize)
	}
	hex.Encode(signed[s.from+1:], encoded)
	return signed, nil
}
