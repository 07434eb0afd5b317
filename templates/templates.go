// Package templates owns how a record is worded: which sections each audience
// reads and in which order, every sentence and label in English and Spanish,
// and the texts of the cautions with their sources.
//
// A template is a TOML file:
//
//	audience = "inspector"
//	sections = ["summary", "open", "cautions"]
//
//	[words]
//	"section.cautions" = { en = "Cautions", es = "Precauciones" }
//
// A firm may copy one, change it and name it in its company.toml. What it does
// not say is taken from the built-in template and the common words. A text may
// hold the facts that the built-in text of the same key holds, such as {level};
// Facts tells them. Two asterisks switch bold type. There are no loops and no code.
package templates

import (
	"embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/BurntSushi/toml"
)

//go:embed *.toml
var files embed.FS

// Languages in which every text exists.
var Languages = []string{"en", "es"}

// Audiences that have a template.
var Audiences = []string{"homeowner", "inspector", "warranty"}

// Text is one wording by language.
type Text map[string]string

// Caution is a caution's text and where it comes from.
type Caution struct {
	Text   Text   `toml:"text"`
	Plain  Text   `toml:"plain"` // for the homeowner; absent where the caution is not for them
	Source string `toml:"source"`
	Rank   int    `toml:"rank"` // 1 danger to people, 2 to the equipment, 3 to the result
}

// Template is what one audience reads.
type Template struct {
	Audience string          `toml:"audience"`
	Sections []string        `toml:"sections"`
	Words    map[string]Text `toml:"words"`
}

// Error is a fault in a template.
type Error struct {
	Line     int    // from 1; 0 where unknown
	Key      string // the key that is wrong
	Found    string
	Expected string
}

func (e *Error) Error() string {
	s := e.Found
	if e.Expected != "" {
		s += "; expected " + e.Expected
	}
	if e.Key != "" {
		s = e.Key + ": " + s
	}
	if e.Line > 0 {
		s = fmt.Sprintf("line %d: %s", e.Line, s)
	}
	return s
}

type common struct {
	words    map[string]Text
	cautions map[string]Caution
	notes    map[string]Text
	terms    map[string]string // Spanish by English
	builtin  map[string]*Template
}

var shared = sync.OnceValue(func() common {
	c := common{builtin: map[string]*Template{}}
	must(decode("words.toml", &c.words))
	must(decode("cautions.toml", &c.cautions))
	must(decode("notes.toml", &c.notes))
	must(decode("terms.toml", &c.terms))
	for _, a := range Audiences {
		t := &Template{}
		must(decode(a+".toml", t))
		c.builtin[a] = t
	}
	return c
})

func must(err error) {
	if err != nil {
		panic("templates: " + err.Error())
	}
}

func decode(name string, into any) error {
	b, err := files.ReadFile(name)
	if err != nil {
		return err
	}
	if err := toml.Unmarshal(b, into); err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return nil
}

// Export returns the built-in template as a file to copy and change.
func Export(audience string) ([]byte, error) {
	if !slices.Contains(Audiences, audience) {
		return nil, fmt.Errorf("no template %q; there are %s", audience, strings.Join(Audiences, ", "))
	}
	return files.ReadFile(audience + ".toml")
}

// Load returns an audience's template. An override is a firm's own file; nil
// takes the built-in one. A fault in it is an *Error.
func Load(audience string, override []byte) (*Template, error) {
	base := shared().builtin[audience]
	if base == nil {
		return nil, fmt.Errorf("no template %q; there are %s", audience, strings.Join(Audiences, ", "))
	}
	if override == nil {
		return base, nil
	}
	return load(base, override)
}

// Word is the text of a key with its facts, which come in pairs of name and
// value, filled in. An unknown key gives "?key", which no golden page has.
func (t *Template) Word(lang, key string, facts ...string) string {
	s, ok := t.lookUp(lang, key)
	if !ok {
		return "?" + key
	}
	return fill(s, facts)
}

// Has reports whether a key exists.
func (t *Template) Has(key string) bool {
	_, ok := t.lookUp("en", key)
	return ok
}

func (t *Template) lookUp(lang, key string) (string, bool) {
	for _, m := range []map[string]Text{t.Words, shared().builtin[t.Audience].Words, shared().words} {
		if s, ok := m[key][lang]; ok {
			return s, true
		}
	}
	return "", false
}

func fill(s string, facts []string) string {
	if strings.Contains(s, "**") {
		s = strings.ReplaceAll(s, "**", Bold)
	}
	if len(facts) == 0 || !strings.Contains(s, "{") {
		return s
	}
	var b strings.Builder
	for {
		before, rest, more := strings.Cut(s, "{")
		b.WriteString(before)
		if !more {
			return b.String()
		}
		name, after, closed := strings.Cut(rest, "}")
		if value, ok := factOf(name, facts); ok && closed {
			b.WriteString(value)
			s = after
		} else {
			b.WriteByte('{')
			s = rest
		}
	}
}

func factOf(name string, facts []string) (value string, ok bool) {
	for i := 0; i+1 < len(facts); i += 2 {
		if facts[i] == name {
			return facts[i+1], true
		}
	}
	return "", false
}

// Bold is the character that switches bold type in a text returned by Word.
const Bold = "\x01"
