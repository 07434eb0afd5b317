// Package stamp asks a time-stamp authority over HTTP (RFC 3161, 3.4). It is the
// only network code of the project, and runs only when a user names an authority.
// All that leaves the machine is the digest of a signature.
package stamp

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/tls"
	"errors"
	"fmt"
	"io"
	"math/big"
	"net"
	"net/http"
	"net/url"
	"time"

	"dryhold/report/seal"
	"dryhold/report/seal/internal/cms"
)

const (
	// Timeout bounds one request, from the connection to the last byte.
	Timeout = 20 * time.Second
	// maxResponse bounds an answer; one with a long chain has 10 kB.
	maxResponse = 64 << 10
)

// HTTP returns a Stamper that asks the authority at an address.
func HTTP(address string) seal.Stamper {
	return func(ctx context.Context, digest []byte) ([]byte, error) {
		nonce, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 63))
		if err != nil {
			return nil, err
		}
		ctx, cancel := context.WithTimeout(ctx, Timeout)
		defer cancel()
		answer, err := post(ctx, address, cms.StampRequest(digest, nonce))
		if err != nil {
			return nil, err
		}
		return cms.StampToken(answer, nonce)
	}
}

// client asks nobody but the authority that was named.
var client = &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

func post(ctx context.Context, address string, body []byte) ([]byte, error) {
	request, err := http.NewRequestWithContext(ctx, http.MethodPost, address, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	request.Header.Set("Content-Type", "application/timestamp-query")
	response, err := client.Do(request)
	if err != nil {
		return nil, unreached(address, err)
	}
	defer response.Body.Close()
	if to := response.Header.Get("Location"); to != "" {
		return nil, fmt.Errorf("%s sends on to %.200q: give that address if it is to be asked", address, to)
	}
	if response.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("%s answered %s", address, response.Status)
	}
	answer, err := io.ReadAll(io.LimitReader(response.Body, maxResponse+1))
	if err != nil {
		return nil, unreached(address, err)
	}
	if len(answer) > maxResponse {
		return nil, fmt.Errorf("%s answered with more than %d kB", address, maxResponse>>10)
	}
	return answer, nil
}

// unreached tells why there is no answer in words for whoever gave the address; a
// reason that it does not know stays in the library's.
func unreached(address string, err error) error {
	var name *net.DNSError
	var timeout net.Error
	var dial *net.OpError
	var untrusted *tls.CertificateVerificationError
	var whole *url.Error
	reason := err.Error()
	switch {
	case errors.Is(err, context.Canceled):
		return err
	case errors.As(err, &name):
		reason = "no server of that name is found; the name is wrong, or this computer has no network"
	case errors.As(err, &timeout) && timeout.Timeout():
		reason = fmt.Sprintf("no answer within %s", Timeout)
	case errors.As(err, &dial) && dial.Op == "dial":
		reason = "nothing answers there"
	case errors.As(err, &untrusted):
		reason = "its certificate is none that this computer trusts"
	case errors.As(err, &whole):
		reason = whole.Err.Error()
	}
	return fmt.Errorf("%s: %s", address, reason)
}
