package report

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

// An unmarked text is broken as the same text is with marks, which takes the general way.
func TestWrapPlain(t *testing.T) {
	st := style{8, 10.5, false}
	text := "The readings level off; what was found is −0.5 °C below what the limit allows, see section 3.4/b."
	for _, s := range []string{text, text + " " + text, "one", "a b", strings.Repeat("antidisestablishmentarianism/", 9)} {
		for _, w := range []float64{18, 30, 61.5, 120, 400} {
			var got, want []string
			widest := 0.0
			for _, l := range wrap(s, st, w) {
				text := ""
				for _, r := range l.runs {
					text += r.text
				}
				got = append(got, text+strconv.FormatFloat(l.w, 'f', 6, 64))
				widest = math.Max(widest, l.w)
			}
			for _, l := range wrap(string(endMark)+s, st, w) {
				text := ""
				for _, r := range l.runs {
					text += r.text
				}
				want = append(want, text+strconv.FormatFloat(l.w, 'f', 6, 64))
			}
			if strings.Join(got, "\n") != strings.Join(want, "\n") || len(got) == 0 {
				t.Errorf("%.0f points:\n%s\nwant\n%s", w, strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
			if widest > w+0.01 {
				t.Errorf("%.1f points: a line of %.2f", w, widest)
			}
		}
		if got, want := longest(s, st), longest(string(endMark)+s, st); math.Abs(got-want) > 1e-9 {
			t.Errorf("longest word: %v, want %v", got, want)
		}
		if got, want := width(s, st), width(string(endMark)+s, st); math.Abs(got-want) > 1e-9 {
			t.Errorf("width: %v, want %v", got, want)
		}
	}
}

func TestNum(t *testing.T) {
	s := &sheet{}
	for _, x := range []float64{0, 1, -1, 0.05, -0.05, 12.3, 12.34, 12.345678, 612, -0.001, 99.999} {
		s.num(x)
	}
	if got, want := string(s.buf), "0 1 -1 0.05 -0.05 12.3 12.34 12.35 612 0 100 "; got != want {
		t.Errorf("%s, want %s", got, want)
	}
}
