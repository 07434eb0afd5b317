package main

import (
	"bytes"
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

	"dryhold/analysis/record"
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

// finding is what verify says of one record.
type finding struct {
	File        string   `json:"file"`
	Verified    bool     `json:"verified"`
	Reason      string   `json:"reason,omitempty"` // why not
	Number      string   `json:"number,omitempty"`
	Revision    int      `json:"revision,omitempty"`
	Digest      string   `json:"digest,omitempty"`
	Amends      string   `json:"amends,omitempty"`
	Signer      string   `json:"signer,omitempty"`
	Fingerprint string   `json:"fingerprint,omitempty"`
	Identity    string   `json:"identity,omitempty"`
	SignedAt    string   `json:"signed_at,omitempty"`
	Timestamp   string   `json:"timestamp,omitempty"`
	Customer    string   `json:"customer,omitempty"`
	Attachments []string `json:"attachments,omitempty"`
	Version     string   `json:"version,omitempty"`
	Build       string   `json:"build,omitempty"`
	Recomputed  string   `json:"recomputed,omitempty"`
	Differences any      `json:"differences,omitempty"`
	Decision    string   `json:"decision,omitempty"`
	Cause       string   `json:"cause,omitempty"`
	Chain       string   `json:"chain,omitempty"`

	differences []record.Difference

	record *record.Record // what it carries; nil where its seal does not hold
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
		f.Reason = err.Error()
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
	if c.Err != nil {
		return c.Err
	}
	return trusted
}

func openRecord(path string) (*seal.Sealed, error) {
	data, err := readLimited(path, seal.MaxFile)
	var named *fs.PathError
	if errors.As(err, &named) {
		return nil, named.Err // whoever reports it says the path
	}
	if err != nil {
		return nil, err
	}
	return seal.Open(data)
}

func readLimited(path string, limit int64) ([]byte, error) {
	info, err := os.Stat(path) // before it is opened: opening a pipe waits for ever
	if err != nil {
		return nil, err
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s is no ordinary file", path)
	}
	if info.Size() > limit {
		return nil, fmt.Errorf("%s has %d MB, more than the %d that are read", path, info.Size()>>20, limit>>20)
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

func (f *finding) signed(s *seal.Sealed) {
	f.Signer, f.Fingerprint = s.Signature.Certificate.Subject.CommonName, seal.Fingerprint(s.Signature.Certificate)
	f.SignedAt = s.Signature.At.UTC().Format(time.RFC3339)
	if t := s.Signature.Stamp; t != nil {
		f.Timestamp = fmt.Sprintf("%s by %s", t.Time.UTC().Format(time.RFC3339), t.Certificate.Subject.CommonName)
		if apart := t.Time.Sub(s.Signature.At).Abs(); apart > time.Hour {
			f.Timestamp += fmt.Sprintf(", %s from the signer's clock", apart.Round(time.Minute))
		}
	}
	if c := s.Customer; c != nil {
		f.Customer = fmt.Sprintf("%s (fingerprint %s)", c.Certificate.Subject.CommonName, seal.Fingerprint(c.Certificate))
		if !c.At.IsZero() {
			f.Customer = c.At.UTC().Format(time.RFC3339) + " by " + f.Customer
		}
	}
}

// identity says what is known of the signer, and refuses another one than --trust allows.
func (v *verifier) identity(f *finding, s *seal.Sealed) error {
	own := s.Signature.Certificate
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
	if len(v.trusted) > 0 && accepted == nil {
		return errors.New("signed by somebody else than --trust allows")
	}
	return nil
}

func (f *finding) computed(c *issue.Check) {
	f.Digest = c.Digest
	if c.Record == nil {
		return
	}
	f.record = c.Record
	f.Number, f.Revision, f.Amends = c.Record.Job.Number, c.Record.Job.Revision, c.Record.Job.Amends
	f.Version, f.Build = c.Record.Software.Version, c.Record.Software.Build
	f.differences = c.Differences
	if h := c.Record.Hold; h != nil {
		f.Decision, f.Cause = h.Decision, h.Cause
	}
	if len(c.Differences) > 0 {
		f.Differences = c.Differences
	}
	switch {
	case c.Err != nil && len(c.Differences) > 0:
		f.Recomputed = fmt.Sprintf("other results by version %s (%s):", version, build())
	case c.Err != nil:
	case c.Identical && c.SameVersion:
		f.Recomputed = "results and pages are the same, byte for byte (" + c.Audience + ")"
	case c.SameVersion:
		f.Recomputed = "the same numbers within 1e-6, and the same pages (" + c.Audience + "); computed on another machine"
	case c.Identical || len(c.Differences) == 0:
		f.Recomputed = "the same numbers within 1e-6; made by version " + f.Version + ", so the pages were not drawn again"
	default:
		f.Recomputed = fmt.Sprintf("%s from version %s; no decision or cause, and no value outside its interval:", counted(len(c.Differences), "difference"), f.Version)
	}
}

// chain says which record amends which, where both were given, and where two
// revisions claim to follow the same record.
func chain(list []*finding) {
	by, next := map[string]*finding{}, map[string]*finding{}
	for _, f := range list {
		if f.Verified {
			by[f.Digest] = f
		}
	}
	for _, f := range list {
		old := by[f.Amends]
		switch {
		case f.Amends == "":
		case old == nil:
			f.Chain = "amends the record with the digest " + f.Amends + ", which was not given, or does not verify"
		case old.Number != f.Number:
			f.Chain = "amends " + old.File
			f.Verified, f.Reason = false, "it says that it amends the record of another job: "+old.File
		default:
			f.Chain = "amends " + old.File
			if other := next[f.Amends]; f.Verified && other != nil && other.Digest != f.Digest {
				f.Chain += "; so does " + other.File + ": ask the firm which of them counts"
			} else if f.Verified {
				next[f.Amends] = f
			}
		}
	}
	for _, f := range list {
		if new := next[f.Digest]; f.Verified && new != nil {
			f.Chain = strings.TrimPrefix(f.Chain+"; amended by "+new.File, "; ")
		}
	}
}

// mostShown differences are printed, those that count first.
const mostShown = 8

func weighty(list []record.Difference) []record.Difference {
	list = slices.Clone(list)
	slices.SortStableFunc(list, func(a, b record.Difference) int {
		switch {
		case a.Material == b.Material:
			return 0
		case a.Material:
			return -1
		}
		return 1
	})
	return list
}

func (f *finding) print(w io.Writer) {
	fmt.Fprintln(w, f.File)
	line := func(name, text string) {
		if text != "" {
			fmt.Fprintf(w, "  %-12s %s\n", name, text)
		}
	}
	if f.Signer != "" {
		line("signature", "holds: nothing has changed since "+f.SignedAt+" (the signer's clock)")
	}
	line("signer", f.Signer)
	line("", f.Identity)
	line("fingerprint", f.Fingerprint)
	line("time-stamp", f.Timestamp)
	line("customer", f.Customer)
	line("attached", strings.Join(f.Attachments, ", "))
	line("digest", f.Digest)
	line("chain", f.Chain)
	line("made by", strings.TrimSpace(f.Version+" "+f.Build))
	line("recomputed", f.Recomputed)
	for i, d := range weighty(f.differences) {
		if i == mostShown {
			line("", fmt.Sprintf("and %d more; --json prints all", len(f.differences)-mostShown))
			break
		}
		line("", fmt.Sprintf("%s was %s, now %s", d.Path, d.Was, d.Now))
	}
	if f.Decision != "" {
		line("criterion", f.Decision)
		line("cause", f.Cause)
	}
	if f.Verified {
		line("finding", "verified")
	} else {
		line("finding", "NOT verified: "+f.Reason)
	}
}
