package seal

import (
	"crypto/x509"
	"errors"
	"slices"
)

// VouchedBy reports whether one of the certificates stands for the signer: it is the
// signer's own, or that of an authority from which the certificates in the record
// lead to the signer's. Periods count at the time of signing, so that a record
// stays vouched for when a certificate has run out; revocation is not looked up.
func (s *Signature) VouchedBy(list []*x509.Certificate) bool {
	if slices.ContainsFunc(list, s.Certificate.Equal) {
		return true
	}
	anchors, between := x509.NewCertPool(), x509.NewCertPool()
	for _, c := range list {
		anchors.AddCert(c)
	}
	for _, c := range s.Chain {
		between.AddCert(c)
	}
	at := s.At
	if s.Stamp != nil {
		at = s.Stamp.Time
	}
	_, err := s.Certificate.Verify(x509.VerifyOptions{Roots: anchors, Intermediates: between, CurrentTime: at,
		KeyUsages: []x509.ExtKeyUsage{x509.ExtKeyUsageAny}})
	return err == nil
}

// checkUsage refuses a certificate that was issued for something other than
// signatures (RFC 5280, 4.2.1.3); one that does not say is for anything.
func checkUsage(c *x509.Certificate) error {
	if c.KeyUsage != 0 && c.KeyUsage&(x509.KeyUsageDigitalSignature|x509.KeyUsageContentCommitment) == 0 {
		return errors.New("the certificate was issued for other uses than signatures")
	}
	return nil
}
