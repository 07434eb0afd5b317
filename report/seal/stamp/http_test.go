package stamp

import (
	"context"
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// TestUnreached has servers that cannot be asked: each is told in plain words.
func TestUnreached(t *testing.T) {
	untrusted := httptest.NewUnstartedServer(http.NotFoundHandler())
	untrusted.Config.ErrorLog = log.New(io.Discard, "", 0)
	untrusted.StartTLS()
	defer untrusted.Close()
	silent := httptest.NewServer(http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) {
		io.Copy(io.Discard, r.Body) // or the server does not notice that the client has gone
		<-r.Context().Done()
	}))
	defer silent.Close()
	gone := httptest.NewServer(http.NotFoundHandler())
	gone.Close()
	for address, want := range map[string]string{
		untrusted.URL:           "its certificate is none that this computer trusts",
		silent.URL:              "no answer within 20s",
		gone.URL:                "nothing answers there",
		"http://nobody.invalid": "no server of that name is found", // RFC 2606: .invalid is never given out
	} {
		ctx, cancel := context.WithTimeout(t.Context(), 300*time.Millisecond)
		defer cancel()
		if address != silent.URL {
			ctx = t.Context()
		}
		_, err := HTTP(address)(ctx, make([]byte, 32))
		if err == nil || !strings.HasPrefix(err.Error(), address+": "+want) {
			t.Errorf("%s: %v, want %q", address, err, want)
		}
	}
}
