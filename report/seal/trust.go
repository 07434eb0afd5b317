package seal

import (
	"crypto/x509"
	"errors"
	"slices"
	"time"
)

// VouchedBy is the certificate of the list that stands for the signer, nil for none:
// the signer's own, or that of an authority from which the certificates in the
// record lead to the signer's. Periods count at the time of signing, so that a record
// stays vouched for when a certificate has run out; revocation is not looked up.
func (s *Signature) VouchedBy(list []*x509.Certificate) *x509.Certificate {
	return voucher(s.Certificate, s.Chain, s.At, list)
}

// VouchedBy is the certificate of the list that stands for the authority, nil for none.
func (s *TimeStamp) VouchedBy(list []*x509.Certificate) *x509.Certificate {
	return voucher(s.Certificate, s.Chain, s.Time, list)
}

func voucher(c *x509.Certificate, chain []*x509.Certificate, at time.Time, list []*x509.Certificate) *x509.Certificate {
	if slices.ContainsFunc(list, c.Equal) {
		return c
	}
	anchors, between := x509.NewCertPool(), x509.NewCertPool()
	for _, k := range list {
		anchors.AddCert(k)
	}
	for _, k := range chain {
		between.AddCert(k)
	}
	found, err := c.Verify(x509.VerifyOptions{Roots: anchors, Intermediates: between, CurrentTime: at, KeyUsages: []x509.ExtKeyUsage{x509.ExtKeyUsageAny}})
	if err != nil {
		return nil
	}
	return found[0][len(found[0])-1]
}

// checkUsage refuses a certificate that was issued for something other than
// signatures (RFC 5280, 4.2.1.3); one that does not say is for anything.
func checkUsage(c *x509.Certificate) error {
	if c.KeyUsage != 0 && c.KeyUsage&(x509.KeyUsageDigitalSignature|x509.KeyUsageContentCommitment) == 0 {
		return errors.New("the certificate was issued for other uses than signatures")
	}
	return nil
}
