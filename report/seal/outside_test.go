package seal_test

import (
	"bytes"
	"encoding/hex"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"dryhold/report/seal"
)

// need skips a test whose outside programs are missing; in CI that is a failure.
func need(t *testing.T, programs ...string) {
	t.Helper()
	for _, p := range programs {
		_, err := exec.LookPath(p)
		if strings.HasPrefix(p, "/") {
			_, err = os.Stat(p)
		}
		switch {
		case err == nil:
		case os.Getenv("CI") == "true":
			t.Fatalf("%s is missing", p)
		default:
			t.Skipf("%s is missing", p)
		}
	}
}

// run returns what a program printed; it must succeed.
func run(t *testing.T, dir, program string, args ...string) string {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir = dir
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s %s: %v\n%s", program, strings.Join(args, " "), err, out)
	}
	return string(out)
}

func write(t *testing.T, dir, name string, data []byte) {
	t.Helper()
	if err := os.WriteFile(filepath.Join(dir, name), data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func contains(t *testing.T, text string, parts ...string) {
	t.Helper()
	for _, p := range parts {
		if !strings.Contains(text, p) {
			t.Errorf("expected %q in\n%s", p, text)
		}
	}
}

// split takes a record's signature and the bytes that it covers, by the byte range
// as any program would read it.
func split(t *testing.T, record []byte) (signature, covered []byte) {
	t.Helper()
	m := regexp.MustCompile(`/ByteRange \[0 (\d+) +(\d+) +(\d+) *\]`).FindSubmatch(record)
	var from, to, rest int
	if _, err := fmt.Sscan(string(bytes.Join(m[1:], []byte(" "))), &from, &to, &rest); err != nil || to+rest != len(record) {
		t.Fatalf("byte range %q of %d bytes: %v", m[0], len(record), err)
	}
	raw, err := hex.DecodeString(string(record[from+1 : to-1]))
	if err != nil {
		t.Fatal(err)
	}
	return raw, slices.Concat(record[:from], record[to:])
}

// Poppler's pdfsig (22.12).
func TestPDFSig(t *testing.T) {
	need(t, "pdfsig")
	_, record := sealed(t, newKey(t), nil)
	dir := t.TempDir()
	write(t, dir, "record.pdf", record)
	contains(t, run(t, dir, "pdfsig", "record.pdf"),
		"ETSI.CAdES.detached", "Total document signed", "Signature is Valid", "Apr 09 2031 10:05:07", "SHA-256",
		"Common Name: Example Cooling (invented)", "Field Name: customer\n  The signature form field is not signed")
}

// OpenSSL's cms command, with its check of the CAdES attributes.
func TestOpenSSLCMS(t *testing.T) {
	need(t, "openssl")
	for name, key := range map[string]*seal.Key{"own P-256": newKey(t), "RSA from an authority": authorityKey(t)} {
		t.Run(name, func(t *testing.T) {
			_, record := sealed(t, key, nil)
			dir := t.TempDir()
			signature, covered := split(t, record)
			write(t, dir, "signature", signature)
			write(t, dir, "covered", covered)
			write(t, dir, "signer.pem", seal.EncodeCertificate(key.Certificate()))
			verify := []string{"cms", "-verify", "-cades", "-binary", "-inform", "DER", "-in", "signature", "-content", "covered",
				"-CAfile", "signer.pem", "-partial_chain", "-purpose", "any", "-attime", fmt.Sprint(signed.Unix()), "-out", "out"}
			contains(t, run(t, dir, "openssl", verify...), "CAdES Verification successful")
			covered[1000] ^= 1
			write(t, dir, "covered", covered)
			cmd := exec.Command("openssl", verify...)
			cmd.Dir = dir
			if out, err := cmd.CombinedOutput(); err == nil {
				t.Errorf("a changed byte went unnoticed:\n%s", out)
			}
			if got, err := seal.Open(record); err != nil || got.Signature.SelfMade != (name == "own P-256") {
				t.Errorf("Open: %v", err)
			}
		})
	}
}

// authorityKey is an RSA key in a PKCS#12 file with the authority's certificate,
// as OpenSSL writes it.
func authorityKey(t *testing.T) *seal.Key {
	t.Helper()
	need(t, "openssl")
	dir := t.TempDir()
	write(t, dir, "ext", []byte("keyUsage=digitalSignature\n"))
	for _, line := range []string{
		"req -x509 -newkey rsa:2048 -nodes -keyout ca.key -out ca.pem -days 3650 -subj /CN=Invented_Authority",
		"req -newkey rsa:2048 -nodes -keyout leaf.key -out leaf.csr -subj /CN=Invented_Contractor",
		"x509 -req -in leaf.csr -CA ca.pem -CAkey ca.key -CAcreateserial -days 3650 -extfile ext -out leaf.pem",
		"pkcs12 -export -in leaf.pem -inkey leaf.key -certfile ca.pem -passout pass:open -out leaf.p12",
	} {
		run(t, dir, "openssl", strings.Fields(line)...)
	}
	data, err := os.ReadFile(filepath.Join(dir, "leaf.p12"))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := seal.DecodeKey(data, "wrong"); err != seal.ErrPassphrase {
		t.Errorf("wrong passphrase: got %v", err)
	}
	key, err := seal.DecodeKey(data, "open")
	if err != nil {
		t.Fatal(err)
	}
	return key
}

// The customer signs with Poppler and NSS; then somebody adds a byte.
func TestCustomerSigns(t *testing.T) {
	need(t, "pdfsig", "certutil")
	key := newKey(t)
	archived, record := sealed(t, key, nil)
	dir := t.TempDir()
	write(t, dir, "record.pdf", record)
	write(t, dir, "noise", []byte("not a secret: sixty-four bytes of noise for a key made in a test."))
	run(t, dir, "certutil", "-N", "-d", "sql:.", "--empty-password")
	run(t, dir, "certutil", "-S", "-d", "sql:.", "-n", "customer", "-s", "CN=Invented Customer", "-x", "-t", "C,C,C",
		"-m", "1", "-z", "noise", "-k", "rsa", "-g", "2048", "-Z", "SHA256")
	run(t, dir, "pdfsig", "-nssdir", "sql:.", "-nick", "customer", "-sign", "customer", "record.pdf", "both.pdf")
	report := run(t, dir, "pdfsig", "-nssdir", "sql:.", "both.pdf")
	if n := strings.Count(report, "Signature is Valid"); n != 2 {
		t.Errorf("%d valid signatures, expected 2:\n%s", n, report)
	}
	both, err := os.ReadFile(filepath.Join(dir, "both.pdf"))
	if err != nil {
		t.Fatal(err)
	}
	got, err := seal.Open(both)
	if err != nil {
		t.Fatal(err)
	}
	if got.Customer == nil || got.Customer.Certificate.Subject.CommonName != "Invented Customer" || time.Since(got.Customer.At) > time.Hour {
		t.Errorf("customer %+v", got.Customer)
	}
	if !got.Signature.Certificate.Equal(key.Certificate()) || !bytes.Equal(got.Unsigned, archived) {
		t.Error("the issuer's signature was not read as before")
	}
	for _, added := range []string{" ", "%\n", "1 0 obj\nnull\nendobj\n", string(both[len(record):])} {
		if _, err := seal.Open(append(bytes.Clone(both), added...)); err == nil {
			t.Errorf("%.20q was added after both signatures, and nothing was said", added)
		}
	}
}

func TestQPDF(t *testing.T) {
	need(t, "qpdf")
	_, record := sealed(t, newKey(t), nil)
	dir := t.TempDir()
	for name, data := range map[string][]byte{"record.pdf": record, "unsigned.pdf": unsigned(t)} {
		write(t, dir, name, data)
		contains(t, run(t, dir, "qpdf", "--check", name), "No syntax or stream encoding errors found")
	}
}

// PDFBox Preflight 2.0 knows PDF/A-1b only. What it may say of a PDF/A-3b file is
// what ISO 19005-3 permits and ISO 19005-1 does not.
func TestPreflight(t *testing.T) {
	permitted := []string{
		"1.4.7 : Trailer Syntax error, EmbeddedFile entry is present in the Names dictionary",
		"1.2.9 : Body Syntax error, EmbeddedFile entry is present in a FileSpecification dictionary",
		"4.1.2 : Transparency error,",
		"2.2.1 : Invalid graphics transparency,",
		"7.11.2 : Error on MetaData, part must be 1",
	}
	jars := []string{"preflight", "pdfbox2", "fontbox2", "xmpbox", "commons-logging", "javax.activation", "jaxb-api"}
	for i, j := range jars {
		jars[i] = "/usr/share/java/" + j + ".jar"
	}
	need(t, append(jars, "java")...)
	_, record := sealed(t, newKey(t), nil)
	dir := t.TempDir()
	for name, data := range map[string][]byte{"record.pdf": record, "unsigned.pdf": unsigned(t)} {
		write(t, dir, name, data)
		cmd := exec.Command("java", "-cp", strings.Join(jars, ":"), "org.apache.pdfbox.preflight.Validator_A1b", name)
		cmd.Dir = dir
		out, _ := cmd.CombinedOutput() // its exit code says that this is no PDF/A-1
		contains(t, string(out), "not a valid PDF/A-1b file", permitted[4])
		for _, line := range strings.Split(strings.TrimSpace(string(out)), "\n")[1:] {
			if line != "" && !slices.ContainsFunc(permitted, func(p string) bool { return strings.HasPrefix(line, p) }) {
				t.Errorf("Preflight: %s: %s", name, line)
			}
		}
	}
}

// unsigned is a document of which no record is made.
func unsigned(t *testing.T) []byte {
	t.Helper()
	doc := document(t)
	doc.Attachments, doc.CustomerField = nil, nil
	data, err := seal.Unsigned(doc)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// MuPDF, Poppler and Ghostscript draw every page and have nothing to say.
func TestRenderers(t *testing.T) {
	need(t, "mutool", "pdftoppm", "gs")
	_, record := sealed(t, newKey(t), nil)
	dir := t.TempDir()
	write(t, dir, "record.pdf", record)
	// -N: Debian builds MuPDF without colour management, and it says so each time.
	out := run(t, dir, "mutool", "draw", "-N", "-o", "mupdf-%d.png", "record.pdf")
	if warnings := regexp.MustCompile(`(?m)^page record\.pdf \d+$\n?`).ReplaceAllString(out, ""); warnings != "" {
		t.Errorf("MuPDF: %s", warnings)
	}
	if out := run(t, dir, "pdftoppm", "-r", "50", "-png", "record.pdf", "poppler"); out != "" {
		t.Errorf("Poppler: %s", out)
	}
	if out := run(t, dir, "gs", "-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=png16m", "-r50", "-o", "gs-%d.png", "record.pdf"); out != "" {
		t.Errorf("Ghostscript: %s", out)
	}
	pictures, _ := filepath.Glob(filepath.Join(dir, "*.png"))
	if len(pictures) != 6 {
		t.Errorf("%d pictures, expected 2 pages from 3 programs", len(pictures))
	}
}

// Poppler's pdfinfo reads tags, title and dates; pdfdetach the attachments.
func TestPoppler(t *testing.T) {
	need(t, "pdfinfo", "pdfdetach")
	_, record := sealed(t, newKey(t), nil)
	dir := t.TempDir()
	write(t, dir, "record.pdf", record)
	contains(t, run(t, dir, "pdfinfo", "record.pdf"), "Title:           Evacuation record Ü 17", "Tagged:          yes",
		"Metadata Stream: yes", "Apr  9 10:00:00 2031", "PDF version:     1.7")
	contains(t, run(t, dir, "pdfinfo", "-struct-text", "record.pdf"), `  H1 (block)
    "Evacuation record"
  P (block)
    "Lowest reading 48 µm; Δ ≤ 3 µm"
    "Second page"
  Table (block)
    TR
      TH:
         /Scope /Column
        "Time"
      TD:
         /ColSpan 2
        "10:42"
  Figure`)
	contains(t, run(t, dir, "pdfinfo", "-struct", "record.pdf"), "Figure")
	contains(t, run(t, dir, "pdfdetach", "-list", "record.pdf"), "2 embedded files", "hold µ.csv", "results.json")
	run(t, dir, "pdfdetach", "-save", "2", "-o", "got.csv", "record.pdf")
	got, _ := os.ReadFile(filepath.Join(dir, "got.csv"))
	if !bytes.Equal(got, document(t).Attachments[1].Data) && !bytes.Equal(got, document(t).Attachments[0].Data) {
		t.Error("the attachment came out changed")
	}
}
