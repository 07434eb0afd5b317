package seal

import (
	"crypto"
	"crypto/ecdsa"
	"crypto/elliptic"
	"crypto/rand"
	"crypto/sha256"
	"crypto/x509"
	"crypto/x509/pkix"
	"encoding/hex"
	"encoding/pem"
	"errors"
	"fmt"
	"math/big"
	"time"
	"unicode/utf8"

	"dryhold/report/seal/internal/cms"

	"software.sslmate.com/src/go-pkcs12"
)

// Key is a private key with its certificate.
type Key struct {
	signer crypto.Signer
	chain  []*x509.Certificate // the signer's first
}

// maxName is the longest common name that RFC 5280 allows, in characters.
const maxName = 64

// NewKey makes a P-256 key and a certificate that vouches for itself: name is what
// viewers show as the signer, from and until are its period.
func NewKey(name string, from, until time.Time) (*Key, error) {
	if n := utf8.RuneCountInString(name); n == 0 || n > maxName {
		return nil, fmt.Errorf("the name has %d characters, expected 1 to %d", n, maxName)
	}
	if !from.Before(until) {
		return nil, errors.New("the certificate's period ends before it begins")
	}
	private, err := ecdsa.GenerateKey(elliptic.P256(), rand.Reader)
	if err != nil {
		return nil, err
	}
	serial, err := rand.Int(rand.Reader, new(big.Int).Lsh(big.NewInt(1), 127))
	if err != nil {
		return nil, err
	}
	// No extended key usage: RFC 9336 has one for documents, but much checking
	// software refuses what it does not know.
	template := &x509.Certificate{
		SerialNumber:          serial.Add(serial, big.NewInt(1)),
		Subject:               pkix.Name{CommonName: name},
		NotBefore:             from,
		NotAfter:              until,
		KeyUsage:              x509.KeyUsageDigitalSignature | x509.KeyUsageContentCommitment,
		BasicConstraintsValid: true,
	}
	raw, err := x509.CreateCertificate(rand.Reader, template, template, private.Public(), private)
	if err != nil {
		return nil, err
	}
	certificate, err := x509.ParseCertificate(raw)
	if err != nil {
		return nil, err
	}
	return newKey(private, certificate)
}

func newKey(private any, chain ...*x509.Certificate) (*Key, error) {
	signer, ok := private.(crypto.Signer)
	if !ok {
		return nil, fmt.Errorf("a key of the kind %T cannot sign", private)
	}
	if _, _, err := cms.Algorithms(signer.Public()); err != nil {
		return nil, err
	}
	public, ok := signer.Public().(interface{ Equal(crypto.PublicKey) bool })
	if !ok || !public.Equal(chain[0].PublicKey) {
		return nil, errors.New("the private key and the certificate do not belong together")
	}
	if err := checkUsage(chain[0]); err != nil {
		return nil, err
	}
	return &Key{signer, chain}, nil
}

// ErrPassphrase is returned by DecodeKey.
var ErrPassphrase = errors.New("the passphrase is missing or wrong")

// iterations of the key derivation of a protected key: what OWASP's password
// storage sheet asks of PBKDF2-HMAC-SHA256 (2023; from memory).
const iterations = 600_000

// Encode gives PEM (PKCS#8 and the certificates), or PKCS#12 where there is a
// passphrase: AES-256 under PBKDF2, a file that other software opens too.
func (k *Key) Encode(passphrase string) ([]byte, error) {
	if passphrase != "" {
		return pkcs12.Modern2023.WithIterations(iterations).Encode(k.signer, k.chain[0], k.chain[1:], passphrase)
	}
	raw, err := x509.MarshalPKCS8PrivateKey(k.signer)
	if err != nil {
		return nil, err
	}
	out := pem.EncodeToMemory(&pem.Block{Type: "PRIVATE KEY", Bytes: raw})
	for _, c := range k.chain {
		out = append(out, EncodeCertificate(c)...)
	}
	return out, nil
}

// DecodeKey reads what Encode wrote, or a PKCS#12 file from an authority. It
// returns ErrPassphrase when the passphrase is missing or wrong; one that is not
// needed is ignored.
func DecodeKey(data []byte, passphrase string) (*Key, error) {
	if block, _ := pem.Decode(data); block != nil {
		return decodePEM(data)
	}
	private, certificate, others, err := pkcs12.DecodeChain(data, passphrase)
	if errors.Is(err, pkcs12.ErrIncorrectPassword) || errors.Is(err, pkcs12.ErrDecryption) {
		return nil, ErrPassphrase
	}
	if err != nil {
		return nil, errors.New("it is neither PEM nor PKCS#12, or is damaged")
	}
	return newKey(private, append([]*x509.Certificate{certificate}, others...)...)
}

func decodePEM(data []byte) (*Key, error) {
	var private any
	var chain []*x509.Certificate
	for block, rest := pem.Decode(data); block != nil; block, rest = pem.Decode(rest) {
		var err error
		var certificate *x509.Certificate
		switch block.Type {
		case "PRIVATE KEY":
			private, err = x509.ParsePKCS8PrivateKey(block.Bytes)
		case "CERTIFICATE":
			certificate, err = x509.ParseCertificate(block.Bytes)
			chain = append(chain, certificate)
		case "EC PARAMETERS": // stands before keys that OpenSSL made; the key names its curve itself
		default:
			err = fmt.Errorf("a PEM block %q cannot be used: expected PRIVATE KEY or CERTIFICATE, or a PKCS#12 file", block.Type)
		}
		if err != nil {
			return nil, err
		}
	}
	if private == nil || len(chain) == 0 {
		return nil, errors.New("the PEM file needs both a private key and a certificate")
	}
	return newKey(private, chain...)
}

// Certificate is the signer's certificate.
func (k *Key) Certificate() *x509.Certificate { return k.chain[0] }

// Fingerprint is the SHA-256 of a certificate, as 64 lower case hex digits.
func Fingerprint(certificate *x509.Certificate) string {
	sum := sha256.Sum256(certificate.Raw)
	return hex.EncodeToString(sum[:])
}

// EncodeCertificate gives a certificate as PEM, to be handed out.
func EncodeCertificate(certificate *x509.Certificate) []byte {
	return pem.EncodeToMemory(&pem.Block{Type: "CERTIFICATE", Bytes: certificate.Raw})
}

// DecodeCertificates reads certificates: any number as PEM, or one as DER.
func DecodeCertificates(data []byte) ([]*x509.Certificate, error) {
	var list []*x509.Certificate
	for block, rest := pem.Decode(data); block != nil; block, rest = pem.Decode(rest) {
		if block.Type != "CERTIFICATE" {
			return nil, fmt.Errorf("a PEM block %q is not a certificate", block.Type)
		}
		certificate, err := x509.ParseCertificate(block.Bytes)
		if err != nil {
			return nil, err
		}
		list = append(list, certificate)
	}
	if len(list) > 0 {
		return list, nil
	}
	certificate, err := x509.ParseCertificate(data)
	if err != nil {
		return nil, errors.New("it holds no certificate, neither as PEM nor as DER")
	}
	return []*x509.Certificate{certificate}, nil
}
