package report

import (
	"strings"

	"dryhold/report/face"
)

// wrapPlain is wrap for an unmarked text, as most are: its lines are parts of it. It
// leaves a text with a word that is wider than a line to wrap.
func wrapPlain(s string, st style, w float64) ([]line, bool) {
	var out []line
	blank := face.Width(" ", st.bold) * st.size
	flush := func(text string, w float64) {
		out = append(out, line{runs: []run{{text: text, bold: st.bold, w: w}}, w: w})
	}
	start, end, sum := 0, 0, 0.0 // of the line
	for from := 0; from < len(s); {
		to := len(s)
		if i := strings.IndexByte(s[from:], ' '); i >= 0 {
			to = from + i
		}
		word := face.Width(s[from:to], st.bold) * st.size
		switch {
		case word > w:
			return nil, false
		case from == 0:
			sum = word
		case sum+blank+word > w+0.01:
			flush(s[start:end], sum)
			out[len(out)-1].dropDot(st)
			start, sum = from, word
		default:
			sum += blank + word
		}
		end, from = to, to+1
	}
	flush(s[start:end], sum)
	return out, true
}

// wrap breaks a text into lines of at most w.
func wrap(s string, st style, w float64) []line {
	if unmarked(s) {
		if out, ok := wrapPlain(s, st, w); ok {
			return out
		}
	}
	var out []line
	cur := line{}
	for _, x := range words(s, st) {
		if x.br && len(cur.runs) > 0 {
			out, cur = append(out, cur), line{}
		}
		for _, part := range fit(x, st, w) {
			blank := part.blank
			if len(cur.runs) == 0 {
				blank = 0
			}
			if len(cur.runs) > 0 && cur.w+blank+part.w > w+0.01 {
				cur.dropDot(st)
				out, cur = append(out, cur), line{}
				blank = 0
			}
			cur.add(part, blank)
		}
	}
	if len(cur.runs) > 0 {
		out = append(out, cur)
	}
	return out
}

// dropDot takes off a middle dot that would end a line: it parts what stands
// beside it, and a new line does that already.
func (l *line) dropDot(st style) {
	last := &l.runs[len(l.runs)-1]
	if t, ok := strings.CutSuffix(last.text, " ·"); ok && last.shift == 0 {
		l.w -= last.w
		last.text = t
		measure(last, st)
		l.w += last.w
	}
}

func (l *line) add(x word, blank float64) {
	for i, r := range x.runs {
		if i == 0 && blank > 0 {
			if n := len(l.runs); n > 0 && l.runs[n-1].bold == r.bold && l.runs[n-1].shift == 0 && r.shift == 0 && !r.parts {
				l.runs[n-1].text += " " + r.text
				l.runs[n-1].w += blank + r.w
				l.w += blank + r.w
				continue
			}
			l.runs = append(l.runs, run{text: " ", bold: r.bold, w: blank})
			l.w += blank
		}
		if n := len(l.runs); n > 0 && l.runs[n-1].bold == r.bold && l.runs[n-1].shift == r.shift && !l.runs[n-1].parts && !r.parts {
			l.runs[n-1].text += r.text
			l.runs[n-1].w += r.w
		} else {
			l.runs = append(l.runs, r)
		}
		l.w += r.w
	}
}

// fit cuts a word that is wider than the line, first after - / . _ and then
// anywhere.
func fit(x word, st style, w float64) []word {
	if x.w <= w {
		return []word{x}
	}
	var out []word
	cur := word{blank: x.blank}
	for _, r := range x.runs {
		start, last := 0, 0
		for i, c := range r.text {
			end := i + len(string(c))
			piece := run{text: r.text[start:end], bold: r.bold, shift: r.shift}
			measure(&piece, st)
			if cur.w+piece.w > w && i > start {
				cut := i
				if last > start {
					cut = last
				}
				p := run{text: r.text[start:cut], bold: r.bold, shift: r.shift}
				measure(&p, st)
				cur.runs = append(cur.runs, p)
				cur.w += p.w
				out, cur = append(out, cur), word{}
				start = cut
			} else if cur.w+piece.w > w && len(cur.runs) > 0 {
				out, cur = append(out, cur), word{}
			}
			if strings.ContainsRune("-/._,;@", c) {
				last = end
			}
		}
		p := run{text: r.text[start:], bold: r.bold, shift: r.shift}
		measure(&p, st)
		cur.runs = append(cur.runs, p)
		cur.w += p.w
	}
	return append(out, cur)
}

// longest is the width of the widest unbreakable word.
func longest(s string, st style) float64 {
	w := 0.0
	if unmarked(s) {
		for word := range strings.SplitSeq(s, " ") {
			w = max(w, face.Width(word, st.bold))
		}
		return w * st.size
	}
	for _, x := range words(s, st) {
		w = max(w, x.w)
	}
	return w
}
