package cms

import (
	"bytes"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/x509"
	"math/big"
	"testing"
	"time"
)

func signer(t testing.TB, curve elliptic.Curve) (*ecdsa.PrivateKey, *x509.Certificate) {
	t.Helper()
	key, err := ecdsa.GenerateKey(curve, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	template := &x509.Certificate{SerialNumber: big.NewInt(7), NotAfter: time.Unix(4e9, 0)}
	raw, err := x509.CreateCertificate(rand.Reader, template, template, key.Public(), key)
	if err != nil {
		t.Fatal(err)
	}
	c, err := x509.ParseCertificate(raw)
	if err != nil {
		t.Fatal(err)
	}
	return key, c
}

func TestCurves(t *testing.T) {
	for _, curve := range []elliptic.Curve{elliptic.P256(), elliptic.P384(), elliptic.P521()} {
		key, c := signer(t, curve)
		m, err := Sign(key, []*x509.Certificate{c}, []byte("a"), []byte("b"))
		if err != nil {
			t.Fatal(err)
		}
		encoded, err := m.Encode()
		if err != nil {
			t.Fatal(err)
		}
		if _, err := Open(encoded, []byte("ab")); err != nil {
			t.Errorf("%s: %v", curve.Params().Name, err)
		}
		if _, err := Open(encoded, []byte("ac")); err == nil {
			t.Errorf("%s: other bytes were accepted", curve.Params().Name)
		}
	}
	key, _ := signer(t, elliptic.P224())
	if _, err := Sign(key, nil, nil); err == nil {
		t.Error("a curve without a digest was accepted")
	}
}

// Made by hand after the rules of ITU-T X.690 for indefinite lengths: an octet
// string in two parts inside a sequence.
func TestDefinite(t *testing.T) {
	in := []byte{0x30, 0x80, 0x24, 0x80, 0x04, 0x02, 0x0A, 0x3B, 0x04, 0x03, 0x5F, 0x29, 0x1C, 0, 0, 0x05, 0x00, 0, 0, 0xFF}
	want := []byte{0x30, 0x09, 0x04, 0x05, 0x0A, 0x3B, 0x5F, 0x29, 0x1C, 0x05, 0x00}
	got, rest, err := Definite(in)
	if err != nil || !bytes.Equal(got, want) || !bytes.Equal(rest, []byte{0xFF}) {
		t.Errorf("got % X, rest % X, %v", got, rest, err)
	}
	for _, bad := range [][]byte{nil, {0x30}, {0x30, 0x80}, {0x04, 0x80, 0, 0}, {0x30, 0x02, 0x05}, {0x30, 0x85, 0, 0, 0, 0, 0},
		{0x24, 0x02, 0x05, 0x00}, bytes.Repeat([]byte{0x30, 0x80}, 100)} {
		if got, _, err := Definite(bad); err == nil {
			t.Errorf("% X: got % X", bad, got)
		}
	}
}

func FuzzParse(f *testing.F) {
	key, c := signer(f, elliptic.P256())
	m, err := Sign(key, []*x509.Certificate{c}, []byte("a"))
	if err != nil {
		f.Fatal(err)
	}
	m.Stamp = []byte{0x30, 0}
	encoded, err := m.Encode()
	if err != nil {
		f.Fatal(err)
	}
	f.Add(encoded)
	f.Fuzz(func(t *testing.T, in []byte) {
		if der, _, err := Definite(in); err == nil {
			if s, err := Parse(der); err == nil {
				s.Verify([]byte("a"))
				OpenStamp(der, []byte("a"))
			}
			if m, err := Open(der, []byte("a")); err == nil {
				if again, _ := m.Encode(); !bytes.Equal(again, der) {
					t.Error("one signature has two spellings")
				}
			}
		}
		StampToken(in, big.NewInt(1))
	})
}
