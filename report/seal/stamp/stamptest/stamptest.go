// Package stamptest is a time-stamp authority for tests: OpenSSL's, behind HTTP (RFC 3161). Only tests use it.
package stamptest

import (
	"fmt"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

const config = `[req]
distinguished_name = dn
[dn]
[ext]
keyUsage = critical, digitalSignature
extendedKeyUsage = critical, timeStamping
[tsa]
default_tsa = tsa1
[tsa1]
serial = serial
default_policy = 1.2.3.4.1
digests = sha256
signer_digest = sha256
ess_cert_id_chain = no
ess_cert_id_alg = sha256
ordering = yes
tsa_name = yes
clock_precision_digits = 3
`

// authority keeps its keys and its last query in a folder.
type authority struct{ dir string }

// Authority makes the keys of an authority, "Invented Clock" under "Invented Root" (ca.pem), in the folder dir, and answers queries with them. It
// needs openssl.
func Authority(dir string) (http.Handler, error) {
	a := authority{dir}
	for name, text := range map[string]string{"ts.cnf": config, "serial": "01\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			return nil, err
		}
	}
	for _, line := range []string{
		"req -x509 -newkey rsa:2048 -nodes -keyout ca.key -out ca.pem -days 3650 -subj /CN=Invented_Root",
		"req -newkey rsa:2048 -nodes -keyout tsa.key -out tsa.csr -subj /CN=Invented_Clock -config ts.cnf",
		"x509 -req -in tsa.csr -CA ca.pem -CAkey ca.key -CAcreateserial -days 3650 -extfile ts.cnf -extensions ext -out tsa.pem",
	} {
		if err := a.openssl(line); err != nil {
			return nil, err
		}
	}
	return a, nil
}

func (a authority) openssl(line string) error {
	c := exec.Command("openssl", strings.Fields(line)...)
	c.Dir = a.dir
	if out, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("openssl %s: %w\n%s", line, err, out)
	}
	return nil
}

// ServeHTTP answers a query.
func (a authority) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	answer, err := a.answer(r)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Type", "application/timestamp-reply")
	w.Write(answer)
}

func (a authority) answer(r *http.Request) ([]byte, error) {
	if t := r.Header.Get("Content-Type"); t != "application/timestamp-query" {
		return nil, fmt.Errorf("a query of type %q", t)
	}
	query, err := io.ReadAll(r.Body)
	if err != nil {
		return nil, err
	}
	if err := os.WriteFile(filepath.Join(a.dir, "query"), query, 0o666); err != nil {
		return nil, err
	}
	if err := a.openssl("ts -reply -config ts.cnf -queryfile query -signer tsa.pem -inkey tsa.key -chain ca.pem -out answer"); err != nil {
		return nil, err
	}
	return os.ReadFile(filepath.Join(a.dir, "answer"))
}
