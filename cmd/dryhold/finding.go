package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"dryhold/analysis/record"
	"dryhold/cmd/dryhold/internal/issue"
	"dryhold/report/seal"
)

// finding is what verify says of one record.
type finding struct {
	File        string              `json:"file"`
	Verified    bool                `json:"verified"`
	Reason      string              `json:"reason,omitempty"` // why not
	Number      string              `json:"number,omitempty"`
	Revision    int                 `json:"revision,omitempty"`
	Digest      string              `json:"digest,omitempty"`
	Amends      string              `json:"amends,omitempty"`
	Signer      string              `json:"signer,omitempty"`
	Fingerprint string              `json:"fingerprint,omitempty"`
	Identity    string              `json:"identity,omitempty"`
	SignedAt    string              `json:"signed_at,omitempty"`
	Doubt       string              `json:"doubt,omitempty"` // about that time
	Timestamp   string              `json:"timestamp,omitempty"`
	Customer    string              `json:"customer,omitempty"`
	Withheld    []string            `json:"withheld,omitempty"` // what a copy for a third party does not tell
	Attachments []string            `json:"attachments,omitempty"`
	Version     string              `json:"version,omitempty"`
	Build       string              `json:"build,omitempty"`
	Recomputed  string              `json:"recomputed,omitempty"`
	Differences []record.Difference `json:"differences,omitempty"`
	Decision    string              `json:"decision,omitempty"`
	Cause       string              `json:"cause,omitempty"`
	Chain       string              `json:"chain,omitempty"`

	advice string         // what to do where it does not verify
	record *record.Record // what it carries; nil where its seal does not hold
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

func (f *finding) computed(c *issue.Check) {
	f.Digest = c.Digest
	if c.Record == nil {
		return
	}
	f.record = c.Record
	f.Number, f.Revision, f.Amends = c.Record.Job.Number, c.Record.Job.Revision, c.Record.Job.Amends
	f.Withheld = issue.Withheld(c.Record.Job)
	f.Version, f.Build = c.Record.Software.Version, c.Record.Software.Build
	if h := c.Record.Hold; h != nil {
		f.Decision, f.Cause = h.Decision, h.Cause
	}
	f.Differences = c.Differences
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
	line("", f.Doubt)
	line("signer", f.Signer)
	line("", f.Identity)
	line("fingerprint", f.Fingerprint)
	line("time-stamp", f.Timestamp)
	line("customer", f.Customer)
	if len(f.Withheld) > 0 {
		line("withheld", "a copy issued without "+strings.Join(f.Withheld, ", ")+"; the firm can show what was there")
	}
	line("attached", strings.Join(f.Attachments, ", "))
	line("digest", f.Digest)
	line("chain", f.Chain)
	line("made by", strings.TrimSpace(f.Version+" "+f.Build))
	line("recomputed", f.Recomputed)
	for i, d := range weighty(f.Differences) {
		if i == mostShown {
			line("", fmt.Sprintf("and %d more; --json prints all", len(f.Differences)-mostShown))
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
		line("what to do", f.advice)
	}
}
