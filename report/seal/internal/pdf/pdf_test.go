package pdf

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// Spellings from ISO 32000-1, 7.3, its own examples.
func TestParse(t *testing.T) {
	for in, want := range map[string]Object{
		"true": true, "null": nil, "+17": 17, "-98": -98, "34.5": 34.5, "-.002": -.002, "4.": 4.0,
		"(Strings may contain balanced parentheses ( ) and so on)": String("Strings may contain balanced parentheses ( ) and so on"),
		`(These \
two strings \
are the same.)`: String("These two strings are the same."),
		`(This string contains \245two octal characters\307.)`: String("This string contains \xA5two octal characters\xC7."),
		`(\0053)`: String("\x053"), `(\53)`: String("+"),
		"<4E6F762073686D6F7A206B6120706F702E>": String("Nov shmoz ka pop."), "<901FA>": String("\x90\x1F\xA0"),
		"/Name1": Name("Name1"), "/A;Name_With-Various***Characters?": Name("A;Name_With-Various***Characters?"),
		"/lime#20Green": Name("lime Green"), "/paired#28#29parentheses": Name("paired()parentheses"), "/A#42": Name("AB"),
		"[549 3.14 false (Ralph) /SomeName]": Array{549, 3.14, false, String("Ralph"), Name("SomeName")},
		"<</Type /Example /Sub <</Item 0.4>> /R 12 0 R>>": Dict{{"Type", Name("Example")},
			{"Sub", Dict{{"Item", 0.4}}}, {"R", Ref{12, 0}}},
	} {
		got, err := (&parser{data: []byte(in)}).object(0)
		if err != nil || !Equal(got, want) {
			t.Errorf("%s: got %#v, %v; expected %#v", in, got, err, want)
		}
	}
	for _, in := range []string{"", "<<", "[1", "(a", "<4", "<4G>", "<</A 1 /A 2>>", "<<1 2>>", "/A#4", "1e5", "0x10", "nil", "]", "{",
		string(bytes.Repeat([]byte("["), 1000))} {
		if got, err := (&parser{data: []byte(in)}).object(0); err == nil {
			t.Errorf("%s: got %#v", in, got)
		}
	}
}

func TestEqual(t *testing.T) {
	a := Dict{{"A", 1}, {"B", Array{Name("x"), nil}}, {"C", nil}}
	for _, test := range []struct {
		b    Object
		want bool
	}{
		{Dict{{"B", Array{Name("x"), nil}}, {"A", 1.0}}, true},
		{Dict{{"B", Array{Name("x")}}, {"A", 1}}, false},
		{Dict{{"B", Array{String("x"), nil}}, {"A", 1}}, false},
		{Dict{{"A", 1}}, false}, {Array{}, false}, {nil, false},
	} {
		if got := Equal(a, test.b); got != test.want {
			t.Errorf("%#v: %v", test.b, got)
		}
	}
}

// FuzzParse: what was read and written again reads as the same.
func FuzzParse(f *testing.F) {
	f.Add([]byte("<</A [1 0 R (x\\)y) <00> /N#20m -1.5 true null]>>"))
	f.Fuzz(func(t *testing.T, in []byte) {
		o, err := (&parser{data: in}).object(0)
		if err != nil {
			return
		}
		out := Append(nil, o)
		again, err := (&parser{data: out}).object(0)
		if err != nil || !Equal(o, again) {
			t.Errorf("%q was written as %q: %v", in, out, err)
		}
	})
}

// small is a file of one object, and an update that writes it again.
func small(t testing.TB) (base *File, update string) {
	t.Helper()
	w := NewWriter(0)
	w.Object(1, Dict{{"A", 1}})
	w.Finish(Dict{{"Root", Ref{1, 0}}})
	base, err := Read(w.Bytes)
	if err != nil {
		t.Fatal(err)
	}
	object := "1 0 obj\n<</Length 2 0 R>>stream\nxyz\nendstream endobj\n2 0 obj 3 endobj\n"
	n := len(w.Bytes)
	return base, fmt.Sprintf("%sxref\n1 2\n%010d 00000 n \n%010d 00000 n \ntrailer <</Size 3 /Root 1 0 R /Prev %d>>\nstartxref\n%d\n%%%%EOF",
		object, n, n+strings.Index(object, "2 0 obj"), base.XRef, n+len(object))
}

func TestReadUpdate(t *testing.T) {
	base, update := small(t)
	u, err := ReadUpdate(base, append(base.data, update...))
	if err != nil || !Equal(u.Objects[1].Value, &Stream{Raw: []byte("xyz")}) || u.Objects[2].Value != 3 {
		t.Errorf("%v, %v", u, err)
	}
	end := update[strings.Index(update, "startxref"):]
	for name, bad := range map[string]string{
		"nothing":         "",
		"two ends":        update + "\n" + end,
		"cut":             update[:len(update)-1],
		"no table":        "startxref\n" + fmt.Sprint(base.XRef) + "\n%%EOF",
		"other length":    strings.Replace(update, "obj 3", "obj 9", 1),
		"table elsewhere": strings.Replace(update, "xref\n1 2", "xref\n2 2", 1),
	} {
		if u, err := ReadUpdate(base, append(base.data, bad...)); err == nil {
			t.Errorf("%s: got %v", name, u)
		}
	}
}

// FuzzUpdate reads anything behind a small file.
func FuzzUpdate(f *testing.F) {
	base, update := small(f)
	f.Add([]byte(update))
	f.Fuzz(func(t *testing.T, tail []byte) {
		u, err := ReadUpdate(base, slices.Concat(base.data, tail))
		if err == nil && u.Trailer.Get("Root") != Object(Ref{1, 0}) {
			t.Error("another root")
		}
	})
}
