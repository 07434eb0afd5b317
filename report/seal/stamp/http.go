// Package stamp asks a time-stamp authority over HTTP (RFC 3161, 3.4). It is the
// only network code of the project, and runs only when a user names an authority.
// All that leaves the machine is the digest of a signature.
package stamp

import (
	"bytes"
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"math/big"
	"net/http"
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

// HTTP returns a Stamper that asks the authority at url.
func HTTP(url string) seal.Stamper {
	return func(ctx context.Context, digest []byte) ([]byte, error) {
		nonce, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 63))
		if err != nil {
			return nil, err
		}
		ctx, cancel := context.WithTimeout(ctx, Timeout)
		defer cancel()
		answer, err := post(ctx, url, cms.StampRequest(digest, nonce))
		if err != nil {
			return nil, err
		}
		return cms.StampToken(answer, nonce)
	}
}

// client asks nobody but the authority that was named.
var client = &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}

func post(ctx context.Context, url string, body []byte) ([]byte, error) {
	request, err := http.NewRequestWithContext(ctx, http.MethodPost, url, bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	request.Header.Set("Content-Type", "application/timestamp-query")
	response, err := client.Do(request)
	if err != nil {
		return nil, err
	}
	defer response.Body.Close()
	if to := response.Header.Get("Location"); to != "" {
		return nil, fmt.Errorf("%s sends on to %.200q: give that address if it is to be asked", url, to)
	}
	if response.StatusCode != http.StatusOK {
		return nil, fmt.Errorf("%s answered %s", url, response.Status)
	}
	answer, err := io.ReadAll(io.LimitReader(response.Body, maxResponse+1))
	if err != nil {
		return nil, err
	}
	if len(answer) > maxResponse {
		return nil, fmt.Errorf("%s answered with more than %d kB", url, maxResponse>>10)
	}
	return answer, nil
}
