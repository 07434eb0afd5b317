package templates

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// every walks all texts of the package.
func every(visit func(where, key string, t Text)) {
	c := shared()
	for _, k := range slices.Sorted(maps.Keys(c.words)) {
		visit("words", k, c.words[k])
	}
	for a, t := range c.builtin {
		for _, k := range slices.Sorted(maps.Keys(t.Words)) {
			visit(a, k, t.Words[k])
		}
	}
	for k, x := range c.cautions {
		visit("cautions", k, x.Text)
		if x.Plain != nil {
			visit("cautions", k+" plain", x.Plain)
		}
	}
}

func TestEveryTextInEveryLanguage(t *testing.T) {
	every(func(where, key string, text Text) {
		for _, l := range Languages {
			if text[l] == "" {
				t.Errorf("%s: %s has no text in %s", where, key, l)
			}
		}
		if len(text) != len(Languages) {
			t.Errorf("%s: %s has %d languages", where, key, len(text))
		}
		if en, es := factsOf(Text{"en": text["en"]}), factsOf(Text{"es": text["es"]}); !slices.Equal(en, es) {
			t.Errorf("%s: %s uses the facts %v in English, %v in Spanish", where, key, en, es)
		}
		if n := strings.Count(text["en"]+text["es"], "**"); n%2 != 0 {
			t.Errorf("%s: %s opens bold type and does not close it", where, key)
		}
	})
	for code, n := range shared().notes {
		if n["es"] == "" {
			t.Errorf("note %s has no Spanish", code)
		}
	}
}

func TestNoForbiddenWord(t *testing.T) {
	check := func(where, key string, text Text) {
		for _, l := range Languages {
			s := strings.ReplaceAll(text[l], "**", "")
			if w := Forbidden(l, s); w != "" {
				t.Errorf("%s: %s says %q in %s", where, key, w, l)
			}
		}
	}
	every(check)
	for code, n := range shared().notes {
		check("notes", code, n)
	}
	for _, s := range []struct{ lang, text string }{{"en", "the circuit is dry"}, {"en", "it is Leak-Free"}, {"en", "guaranteed"}, {"es", "circuito estanco"}, {"es", "queda hermética."}, {"es", "sin fugas"}} {
		if Forbidden(s.lang, s.text) == "" {
			t.Errorf("%q was let through", s.text)
		}
	}
	for _, s := range []struct{ lang, text string }{{"en", "dry nitrogen"}, {"en", "tightness is not determined"}, {"es", "nitrógeno seco"}, {"es", "área de garantía"}} {
		if w := Forbidden(s.lang, s.text); w != "" {
			t.Errorf("%q was refused for %q", s.text, w)
		}
	}
}

// sources are the Go files, tests aside, of folders beside this one.
func sources(t *testing.T, dirs ...string) string {
	t.Helper()
	var all strings.Builder
	for _, d := range dirs {
		names, err := filepath.Glob(filepath.Join("..", d, "*.go"))
		if err != nil || len(names) == 0 {
			t.Fatalf("no source in %s", d)
		}
		for _, n := range names {
			if strings.HasSuffix(n, "_test.go") {
				continue
			}
			b, err := os.ReadFile(n)
			if err != nil {
				t.Fatal(err)
			}
			all.Write(b)
		}
	}
	return all.String()
}

// TestWordsAreUsed finds a text that no page uses and a key that has no text.
func TestWordsAreUsed(t *testing.T) {
	src := sources(t, "report", "report/plot")
	used := func(key string) bool {
		if strings.Contains(src, `"`+key+`"`) {
			return true
		}
		prefix, last, ok := strings.Cut(key, ".")
		if !ok {
			return false
		}
		switch prefix {
		case "section", "note":
			return slices.Contains(Sections, last)
		case "head":
			return strings.Contains(src, `"`+last+`"`) || strings.Contains(src, `">`+last+`"`)
		case "rows", "done":
			return strings.Contains(src, `"`+last+`"`)
		}
		for i := strings.LastIndexByte(key, '.'); i > 0; i = strings.LastIndexByte(key[:i], '.') {
			if strings.Contains(src, `"`+key[:i+1]+`"`) {
				return true
			}
		}
		return false
	}
	have := map[string]bool{}
	every(func(where, key string, _ Text) {
		if where == "cautions" {
			return
		}
		have[key] = true
		if !used(key) {
			t.Errorf("%s: %s is used by no page", where, key)
		}
	})
	for _, m := range regexp.MustCompile(`(?:\bw|Word)\("([a-z_]+(?:\.[a-z_ ]+)*)"[,)]`).FindAllStringSubmatch(src, -1) {
		if !have[m[1]] {
			t.Errorf("a page asks for %q, which has no text", m[1])
		}
	}
	for _, m := range regexp.MustCompile(`heads\(([^)]*)\)`).FindAllStringSubmatch(src, -1) {
		for _, k := range strings.Split(m[1], ",") {
			k = "head." + strings.Trim(strings.TrimSpace(k), `">`)
			if strings.HasPrefix(k, "head.keys") {
				continue
			}
			if !have[k] {
				t.Errorf("a table asks for %q, which has no text", k)
			}
		}
	}
}

