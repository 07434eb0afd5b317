package main

import (
	"bufio"
	"crypto/x509"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"
	"time"
	"unicode/utf8"

	"github.com/spf13/cobra"
	"golang.org/x/term"

	"dryhold/cmd/dryhold/internal/keys"
	"dryhold/report"
	"dryhold/report/seal"
)

func (a *app) keyCommand() *cobra.Command {
	c := &cobra.Command{
		Use:   "key",
		Short: "make, show and export the signing key",
		Long: "The key signs the records. It is made on first use and kept in the configuration folder,\n" +
			"readable by its owner only. Keep a copy of that file in a safe place.",
		Args: args(cobra.NoArgs),
		RunE: func(c *cobra.Command, _ []string) error { return c.Help() },
	}
	var name string
	c.PersistentFlags().StringVar(&name, "key", keys.Default, "name of the key, as company.toml gives it")
	c.AddCommand(a.keyMake(&name), a.keyShow(&name), a.keyExport(&name), a.keyImport(&name), a.keyTrust())
	return c
}

func (a *app) keyMake(name *string) *cobra.Command {
	var years int
	var protect bool
	c := &cobra.Command{
		Use:     "make HOLDER",
		Short:   "make a key; HOLDER is what viewers show as the signer",
		Example: `  dryhold key make "Example Cooling"`,
		Args:    args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			if err := checkHolder(list[0], years); err != nil {
				return err
			}
			passphrase := ""
			if protect {
				var err error
				if passphrase, err = a.passphrase(*name); err == nil && passphrase == "" {
					err = errors.New("the passphrase is empty, and the key would not be protected")
				}
				if err != nil {
					return badKey(err, "")
				}
			}
			k, err := keys.New(list[0], a.now(), years)
			if err != nil {
				return err
			}
			return a.saveKey(*name, k, passphrase)
		},
	}
	c.Flags().IntVar(&years, "years", 10, "how long the certificate is valid")
	c.Flags().BoolVar(&protect, "protect", false, "protect the key with a passphrase")
	return c
}

// checkHolder refuses what a certificate cannot hold or a page cannot show.
func checkHolder(holder string, years int) error {
	odd := func(r rune) bool { return !report.HasGlyph(r) }
	switch n := utf8.RuneCountInString(strings.TrimSpace(holder)); {
	case n == 0 || n > 64:
		return usage(fmt.Errorf("the name of the holder has %s", counted(n, "character")), "give the firm's name, in 1 to 64 characters")
	case strings.ContainsFunc(holder, odd):
		return usage(fmt.Errorf("the name of the holder has a character that a record cannot show: %q", holder), "write it with the letters of the record's font")
	case years < 1 || years > 50:
		return usage(fmt.Errorf("a certificate cannot be made for %s", counted(years, "year")), "give --years 1 to 50")
	}
	return nil
}

func (a *app) saveKey(name string, k *seal.Key, passphrase string) error {
	err := keys.Save(name, k, passphrase)
	if errors.Is(err, fs.ErrExist) {
		path, _ := keys.Path(name)
		return badKey(fmt.Errorf("there is a key %q already: %s", name, path), "give the new one another name with --key NAME; records need the old one's certificate to be recognised")
	}
	if err != nil {
		return err
	}
	path, _ := keys.Path(name)
	fmt.Fprintf(a.err, "dryhold: the key was written to %s; keep a copy in a safe place\n", path)
	a.showCertificate(k.Certificate())
	return nil
}

func (a *app) keyImport(name *string) *cobra.Command {
	return &cobra.Command{
		Use:   "import FILE",
		Short: "take a PKCS#12 or PEM file from an authority as the key",
		Args:  args(cobra.ExactArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			data, err := keys.ReadFile(list[0])
			if err != nil {
				return badKey(err, "")
			}
			used := ""
			k, err := keys.Decode(data, list[0], func(string) (string, error) {
				used, err = a.passphrase(list[0])
				return used, err
			})
			if err != nil {
				return badKey(fmt.Errorf("%s: %w", list[0], err), "give the PKCS#12 file (.p12, .pfx) or the PEM file that the authority sent")
			}
			if c := k.Certificate(); a.now().Before(c.NotBefore) || a.now().After(c.NotAfter) {
				return badKey(fmt.Errorf("%s: its certificate is valid from %s to %s, not today", list[0], c.NotBefore.Format(time.DateOnly), c.NotAfter.Format(time.DateOnly)),
					"ask the authority for a certificate that is valid now")
			}
			return a.saveKey(*name, k, used)
		},
	}
}

