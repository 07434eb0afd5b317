package seal_test

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"net/http/httptest"
	"os/exec"
	"strings"
	"testing"
	"time"

	"dryhold/report/seal"
	"dryhold/report/seal/stamp"
	"dryhold/report/seal/stamp/stamptest"
)

// authority is a time-stamp server on the loopback that has openssl ts answer.
func authority(t *testing.T) *httptest.Server {
	t.Helper()
	need(t, "openssl")
	a, err := stamptest.Authority(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewServer(a)
	t.Cleanup(server.Close)
	return server
}

// PAdES B-T: a time-stamp of OpenSSL's.
func TestTimeStamp(t *testing.T) {
	server := authority(t)
	archived, record := sealed(t, newKey(t), stamp.HTTP(server.URL))
	got, err := seal.Open(record)
	if err != nil {
		t.Fatal(err)
	}
	s := got.Signature.Stamp
	if s == nil || time.Since(s.Time) > time.Minute || time.Until(s.Time) > time.Second || s.Certificate.Subject.CommonName != "Invented_Clock" {
		t.Errorf("stamp %+v", s)
	}
	if !bytes.Equal(got.Unsigned, archived) {
		t.Error("the bytes before signing do not come back")
	}
	everyChangeShows(t, record, 1000, 0)

	if _, err := exec.LookPath("pdfsig"); err == nil {
		dir := t.TempDir()
		write(t, dir, "record.pdf", record)
		contains(t, run(t, dir, "pdfsig", "record.pdf"), "Total document signed", "Signature is Valid")
	}
}

// A server that does not answer as it should leaves no record.
func TestTimeStampRefused(t *testing.T) {
	archived, err := seal.Archive(document(t))
	if err != nil {
		t.Fatal(err)
	}
	granted := []byte{0x30, 0x05, 0x30, 0x03, 0x02, 0x01, 0x00}
	refused := []byte{0x30, 0x05, 0x30, 0x03, 0x02, 0x01, 0x02}
	for name, body := range map[string][]byte{"junk": []byte("<html>not found</html>"), "nothing": nil, "too much": make([]byte, 1<<20), "no token": granted, "refusal": refused} {
		server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { w.Write(body) }))
		if record, err := seal.Sign(context.Background(), archived, newKey(t), signed, stamp.HTTP(server.URL)); err == nil || record != nil {
			t.Errorf("%s: signed all the same", name)
		} else if name == "refusal" {
			contains(t, err.Error(), "refused, status 2")
		}
		server.Close()
	}
}

// An answer to another request, one that comes too late, and one that sends elsewhere.
func TestTimeStampMisused(t *testing.T) {
	archived, err := seal.Archive(document(t))
	if err != nil {
		t.Fatal(err)
	}
	sign := func(ctx context.Context, url, want string) {
		t.Helper()
		record, err := seal.Sign(ctx, archived, newKey(t), signed, stamp.HTTP(url))
		if err == nil || record != nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, expected %q", err, want)
		}
	}
	done := make(chan struct{})
	silent := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { <-done }))
	defer silent.Close()
	defer close(done)
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	sign(ctx, silent.URL, "no answer within")

	asked := 0
	other := httptest.NewServer(http.HandlerFunc(func(http.ResponseWriter, *http.Request) { asked++ }))
	defer other.Close()
	moved := httptest.NewServer(http.RedirectHandler(other.URL, http.StatusTemporaryRedirect))
	defer moved.Close()
	sign(context.Background(), moved.URL, "sends on to")
	if asked > 0 {
		t.Error("a server was asked that nobody named")
	}

	real := authority(t)
	var first []byte
	replay := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		if first == nil {
			answer, err := http.Post(real.URL, r.Header.Get("Content-Type"), r.Body)
			if err == nil {
				first, _ = io.ReadAll(answer.Body)
				answer.Body.Close()
			}
		}
		w.Write(first)
	}))
	defer replay.Close()
	if _, err := seal.Sign(context.Background(), archived, newKey(t), signed, stamp.HTTP(replay.URL)); err != nil {
		t.Errorf("the first answer: %v", err)
	}
	sign(context.Background(), replay.URL, "nonce differs")
}
