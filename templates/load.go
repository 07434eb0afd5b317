package templates

import (
	"errors"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"
)

// obliged are the sections that no template may leave out.
var obliged = []string{"cautions", "signoff", "signature"}

func load(base *Template, data []byte) (*Template, error) {
	t := &Template{}
	if deep(data) {
		return nil, &Error{Found: fmt.Sprintf("more than %d lists and tables in one another", maxDepth), Expected: "a template that dryhold templates wrote"}
	}
	meta, err := toml.Decode(string(data), t)
	if err != nil {
		var pe toml.ParseError
		if errors.As(err, &pe) {
			return nil, &Error{Line: pe.Position.Line, Found: pe.Message}
		}
		return nil, &Error{Found: strings.TrimPrefix(err.Error(), "toml: ")}
	}
	for _, k := range meta.Undecoded() {
		return nil, &Error{Line: lineOf(data, k[len(k)-1]), Key: k.String(), Found: "unknown key", Expected: `"audience", "sections" or [words]`}
	}
	if t.Audience == "" {
		t.Audience = base.Audience
	}
	if t.Audience != base.Audience {
		return nil, &Error{Line: lineOf(data, "audience"), Key: "audience", Found: fmt.Sprintf("%q", t.Audience), Expected: fmt.Sprintf("%q, the audience this template is used for", base.Audience)}
	}
	if err := checkSections(t, base, data); err != nil {
		return nil, err
	}
	for _, key := range slices.Sorted(maps.Keys(t.Words)) {
		if err := checkWord(base, key, t.Words[key], data); err != nil {
			return nil, err
		}
	}
	return t, nil
}

func checkSections(t, base *Template, data []byte) error {
	if t.Sections == nil {
		t.Sections = base.Sections
		return nil
	}
	fail := func(found, want string) error {
		return &Error{Line: lineOf(data, "sections"), Key: "sections", Found: found, Expected: want}
	}
	seen := map[string]bool{}
	for _, s := range t.Sections {
		if !slices.Contains(Sections, s) {
			return fail(fmt.Sprintf("unknown section %q", s), "one of "+strings.Join(Sections, ", "))
		}
		if seen[s] {
			return fail(fmt.Sprintf("section %q is named twice", s), "each once")
		}
		seen[s] = true
	}
	for _, s := range obliged {
		if !seen[s] {
			return fail(fmt.Sprintf("section %q is missing", s), "it in every record")
		}
	}
	return nil
}

func checkWord(base *Template, key string, text Text, data []byte) error {
	fail := func(found, want string) error {
		return &Error{Line: lineOf(data, key), Key: "words." + key, Found: found, Expected: want}
	}
	known, ok := base.Words[key]
	if !ok {
		known, ok = shared().words[key]
	}
	if !ok {
		return fail("unknown text", "a key of the exported template or of the list of texts")
	}
	if strings.HasPrefix(key, "fixed.") {
		return fail("a fixed sentence cannot be changed", "another key")
	}
	facts := factsOf(known)
	for lang, s := range text {
		if !slices.Contains(Languages, lang) {
			return fail(fmt.Sprintf("unknown language %q", lang), strings.Join(Languages, " or "))
		}
		for _, f := range factsOf(Text{lang: s}) {
			if !slices.Contains(facts, f) {
				return fail(fmt.Sprintf("unknown fact {%s}", f), "one of {"+strings.Join(facts, "}, {")+"}")
			}
		}
		if w := Forbidden(lang, s); w != "" {
			return fail(fmt.Sprintf("%q claims more than readings can show", w), "a text without it")
		}
	}
	return nil
}

// lineOf is the line on which a key is written, 0 where it is not found.
func lineOf(data []byte, key string) int {
	re := regexp.MustCompile(`(?m)^[ \t]*\[?(words\.)?["']?` + regexp.QuoteMeta(key) + `["']?[ \t]*[=\]]`)
	m := re.FindIndex(data)
	if m == nil {
		return 0
	}
	return 1 + strings.Count(string(data[:m[0]]), "\n")
}

// Sections lists every section that a template can name.
var Sections = []string{"summary", "open", "cautions", "how", "pressure", "evacuation", "hoses", "boundary", "instruments", "inputs", "hold",
	"cause", "models", "uncertainty", "loss", "attempts", "leakchecks", "recovery", "charge", "startup", "events", "warnings",
	"equipment", "proof", "done", "work", "signoff", "signature", "photographs"}

// forbidden words claim what no reading shows. They are matched as whole words
// after the allowed phrases are taken out.
var forbidden = map[string]*regexp.Regexp{
	"en": regexp.MustCompile(`(?i)\b(leak-free|moisture-free|tight|dry|certified|guarantee[ds]?|code-compliant|safe to operate|no leaks?)\b`),
	"es": regexp.MustCompile(`(?i)(^|[^\pL])(sin fugas|libre de fugas|estanc[oa]s?|herm[eé]tic[oa]s?|sec[oa]s?|sin humedad|libre de humedad|certificad[oa]s?|garantizad[oa]s?|garantiza|garantizamos|conforme al c[oó]digo|cumple (con )?el c[oó]digo|segur[oa] de operar|operaci[oó]n segura)($|[^\pL])`),
}

var allowed = regexp.MustCompile(`(?i)dry nitrogen|nitr[oó]geno seco`)

// Forbidden returns the first word of a text that a record must not say, or "".
func Forbidden(lang, s string) string {
	re := forbidden[lang]
	if re == nil {
		return ""
	}
	return strings.TrimSpace(re.FindString(allowed.ReplaceAllString(s, "")))
}
