package seal_test

import (
	"context"
	"errors"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"dryhold/report/seal"
)

// The holder of a key signs files that no record is: each is refused at once and
// with a reason, although the signature holds.
func TestHostileSigner(t *testing.T) {
	key := newKey(t)
	archived, err := seal.Archive(document(t))
	if err != nil {
		t.Fatal(err)
	}
	swap := func(old, new string) func(string) string {
		return func(body string) string {
			at := regexp.MustCompile(old).FindAllStringIndex(body, -1)
			if len(at) == 0 {
				t.Fatalf("nothing like %q in the body", old)
			}
			last := at[len(at)-1]
			return body[:last[0]] + new + body[last[1]:]
		}
	}
	for _, c := range []struct {
		name string
		edit func(body string) string
		want string
	}{
		{"as it was", func(b string) string { return b }, ""},
		{"a huge size", swap(`/Size 43`, "/Size 999999999"), "size is missing or too large"},
		{"a size below its table", swap(`/Size 43`, "/Size 12"), "larger than it says"},
		{"a table without end", swap(`xref\n0 43`, "xref\n0 99999"), "expected a whole number"},
		{"a huge table", swap(`xref\n0 43`, "xref\n0 999999999"), "too large"},
		{"the same object twice", swap(`xref\n0 43`, "xref\n1 1\n0000000015 00000 n \n0 43"), "twice"},
		{"a second table", swap(`/Size 43`, "/Size 43 /Prev 15"), "more than one"},
		{"object streams", swap(`/Size 43`, "/Size 43 /XRefStm 15"), "more than one"},
		{"encryption", swap(`/Size 43`, "/Size 43 /Encrypt 15 0 R"), "encrypted"},
		{"no table", swap(`xref\n0 43`, "1 0 obj<</Type /XRef>>\n"), "xref"},
		{"a table outside", swap(`startxref\n\d+`, "startxref\n99999999"), "outside the file"},
		{"a root that is itself", swap(`/Root 18 0 R`, "/Root 43 0 R"), "dictionary"},
		{"a root that is another thing", swap(`/Root 18 0 R`, "/Root 17 0 R"), "dictionary"},
		{"no fields", swap(`/AcroForm 24 0 R`, "/AcroForm 18 0 R"), "form is not that of a record"},
		{"deep nesting", swap(`/Info 17 0 R`, "/Info "+strings.Repeat("[", 5000)), "nested"},
		{"an attachment that is its own name", swap(`/EF <</F 41 0 R`, "/EF <</F 42 0 R"), "cannot be read"},
		{"an attachment twice", swap(`/AF \[40 0 R 42 0 R\]`, "/AF [40 0 R 40 0 R]"), "there twice"},
		{"attachments without end", func(b string) string {
			more := strings.Repeat(" 42 0 R", 2000)
			b = swap(`/AF \[40 0 R`, "/AF [40 0 R"+more)(b)
			start := regexp.MustCompile(`startxref\n(\d+)`).FindStringSubmatch(b)[1]
			n, _ := strconv.Atoi(start)
			return strings.Replace(b, start, strconv.Itoa(n+len(more)), 1)
		}, "more than the"},
		{"a length that lies", swap(`/Length \d+`, "/Length 999"), "cannot be read"},
		{"a length below nothing", swap(`/Length \d+`, "/Length -37"), "cannot be read"},
		{"a path out of the folder", swap(`/UF \(results\.json`, "/UF (../../x.json"), "not that of a file"},
		{"a name that commands the terminal", swap(`/UF \(results\.json`, "/UF (r\x1b[31mt.json"), "control character"},
		{"something after the end", func(b string) string { return b + "1 0 obj\nnull\nendobj\n" }, "%%EOF"},
	} {
		t.Run(c.name, func(t *testing.T) {
			forged := seal.Forge(archived, []byte(c.edit(string(seal.Body(archived)))))
			record, err := seal.Sign(context.Background(), forged, key, signed, nil)
			if err != nil {
				t.Fatal(err)
			}
			began := time.Now()
			got, err := seal.Open(record)
			if took := time.Since(began); took > 2*time.Second {
				t.Errorf("it took %v", took)
			}
			if c.want == "" && err == nil {
				return
			}
			if got != nil || !errors.Is(err, seal.ErrNotSealed) || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, expected %q", err, c.want)
			}
		})
	}
}
