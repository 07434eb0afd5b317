package main

import (
	"fmt"
	"io"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strings"

	"github.com/rogpeppe/go-internal/testscript"
)

// condition "without:PROGRAM" holds where an outside program is missing; in CI
// that is a failure.
func condition(cond string) (bool, error) {
	name, ok := strings.CutPrefix(cond, "without:")
	if !ok {
		return false, fmt.Errorf("there is no condition %q", cond)
	}
	_, err := exec.LookPath(name)
	if err != nil && os.Getenv("CI") != "" {
		return false, err
	}
	return err != nil, nil
}

const clockConfig = `[req]
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
ess_cert_id_alg = sha256
ordering = yes
tsa_name = yes
`

// clock starts a time-stamp server on the loopback, which has openssl ts answer
// (RFC 3161), and sets $CLOCK to its address.
func clock(ts *testscript.TestScript, _ bool, _ []string) {
	dir := ts.MkAbs("clock")
	ts.Check(os.Mkdir(dir, 0o777))
	write := func(name string, data []byte) { ts.Check(os.WriteFile(filepath.Join(dir, name), data, 0o666)) }
	openssl := func(line string) error {
		c := exec.Command("openssl", strings.Fields(line)...)
		c.Dir = dir
		if out, err := c.CombinedOutput(); err != nil {
			return fmt.Errorf("openssl %s: %w\n%s", line, err, out)
		}
		return nil
	}
	write("ts.cnf", []byte(clockConfig))
	write("serial", []byte("01\n"))
	ts.Check(openssl("req -x509 -newkey rsa:2048 -nodes -keyout ca.key -out ca.pem -days 3650 -subj /CN=Invented_Root"))
	ts.Check(openssl("req -newkey rsa:2048 -nodes -keyout tsa.key -out tsa.csr -subj /CN=Invented_Clock -config ts.cnf"))
	ts.Check(openssl("x509 -req -in tsa.csr -CA ca.pem -CAkey ca.key -CAcreateserial -days 3650 -extfile ts.cnf -extensions ext -out tsa.pem"))
	server := httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		query, err := io.ReadAll(r.Body)
		if err == nil {
			err = os.WriteFile(filepath.Join(dir, "query"), query, 0o666)
		}
		if err == nil {
			err = openssl("ts -reply -config ts.cnf -queryfile query -signer tsa.pem -inkey tsa.key -chain ca.pem -out answer")
		}
		answer, readErr := os.ReadFile(filepath.Join(dir, "answer"))
		if err != nil || readErr != nil {
			http.Error(w, "no answer", http.StatusInternalServerError)
			return
		}
		w.Header().Set("Content-Type", "application/timestamp-reply")
		w.Write(answer)
	}))
	ts.Defer(server.Close)
	ts.Setenv("CLOCK", server.URL)
}
