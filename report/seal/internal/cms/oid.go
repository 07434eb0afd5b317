package cms

import (
	"crypto"
	"crypto/x509"
	"encoding/asn1"
)

type oid = asn1.ObjectIdentifier

// Object identifiers of RFC 5652, 5035, 3161, 5754 and 4055.
var (
	oidData               = oid{1, 2, 840, 113549, 1, 7, 1}
	oidSignedData         = oid{1, 2, 840, 113549, 1, 7, 2}
	oidTSTInfo            = oid{1, 2, 840, 113549, 1, 9, 16, 1, 4}
	oidContentType        = oid{1, 2, 840, 113549, 1, 9, 3}
	oidMessageDigest      = oid{1, 2, 840, 113549, 1, 9, 4}
	oidSigningTime        = oid{1, 2, 840, 113549, 1, 9, 5}
	oidSigningCertificate = oid{1, 2, 840, 113549, 1, 9, 16, 2, 12}
	oidSigningCertV2      = oid{1, 2, 840, 113549, 1, 9, 16, 2, 47}
	oidTimeStamp          = oid{1, 2, 840, 113549, 1, 9, 16, 2, 14}
	oidRSA                = oid{1, 2, 840, 113549, 1, 1, 1}
	oidRSAPSS             = oid{1, 2, 840, 113549, 1, 1, 10}
)

var hashes = []struct {
	oid  oid
	hash crypto.Hash
}{
	{oid{1, 3, 14, 3, 2, 26}, crypto.SHA1}, // only to find a certificate, never in a signature
	{oid{2, 16, 840, 1, 101, 3, 4, 2, 1}, crypto.SHA256},
	{oid{2, 16, 840, 1, 101, 3, 4, 2, 2}, crypto.SHA384},
	{oid{2, 16, 840, 1, 101, 3, 4, 2, 3}, crypto.SHA512},
}

func hashOf(id oid) crypto.Hash {
	for _, h := range hashes {
		if h.oid.Equal(id) {
			return h.hash
		}
	}
	return 0
}

func oidOf(hash crypto.Hash) oid {
	for _, h := range hashes {
		if h.hash == hash {
			return h.oid
		}
	}
	return nil
}

// algorithms are those in which a signature may be made. Where the identifier
// names no digest, that of the signer's entry counts.
var algorithms = []struct {
	oid       oid
	hash      crypto.Hash
	algorithm x509.SignatureAlgorithm
}{
	{oid{1, 2, 840, 10045, 4, 3, 2}, crypto.SHA256, x509.ECDSAWithSHA256},
	{oid{1, 2, 840, 10045, 4, 3, 3}, crypto.SHA384, x509.ECDSAWithSHA384},
	{oid{1, 2, 840, 10045, 4, 3, 4}, crypto.SHA512, x509.ECDSAWithSHA512},
	{oid{1, 2, 840, 113549, 1, 1, 11}, crypto.SHA256, x509.SHA256WithRSA},
	{oid{1, 2, 840, 113549, 1, 1, 12}, crypto.SHA384, x509.SHA384WithRSA},
	{oid{1, 2, 840, 113549, 1, 1, 13}, crypto.SHA512, x509.SHA512WithRSA},
	{oidRSA, crypto.SHA256, x509.SHA256WithRSA},
	{oidRSA, crypto.SHA384, x509.SHA384WithRSA},
	{oidRSA, crypto.SHA512, x509.SHA512WithRSA},
	{oidRSAPSS, crypto.SHA256, x509.SHA256WithRSAPSS},
	{oidRSAPSS, crypto.SHA384, x509.SHA384WithRSAPSS},
	{oidRSAPSS, crypto.SHA512, x509.SHA512WithRSAPSS},
}

func algorithmOf(id oid, digest crypto.Hash) x509.SignatureAlgorithm {
	named := !id.Equal(oidRSA) && !id.Equal(oidRSAPSS)
	for _, a := range algorithms {
		if a.oid.Equal(id) && (named || a.hash == digest) {
			return a.algorithm
		}
	}
	return x509.UnknownSignatureAlgorithm
}

func oidOfAlgorithm(algorithm x509.SignatureAlgorithm) oid {
	for _, a := range algorithms {
		if a.algorithm == algorithm {
			return a.oid
		}
	}
	return nil
}
