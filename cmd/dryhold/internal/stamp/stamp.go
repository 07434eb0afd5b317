// Package stamp asks a time-stamp server for a token (RFC 3161 over HTTP). It is
// the only part of the program that uses the network, and only when an address was given.
package stamp

import (
	"bytes"
	"context"
	"crypto/rand"
	"encoding/asn1"
	"errors"
	"fmt"
	"io"
	"math/big"
	"net/http"
	"net/url"
	"time"

	"dryhold/report/seal"
)

var sha256 = asn1.ObjectIdentifier{2, 16, 840, 1, 101, 3, 4, 2, 1}

type algorithm struct{ Algorithm asn1.ObjectIdentifier }

// request is TimeStampReq of RFC 3161, 2.4.1.
type request struct {
	Version int
	Imprint struct {
		Algorithm algorithm
		Digest    []byte
	}
	Nonce   *big.Int
	CertReq bool
}

// response is TimeStampResp of RFC 3161, 2.4.2.
type response struct {
	Status struct {
		Status int
		Text   asn1.RawValue `asn1:"optional"`
	}
	Token asn1.RawValue `asn1:"optional"`
}

const (
	timeout   = 30 * time.Second
	maxAnswer = 1 << 20
)

// At returns a stamper that asks the server at address.
func At(address string) (seal.Stamper, error) {
	u, err := url.Parse(address)
	if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" {
		return nil, fmt.Errorf("%q is not the address of a time-stamp server; expected http:// or https://", address)
	}
	return func(ctx context.Context, digest []byte) ([]byte, error) {
		ctx, cancel := context.WithTimeout(ctx, timeout)
		defer cancel()
		return ask(ctx, address, digest)
	}, nil
}

func ask(ctx context.Context, address string, digest []byte) ([]byte, error) {
	nonce, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 63))
	if err != nil {
		return nil, err
	}
	q := request{Version: 1, Nonce: nonce, CertReq: true}
	q.Imprint.Algorithm.Algorithm, q.Imprint.Digest = sha256, digest
	body, err := asn1.Marshal(q)
	if err != nil {
		return nil, err
	}
	post, err := http.NewRequestWithContext(ctx, http.MethodPost, address, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	post.Header.Set("Content-Type", "application/timestamp-query")
	reply, err := http.DefaultClient.Do(post)
	if err != nil {
		return nil, err
	}
	defer reply.Body.Close()
	data, err := io.ReadAll(io.LimitReader(reply.Body, maxAnswer))
	if err != nil {
		return nil, err
	}
	if reply.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("the server answered %s", reply.Status)
	}
	return token(data)
}

func token(data []byte) ([]byte, error) {
	var r response
	if _, err := asn1.Unmarshal(data, &r); err != nil {
		return nil, fmt.Errorf("the server's answer is not a time-stamp: %w", err)
	}
	if r.Status.Status > 1 { // 0 granted, 1 granted with changes
		return nil, fmt.Errorf("the server refused: status %d", r.Status.Status)
	}
	if len(r.Token.FullBytes) == 0 {
		return nil, errors.New("the server's answer holds no token")
	}
	return r.Token.FullBytes, nil
}
