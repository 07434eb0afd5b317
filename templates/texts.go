package templates

import (
	"maps"
	"regexp"
	"slices"
	"strings"
)

// Note is the text of a coded statement in a language other than English, with
// its facts filled in; ok is false where the code is unknown or a fact is missing.
func Note(lang, code string, facts ...string) (text string, ok bool) {
	s, ok := shared().notes[code][lang]
	if !ok {
		return "", false
	}
	s = fill(s, facts)
	return s, !placeholder.MatchString(s)
}

// NoteCodes lists the codes that have texts.
func NoteCodes() []string { return slices.Sorted(maps.Keys(shared().notes)) }

// Term is a text that the analysis took from a source or a list, in a language.
// Of a text in pieces, parted by semicolons or commas, each piece is looked up;
// what is not known stays as it is.
func Term(lang, text string) string {
	if lang == "en" || text == "" {
		return text
	}
	terms := shared().terms
	for _, sep := range []string{"", "; ", ", "} {
		if t, ok := terms[text]; ok {
			return t
		}
		if sep != "" && strings.Contains(text, sep) {
			parts := strings.Split(text, sep)
			for i := range parts {
				parts[i] = Term(lang, parts[i])
			}
			return strings.Join(parts, sep)
		}
	}
	return text
}

// Terms lists the English of every term.
func Terms() []string { return slices.Sorted(maps.Keys(shared().terms)) }

// CautionFor returns the texts of a caution's code.
func CautionFor(code string) (Caution, bool) {
	c, ok := shared().cautions[code]
	return c, ok
}

// In fills a caution's text in a language; plain takes the homeowner's wording.
func (c Caution) In(lang string, plain bool, facts ...string) string {
	if plain && c.Plain != nil {
		return fill(c.Plain[lang], facts)
	}
	return fill(c.Text[lang], facts)
}

// CautionCodes lists every caution.
func CautionCodes() []string { return slices.Sorted(maps.Keys(shared().cautions)) }

// Keys lists every key of the common words.
func Keys() []string { return slices.Sorted(maps.Keys(shared().words)) }

// placeholder is a fact in braces, to be filled in.
var placeholder = regexp.MustCompile(`\{([a-z_0-9]*)\}`)

// Facts lists what a text of that key can have in braces, nil for an unknown key.
func (t *Template) Facts(key string) []string {
	if s, ok := shared().builtin[t.Audience].Words[key]; ok {
		return factsOf(s)
	}
	return factsOf(shared().words[key])
}

// factsOf lists the placeholders of a text.
func factsOf(t Text) []string {
	seen := map[string]bool{}
	for _, s := range t {
		for _, m := range placeholder.FindAllStringSubmatch(s, -1) {
			seen[m[1]] = true
		}
	}
	return slices.Sorted(maps.Keys(seen))
}