// TestCodesAreKnown finds a statement or caution of the analysis without a text.
func TestCodesAreKnown(t *testing.T) {
	src := sources(t, "analysis", "analysis/decision", "analysis/vacuum", "analysis/pressure", "analysis/startup") + sources(t, "analysis/job", "analysis/readings")
	faults := []string{"acceptance-unknown", "acceptance-incomplete", "hold-unclear", "charge"} // the first three stop the job, the last is no statement
	found := 0
	for _, re := range []string{`(?:Reason|Note)\{(?:Code: *)?"([a-z-]+)"`, `\.open\("([a-z-]+)"`, `\b(?:say|add)\((?:true, |false, )?"([a-z]+-?[a-z-]*)", `,
		`\.refuse\("([a-z-]+)"`, `\.doubt\("([a-z-]+)"`, `Fault\{[^}]*Code: "([a-z0-9-]+)",[^}]*Doubt: true`} {
		for _, m := range regexp.MustCompile(re).FindAllStringSubmatch(src, -1) {
			found++
			if _, ok := shared().notes[m[1]]; !ok && !slices.Contains(faults, m[1]) {
				t.Errorf("the statement %q has no Spanish", m[1])
			}
		}
	}
	for _, m := range regexp.MustCompile(`(?m)^\t+\{"([a-z-]+)", `).FindAllStringSubmatch(sources(t, "analysis"), -1) {
		found++
		if _, ok := CautionFor(m[1]); !ok {
			t.Errorf("the caution %q has no text", m[1])
		}
	}
	if found < 40 {
		t.Errorf("only %d codes were found: has the source changed its shape?", found)
	}
}

// TestTerms: a term changes its words and promises nothing, and pieces are looked up.
func TestTerms(t *testing.T) {
	for _, en := range Terms() {
		es := Term("es", en)
		if es == "" || strings.Contains(en, "; ") {
			t.Errorf("%q is %q", en, es)
		}
		if w := Forbidden("es", es); w != "" {
			t.Errorf("%q says %q", en, w)
		}
	}
	for en, want := range map[string]string{"40 CFR 82.161": "40 CFR 82.161", "common practice; maker's instruction": "práctica común; instrucciones del fabricante",
		"IEC 60335-2-40 DD, as reproduced": "IEC 60335-2-40, anexo DD, según reproducción", "outdoor unit, hall": "unidad exterior, hall"} {
		if got := Term("es", en); got != want {
			t.Errorf("%q: %q", en, got)
		}
		if got := Term("en", en); got != en {
			t.Errorf("%q: %q in English", en, got)
		}
	}
}

func TestCautions(t *testing.T) {
	for _, code := range CautionCodes() {
		c, _ := CautionFor(code)
		if c.Source == "" || c.Rank < 1 || c.Rank > 3 {
			t.Errorf("%s: source %q, rank %d", code, c.Source, c.Rank)
		}
		if !strings.HasPrefix(c.Text["en"], "**") {
			t.Errorf("%s has no bold lead", code)
		}
	}
}

// A count may be 1: no noun in the plural leans on one. "compare.headline.more" has a text of its own for 1, a fit of one reading
// does not exist, and neither does an interval of one month.
func TestCountsOfOne(t *testing.T) {
	plural := map[string]*regexp.Regexp{
		"en": regexp.MustCompile(`\{(count|minutes|months|time|held|asked|settle|duration)\} (more )?[a-z]+s\b`),
		"es": regexp.MustCompile(`\{(count|minutes|months|time|held|asked|settle|duration)\} [a-zñáéíóú]+s\b|\b(los|las|primeros|últimos|otras|otros) \{`),
	}
	fine := []string{"compare.headline.more", "hold.readings", "eu-interval", "too-few-evacuations"}
	look := func(where, key string, text Text) {
		for _, l := range Languages {
			if m := plural[l].FindString(strings.ToLower(text[l])); m != "" && !slices.Contains(fine, key) {
				t.Errorf("%s: %s, %s: %q beside a number that may be 1", where, key, l, m)
			}
		}
	}
	every(look)
	for code, text := range shared().notes {
		look("notes", code, text)
	}
}
