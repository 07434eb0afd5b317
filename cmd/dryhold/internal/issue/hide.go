package issue

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"crypto/hmac"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html"
	"io"
	"regexp"
	"sort"
	"strings"
	"unicode/utf8"

	"dryhold/analysis/fault"
	"dryhold/analysis/job"
	"dryhold/analysis/record"
)

// withheld is a text of the job file that a copy does not show. Instead of it
// stands its digest: HMAC-SHA-256 (RFC 2104) of "key=value" under the salt.
type withheld struct {
	Key    string `toml:"key"`
	Value  string `toml:"value"`
	Digest string `toml:"digest"`

	path string // of the value in the job
}

// digestOf is long enough that nobody finds another text for it. Without the salt
// nobody can try names either, however few they are.
func digestOf(salt []byte, key, value string) string {
	h := hmac.New(sha256.New, salt)
	io.WriteString(h, key+"="+value)
	return hex.EncodeToString(h.Sum(nil))
}

// shown is a digest's first half, in pieces that fit a column of the pages.
func shown(digest string) string {
	return "withheld: " + digest[:16] + " " + digest[16:32]
}

var shownForm = regexp.MustCompile(`^withheld: [0-9a-f]{16} [0-9a-f]{16}$`)

// Withheld says what a record was issued without, in words; empty for an ordinary
// record.
func Withheld(j record.Job) (list []string) {
	for _, x := range [][2]string{{"the customer's name", j.Customer.Name}, {"the customer's contact", j.Customer.Contact},
		{"the site's address", j.Site.Address}, {"the permit", j.Site.Permit}} {
		if shownForm.MatchString(x[1]) {
			list = append(list, x[0])
		}
	}
	return list
}

// customerTexts are the texts that tell who the customer is. The digest in amends
// is one: whoever guesses the rest of the record before could try names on it.
func customerTexts(j *job.Job, salt []byte) []withheld {
	var list []withheld
	add := func(path, key, value string) {
		if value != "" {
			list = append(list, withheld{Key: key, Value: value, Digest: shown(digestOf(salt, key, value)), path: path})
		}
	}
	add("customer.name", "customer.name", j.Customer.Name)
	add("customer.contact", "customer.contact", j.Customer.Contact)
	add("site.address", "site.address", j.Site.Address)
	add("site.permit", "site.permit", j.Site.Permit)
	for i, s := range j.Signoffs {
		if byCustomer(j, s) {
			add(fmt.Sprintf("signoff[%d].name", i), "customer.name", s.Name)
		}
	}
	if a := j.Record.Amends; a != "" {
		list = append(list, withheld{Key: "record.amends", Value: a, Digest: digestOf(salt, "record.amends", a), path: "record.amends"})
	}
	return list
}

func byCustomer(j *job.Job, s job.Signoff) bool {
	return s.Name == j.Customer.Name || strings.EqualFold(s.Role, "customer")
}

// hide is the job file with the digests in place of the texts, and without
// comments. Everything else stays as it was written.
func hide(j *job.Job, text []byte, list []withheld) ([]byte, error) {
	text = bytes.TrimPrefix(text, []byte("\xef\xbb\xbf"))
	at := map[int]string{}
	for _, w := range list {
		p := j.Place(w.path, fault.Fault{})
		at[offset(text, p.Line, p.Column)] = w.Digest
	}
	var out bytes.Buffer
	for i := 0; i < len(text); {
		n := token(text[i:])
		digest, hidden := at[i]
		switch {
		case hidden && (text[i] == '"' || text[i] == '\''):
			fmt.Fprintf(&out, "%q", digest)
			delete(at, i)
		case text[i] != '#':
			out.Write(text[i : i+n])
		}
		i += n
	}
	if len(at) > 0 {
		return nil, fmt.Errorf("internal: %d texts to be withheld were not found in %s", len(at), jobName)
	}
	return out.Bytes(), nil
}

// offset is where a line and column (in characters), both from 1, stand.
func offset(text []byte, line, column int) int {
	at := 0
	for range line - 1 {
		at += bytes.IndexByte(text[at:], '\n') + 1
	}
	for range column - 1 {
		_, n := utf8.DecodeRune(text[at:])
		at += n
	}
	return at
}

// token is the length of what s begins with: a text of one of TOML's four kinds,
// a comment, or one byte. The job was read already, so texts are closed.
func token(s []byte) int {
	if s[0] == '#' {
		if n := bytes.IndexByte(s, '\n'); n >= 0 {
			return n
		}
		return len(s)
	}
	if s[0] != '"' && s[0] != '\'' {
		return 1
	}
	mark := s[:1]
	if long := bytes.Repeat(mark, 3); bytes.HasPrefix(s, long) {
		mark = long
	}
	for i := len(mark); i < len(s); i++ {
		switch {
		case s[i] == '\\' && mark[0] == '"':
			i++
		case bytes.HasPrefix(s[i:], mark):
			i += len(mark)
			for len(mark) == 3 && i < len(s) && s[i] == mark[0] {
				i++ // one or two of its own marks may end a long text
			}
			return i
		}
	}
	return len(s)
}

// tellable is how many characters a text needs for its appearance elsewhere to
// say anything: a permit "12" stands in every recording.
const tellable = 4

// leaks finds the withheld texts in the files that the copy would carry. Only
// whole texts are looked for: "customer" alone or one word of an address is no sign.
func leaks(files map[string][]byte, list []withheld) fault.List {
	var found fault.List
	for name, data := range files {
		all := strings.ToLower(name + "\n" + unpacked(data))
		all += "\n" + html.UnescapeString(all)
		told := map[string]bool{}
		for _, w := range list {
			if utf8.RuneCountInString(w.Value) < tellable || told[w.Value] || !strings.Contains(all, strings.ToLower(w.Value)) {
				continue
			}
			told[w.Value] = true
			found = append(found, fault.Fault{Code: "not-withheld", File: name, Found: fmt.Sprintf("the text of %s stands in this file too, beside its own key", w.Key),
				Expected: "a file from which nobody can tell the customer", Mend: "take the text out there, as a revision of the record where it was issued already (--amend)"})
		}
	}
	sort.Slice(found, func(a, b int) bool { return found[a].Error() < found[b].Error() })
	return found
}

// unpacked is a file's text for a search: that of a workbook's parts, of what was
// compressed, and of UTF-16 as far as it is Latin.
func unpacked(data []byte) string {
	const limit = 256 << 20
	var all bytes.Buffer
	if z, err := zip.NewReader(bytes.NewReader(data), int64(len(data))); err == nil {
		for _, f := range z.File {
			if r, err := f.Open(); err == nil {
				io.Copy(&all, io.LimitReader(r, limit))
				r.Close()
			}
		}
	} else if g, err := gzip.NewReader(bytes.NewReader(data)); err == nil {
		io.Copy(&all, io.LimitReader(g, limit))
	} else {
		all.Write(data)
	}
	return string(bytes.ReplaceAll(all.Bytes(), []byte{0}, nil))
}
