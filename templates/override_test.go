package templates

import (
	"errors"
	"strings"
	"testing"
)

func TestOverride(t *testing.T) {
	base, err := Export("inspector")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Load("inspector", base); err != nil {
		t.Errorf("the exported template is refused: %v", err)
	}
	own := "audience = \"inspector\"\nsections = [\"signoff\", \"cautions\", \"signature\"]\n[words]\n\"section.signoff\" = { en = \"Who stands for it\" }\n"
	tpl, err := Load("inspector", []byte(own))
	if err != nil {
		t.Fatal(err)
	}
	if got := tpl.Word("en", "section.signoff"); got != "Who stands for it" {
		t.Errorf("own word: %q", got)
	}
	if got := tpl.Word("es", "section.signoff"); got != "Conformidad" {
		t.Errorf("the language that is not given: %q", got)
	}
	if got := tpl.Word("en", "foot.page", "page", "2", "pages", "5"); got != "page 2 of 5" {
		t.Errorf("facts: %q", got)
	}
}

func TestOverrideFaults(t *testing.T) {
	for _, c := range []struct {
		name, text string
		line       int
		has        string
	}{
		{"syntax", "audience = \"inspector\"\nsections = [\n", 2, "EOF"},
		{"unknown section", "audience = \"inspector\"\nsections = [\"cautions\", \"weather\"]\n", 2, "weather"},
		{"missing section", "\nsections = [\"cautions\", \"signoff\"]\n", 2, "signature"},
		{"twice", "sections = [\"cautions\", \"cautions\"]\n", 1, "twice"},
		{"other audience", "audience = \"homeowner\"\n", 1, "homeowner"},
		{"unknown word", "[words]\n\n\"section.nothing\" = { en = \"x\" }\n", 3, "unknown text"},
		{"unknown fact", "[words]\n\"foot.page\" = { en = \"{sheet}\" }\n", 2, "{sheet}"},
		{"forbidden", "[words]\n\"section.hold\" = { en = \"The circuit is dry\" }\n", 2, "dry"},
		{"fixed", "[words]\n\"fixed.hold\" = { en = \"All is well\" }\n", 2, "fixed"},
		{"language", "[words]\n\"section.hold\" = { xx = \"y\" }\n", 2, "xx"},
		{"unknown key", "audience = \"inspector\"\ncolour = \"blue\"\n", 2, "colour"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := Load("inspector", []byte(c.text))
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("got %v", err)
			}
			if e.Line != c.line || !strings.Contains(e.Error(), c.has) {
				t.Errorf("line %d, want %d: %v", e.Line, c.line, e)
			}
		})
	}
}

func FuzzLoad(f *testing.F) {
	f.Add([]byte("audience = \"inspector\"\n"))
	f.Fuzz(func(t *testing.T, b []byte) {
		if tpl, err := Load("inspector", b); (tpl == nil) == (err == nil) {
			t.Errorf("template %v with error %v", tpl, err)
		}
	})
}

// A template that nests without end is refused before the library reads it, which would take memory by the square of the depth.
func TestDeep(t *testing.T) {
	text := "x = " + strings.Repeat("{a = ", 50000) + "1" + strings.Repeat("}", 50000)
	if _, err := load(&Template{Audience: "homeowner"}, []byte(text)); err == nil || !strings.Contains(err.Error(), "in one another") {
		t.Errorf("%v", err)
	}
	if a := AudienceOf([]byte(text)); a != "" {
		t.Errorf("audience %q", a)
	}
	if deep([]byte("a = \"[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\" # {{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{{\nb = [[1]]\n")) {
		t.Error("brackets in a text or a comment count")
	}
}
