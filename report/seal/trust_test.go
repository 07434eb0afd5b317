package seal_test

import (
	"context"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/rsa"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/pem"
	"math/big"
	"strings"
	"testing"

	"dryhold/report/seal"
)

// holder is a party of a chain of certificates.
type holder struct {
	key         *ecdsa.PrivateKey
	certificate *x509.Certificate
}

var serial int64

// issued is a certificate by the issuer, or by itself where there is none.
func issued(t *testing.T, name string, by *holder, edit func(c *x509.Certificate)) *holder {
	t.Helper()
	key, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	serial++
	c := &x509.Certificate{SerialNumber: big.NewInt(serial), Subject: pkix.Name{CommonName: name}, NotBefore: created.AddDate(-1, 0, 0),
		NotAfter: created.AddDate(1, 0, 0), BasicConstraintsValid: true}
	edit(c)
	h := &holder{key: key, certificate: c}
	if by == nil {
		by = h
	}
	raw, err := x509.CreateCertificate(rand.Reader, c, by.certificate, key.Public(), by.key)
	if err == nil {
		h.certificate, err = x509.ParseCertificate(raw)
	}
	if err != nil {
		t.Fatal(err)
	}
	return h
}

// file is a key file in PEM with the certificates that lead to the authority.
func (h *holder) file(t *testing.T, chain ...*holder) []byte {
	t.Helper()
	raw, err := x509.MarshalPKCS8PrivateKey(h.key)
	if err != nil {
		t.Fatal(err)
	}
	out := pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: raw})
	for _, c := range append([]*holder{h}, chain...) {
		out = append(out, seal.EncodeCertificate(c.certificate)...)
	}
	return out
}

func authorityOf(c *x509.Certificate) { c.IsCA, c.KeyUsage = true, x509.KeyUsageCertSign }
func signer(c *x509.Certificate)      { c.KeyUsage = x509.KeyUsageDigitalSignature }

// An authority vouches through the certificates that the record carries.
func TestVouchedBy(t *testing.T) {
	root := issued(t, "root", nil, authorityOf)
	middle := issued(t, "middle", root, authorityOf)
	firm := issued(t, "firm", middle, signer)
	stranger := issued(t, "root", nil, authorityOf) // of the same name
	notOne := issued(t, "no authority", nil, signer)
	byNone := issued(t, "firm", notOne, signer)
	late := issued(t, "root", nil, func(c *x509.Certificate) { authorityOf(c); c.NotBefore = created.AddDate(0, 6, 0) })
	byLate := issued(t, "firm", late, signer)
	for _, c := range []struct {
		name  string
		key   *holder
		chain []*holder
		trust *holder
		want  bool
	}{
		{"itself", firm, nil, firm, true},
		{"the one that issued it", firm, nil, middle, true},
		{"the root, through the record's chain", firm, []*holder{middle}, root, true},
		{"the root, with itself in the record", firm, []*holder{middle, root}, root, true},
		{"the root, without the link", firm, nil, root, false},
		{"another of the same name", firm, []*holder{middle}, stranger, false},
		{"one that is no authority", byNone, nil, notOne, false},
		{"an authority that was not there yet", byLate, nil, late, false},
	} {
		key, err := seal.DecodeKey(c.key.file(t, c.chain...), "")
		if err != nil {
			t.Fatal(err)
		}
		_, record := sealed(t, key, nil)
		got, err := seal.Open(record)
		if err != nil {
			t.Fatal(err)
		}
		if vouched := c.trust.certificate.Equal(got.Signature.VouchedBy([]*x509.Certificate{c.trust.certificate})); vouched != c.want {
			t.Errorf("%s: %v", c.name, vouched)
		}
		if got.Signature.VouchedBy(nil) != nil {
			t.Errorf("%s: vouched for by nobody", c.name)
		}
	}
}

// Keys that cannot sign a record, and why.
func TestKeyUnfit(t *testing.T) {
	fit := issued(t, "fit", nil, signer)
	other := issued(t, "other", nil, signer)
	weak, err := rsa.GenerateKey(rand.Reader, 1024)
	if err != nil {
		t.Skip("this build makes no weak keys")
	}
	raw, _ := x509.MarshalPKCS8PrivateKey(weak)
	for name, c := range map[string]struct {
		file []byte
		want string
	}{
		"for a server": {issued(t, "x", nil, func(c *x509.Certificate) { c.KeyUsage = x509.KeyUsageKeyEncipherment }).file(t), "other uses than signatures"},
		"an authority": {issued(t, "x", nil, authorityOf).file(t), "other uses than signatures"},
		"mixed up":     {append(fit.file(t)[:strings.Index(string(fit.file(t)), "-----BEGIN CERT")], seal.EncodeCertificate(other.certificate)...), "do not belong together"},
		"weak":         {append(pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: raw}), seal.EncodeCertificate(fit.certificate)...), "at least 2048"},
	} {
		if key, err := seal.DecodeKey(c.file, ""); err == nil || key != nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: got %v, expected %q", name, err, c.want)
		}
	}
	for name, edit := range map[string]func(c *x509.Certificate){
		"run out": func(c *x509.Certificate) { c.NotAfter = created.AddDate(0, -1, 0) },
		"not yet": func(c *x509.Certificate) { c.NotBefore = created.AddDate(0, 1, 0) },
	} {
		key, err := seal.DecodeKey(issued(t, "x", nil, edit).file(t), "")
		if err != nil {
			t.Fatal(err)
		}
		archived, err := seal.Archive(document(t))
		if err != nil {
			t.Fatal(err)
		}
		if record, err := seal.Sign(context.Background(), archived, key, signed, nil); err == nil || record != nil || !strings.Contains(err.Error(), "is valid from") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
