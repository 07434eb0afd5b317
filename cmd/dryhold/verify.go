package main

import (
	"bytes"
	"cmp"
	"crypto/x509"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"dryhold/cmd/dryhold/internal/issue"
	"dryhold/cmd/dryhold/internal/keys"
	"dryhold/report/seal"
)

func (a *app) verifyCommand() *cobra.Command {
	var trust []string
	var asJSON bool
	c := &cobra.Command{
		Use:   "verify RECORD.pdf...",
		Short: "check signed records and compute them again from what they carry",
		Long: "Checks the signature over the whole file, then works the job out again from the attached\n" +
			"job file and readings and compares every number and page. Of several records of one job it\n" +
			"also follows which one amends which. With --trust, a record signed by anybody else fails.",
		Example: "  dryhold verify records/*.pdf\n  dryhold verify --trust example-cooling.pem record.pdf",
		Args:    args(cobra.MinimumNArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			v, err := a.verifier(trust)
			if err != nil {
				return err
			}
			return v.all(list, asJSON)
		},
	}
	c.Flags().StringArrayVar(&trust, "trust", nil, "certificate of a signer to be accepted; may be given several times")
	c.Flags().BoolVar(&asJSON, "json", false, "print the findings as JSON")
	return c
}

type verifier struct {
	app     *app
	trusted []*x509.Certificate // given by --trust
	known   []*x509.Certificate
}

func (a *app) verifier(trust []string) (*verifier, error) {
	v := &verifier{app: a}
	for _, path := range trust {
		list, err := readCertificates(path)
		if err != nil {
			return nil, err
		}
		v.trusted = append(v.trusted, list...)
	}
	var err error
	v.known, err = keys.Known()
	return v, err
}

func (v *verifier) all(paths []string, asJSON bool) error {
	list := make([]*finding, len(paths))
	for i, path := range paths {
		list[i] = v.guarded(path)
	}
	chain(list)
	for _, f := range list {
		if !f.Verified {
			v.app.worse(codeKey)
			if asJSON || v.app.quiet {
				fmt.Fprintf(v.app.err, "dryhold: error: %s: %s\n", f.File, f.Reason)
				v.app.hint(f.advice)
			}
		}
	}
	if asJSON {
		return v.app.printJSON(list)
	}
	if v.app.quiet {
		return nil
	}
	for i, f := range list {
		if i > 0 {
			fmt.Fprintln(v.app.out)
		}
		f.print(v.app.out)
	}
	return nil
}

// guarded keeps a hostile file from ending the run.
func (v *verifier) guarded(path string) (f *finding) {
	defer func() {
		if p := recover(); p != nil {
			f = &finding{File: path, Reason: fmt.Sprintf("internal: %v", p)}
		}
	}()
	f = &finding{File: path}
	if err := v.one(f); err != nil {
		f.Reason, f.advice = err.Error(), cmp.Or(f.advice, advice(err))
		return f
	}
	f.Verified = true
	return f
}

func (v *verifier) one(f *finding) error {
	sealed, err := openRecord(f.File)
	if err != nil {
		return err
	}
	f.signed(sealed)
	for _, a := range sealed.Attachments {
		f.Attachments = append(f.Attachments, a.Name)
	}
	trusted := v.identity(f, sealed)
	c := issue.Recompute(sealed, software(), audienceOf(f.File))
	f.computed(c)
	if c.Err != nil && c.Record != nil && !c.SameVersion {
		f.advice = "the signature holds: check the record with version " + f.Version + " too, and ask the firm that issued it"
	}
	if c.Err != nil {
		return c.Err
	}
	return trusted
}

// unread is trouble with the file itself.
type unread struct{ error }

func (u unread) Unwrap() error { return u.error }

// advice is what to do about a record that cannot be opened or does not verify.
func advice(err error) string {
	switch {
	case errors.Is(err, errFolder):
		return "give the records in it, for example " + filepath.Join("records", "*.pdf")
	case errors.As(err, &unread{}):
		return "look at the name and the folder"
	case errors.Is(err, seal.ErrNotSealed):
		return "give a record's PDF as dryhold make wrote it; one that was printed anew or saved by other software carries nothing to check"
	case errors.Is(err, errOther):
		return "ask the firm for its certificate (dryhold key export), and compare the fingerprints"
	}
	return "rely on nothing in this file, keep it as it is, and ask whoever issued it for the record again"
}

func openRecord(path string) (*seal.Sealed, error) {
	data, err := readLimited(path, seal.MaxFile)
	var named *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, unread{errors.New("there is no such file")}
	case errors.As(err, &named):
		return nil, unread{named.Err} // whoever reports it says the path
	case err != nil:
		return nil, unread{err}
	}
	if err != nil {
		return nil, err
	}
	return seal.Open(data)
}

var errFolder = errors.New("it is a folder")

func readLimited(path string, limit int64) ([]byte, error) {
	info, err := os.Stat(path) // before it is opened: opening a pipe waits for ever
	if err != nil {
		return nil, err
	}
	if info.IsDir() {
		return nil, errFolder
	}
	if !info.Mode().IsRegular() {
		return nil, errors.New("it is no ordinary file")
	}
	if info.Size() > limit {
		return nil, fmt.Errorf("it has %d MB, more than the %d that are read", info.Size()>>20, limit>>20)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	var b bytes.Buffer
	b.Grow(int(info.Size()) + bytes.MinRead)
	_, err = b.ReadFrom(io.LimitReader(f, limit))
	return b.Bytes(), err
}

// audienceOf is a guess by the file's name, which anybody may change.
func audienceOf(path string) string {
	name := strings.TrimSuffix(strings.TrimSuffix(filepath.Base(path), ".pdf"), ".withheld")
	return name[strings.LastIndex(name, ".")+1:]
}

var errOther = errors.New("signed by somebody else than --trust allows")

// identity says what is known of the signer, and refuses another one than --trust allows.
func (v *verifier) identity(f *finding, s *seal.Sealed) error {
	own := s.Signature.Certificate
	if s.Signature.At.After(v.app.now().Add(24 * time.Hour)) {
		f.Doubt = "the time of signing is still to come by this computer's clock"
	}
	if c := s.Customer; c != nil && c.VouchedBy(slices.Concat(v.trusted, v.known)) == nil {
		f.Customer += "; nobody here vouches for the name"
	}
	if t := s.Signature.Stamp; t != nil && t.VouchedBy(slices.Concat(v.trusted, v.known)) == nil {
		f.Timestamp += "; nobody here vouches for that server"
	}
	accepted, known := s.Signature.VouchedBy(v.trusted), s.Signature.VouchedBy(v.known)
	by := func(c *x509.Certificate) string {
		if c.Equal(own) {
			return ""
		}
		return "vouched for by " + c.Subject.CommonName + ", "
	}
	switch {
	case accepted != nil:
		f.Identity = by(accepted) + "accepted by --trust"
	case known != nil:
		f.Identity = by(known) + "a known signer on this computer"
	case s.Signature.SelfMade:
		f.Identity = "self-made key: whoever holds it signed; nobody vouches for the name"
	default:
		f.Identity = fmt.Sprintf("certificate issued by %s, which is not among the known signers", own.Issuer.CommonName)
	}
	namesake := func(c *x509.Certificate) bool { return c.Subject.CommonName == own.Subject.CommonName }
	if accepted == nil && known == nil && slices.ContainsFunc(slices.Concat(v.trusted, v.known), namesake) {
		f.Identity += "; a known signer of that name has another key: ask them"
	}
	if len(v.trusted) > 0 && accepted == nil {
		return errOther
	}
	return nil
}