func (a *app) keyShow(name *string) *cobra.Command {
	return &cobra.Command{
		Use:   "show",
		Short: "show whose key it is and its fingerprint",
		Args:  args(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			k, err := a.key(*name)
			if err != nil {
				return err
			}
			a.showCertificate(k.Certificate())
			return nil
		},
	}
}

func (a *app) keyExport(name *string) *cobra.Command {
	var out *string
	c := &cobra.Command{
		Use:     "export",
		Short:   "write the certificate, which others need to recognise the signer",
		Long:    "The certificate is public: it holds no secret. Hand it out, or put it on the firm's web page.",
		Example: "  dryhold key export --out example-cooling.pem",
		Args:    args(cobra.NoArgs),
		RunE: func(*cobra.Command, []string) error {
			k, err := a.key(*name)
			if err != nil {
				return err
			}
			return a.print(seal.EncodeCertificate(k.Certificate()), *out)
		},
	}
	out = printed(c)
	return c
}

func (a *app) keyTrust() *cobra.Command {
	return &cobra.Command{
		Use:   "trust CERTIFICATE...",
		Short: "add certificates to the known signers",
		Args:  args(cobra.MinimumNArgs(1)),
		RunE: func(_ *cobra.Command, list []string) error {
			for _, path := range list {
				found, err := readCertificates(path)
				if err != nil {
					return err
				}
				if err := keys.Trust(found); err != nil {
					return err
				}
				for _, c := range found {
					a.showCertificate(c)
				}
			}
			return nil
		},
	}
}

func (a *app) key(name string) (*seal.Key, error) {
	k, err := a.store.Get(name)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, badKey(fmt.Errorf("there is no key %q yet", name), `dryhold key make "NAME OF THE FIRM" makes one`)
	}
	return k, err
}

func (a *app) showCertificate(c *x509.Certificate) {
	fmt.Fprintf(a.out, "holder       %s\nvalid        %s to %s\nfingerprint  %s\n", c.Subject.CommonName,
		c.NotBefore.Format(time.DateOnly), c.NotAfter.Format(time.DateOnly), seal.Fingerprint(c))
}

func readCertificates(path string) ([]*x509.Certificate, error) {
	data, err := keys.ReadFile(path)
	if err != nil {
		return nil, badKey(err, "")
	}
	list, err := seal.DecodeCertificates(data)
	if err != nil {
		return nil, badKey(fmt.Errorf("%s: %w", path, err), "a certificate is what dryhold key export --out FILE writes")
	}
	return list, nil
}

// passphrase comes from a file, the environment or the person at the terminal,
// never from the command line, which others can see.
func (a *app) passphrase(name string) (string, error) {
	if a.passphraseFile != "" {
		f, err := os.Open(a.passphraseFile)
		if err != nil {
			return "", err
		}
		defer f.Close()
		s := bufio.NewScanner(f)
		s.Scan()
		return strings.TrimRight(s.Text(), "\r"), s.Err()
	}
	if p, ok := os.LookupEnv("DRYHOLD_PASSPHRASE"); ok {
		return p, nil
	}
	if f, ok := a.in.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		fmt.Fprintf(a.err, "dryhold: passphrase of %s: ", name)
		p, err := term.ReadPassword(int(f.Fd()))
		fmt.Fprintln(a.err)
		return string(p), err
	}
	return "", fmt.Errorf("%w; give it by --passphrase-file, DRYHOLD_PASSPHRASE or at a terminal", seal.ErrPassphrase)
}
