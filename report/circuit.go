package report

import (
	"regexp"
	"strings"
)

func (b *builder) boundary() []section {
	y := b.rec.Job.Boundary
	missing := bold(b.w("missing.given"))
	list := func(v []string) string {
		if len(v) == 0 {
			return missing
		}
		out := make([]string, len(v))
		for i := range v {
			out[i] = b.term(v[i])
		}
		return join(", ", out...)
	}
	cores := missing
	if y.CoresRemoved != nil {
		cores = b.yesNo(*y.CoresRemoved)
	}
	place := missing
	if y.GaugeAt != "" {
		place = b.wordOr("gauge."+y.GaugeAt, clean(y.GaugeAt))
	}
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}, rows: [][]string{
		{b.w("boundary.included"), list(y.Included)}, {b.w("boundary.excluded"), list(y.Excluded)},
		{b.w("boundary.valves"), or(clean(y.Valves), missing)}, {b.w("boundary.isolated"), or(clean(y.IsolatedAt), missing)},
		{b.w("boundary.gauge"), place}, {b.w("boundary.cores"), cores}}}
	sys := b.rec.Job.System
	if sys.Volume.Finite() {
		t.rows = append(t.rows, []string{b.w("boundary.volume"), join(", ", b.p.volume(sys.Volume), b.wordOr("volume."+sys.VolumeFrom, clean(sys.VolumeFrom)))})
	} else {
		t.rows = append(t.rows, []string{b.w("boundary.volume"), missing})
	}
	for _, l := range sys.Lines {
		text := clean(l.Text)
		if l.Volume.Finite() {
			text = join(": ", text, b.p.volume(l.Volume))
		}
		t.rows = append(t.rows, []string{or(b.term(l.Role), b.w("boundary.line")), text})
	}
	return []section{b.titled("boundary", t)}
}

func (b *builder) yesNo(v bool) string {
	if v {
		return b.w("yes")
	}
	return b.w("no")
}

func (b *builder) instruments() []section {
	if len(b.rec.Instruments) == 0 {
		return b.absent("instruments")
	}
	t := table{cols: b.heads("id", "measures", "serial", "accuracy", "calibrated", "due")}
	for _, i := range b.rec.Instruments {
		missing := bold(b.w("missing.given"))
		due := or(b.dateOr(i.Due), missing)
		if i.Overdue {
			due = bold(join(" ", due, b.w("overdue")))
		}
		measures := join(", ", b.wordOr("measures."+i.Measures, clean(i.Measures)), b.term(i.Principle))
		if b.t.Audience == "inspector" {
			measures = join(", ", measures, b.measure(i.Range))
		}
		acc := b.measure(i.Accuracy)
		if b.t.Audience == "inspector" {
			acc = join("; ", acc, labelled(b.w("resolution"), b.measure(i.Resolution)))
		}
		cal := or(b.dateOr(i.Calibrated), missing)
		if i.Certificate != "" && b.t.Audience == "inspector" {
			cal += ", " + clean(i.Certificate)
		}
		t.rows = append(t.rows, []string{clean(i.ID), or(measures, missing), or(clean(i.Serial), missing), or(acc, missing), cal, due})
	}
	return []section{b.titled("instruments", t)}
}

// measure is a quantity or range as it was written, in the reader's language:
// only words of units change.
func (b *builder) measure(s string) string {
	s = clean(s)
	if b.opt.Language != "en" {
		s = oneMicron.ReplaceAllString(s, "${1}1 "+b.w("unit.micron.one"))
		s = micron.ReplaceAllString(s, b.w("unit.micron"))
		s = strings.ReplaceAll(s, " to ", " "+b.w("measure.to")+" ")
		for _, of := range []string{"of range", "of reading"} {
			s = strings.ReplaceAll(s, of, b.term(of))
		}
	}
	return bound(negative.ReplaceAllString(s, "${1}−$2"))
}

var (
	micron    = regexp.MustCompile(`\bmicrons?\b`)
	negative  = regexp.MustCompile(`(^|\s)-(\d)`)
	oneMicron = regexp.MustCompile(`(^|[^\d.,])1 microns?\b`)
)

var unitAfter = regexp.MustCompile(`(\d) (%|°|[µΩA-Za-z]+)`)

// bound keeps a number that was written with its unit on one line.
func bound(s string) string {
	return unitAfter.ReplaceAllStringFunc(s, func(q string) string {
		if n, u, _ := strings.Cut(q, " "); u != "to" && u != "a" && u != "x" && u != "of" {
			return n + nb + u
		}
		return q
	})
}

func (b *builder) dateOr(s string) string { return clean(s) }

func (b *builder) inputs() []section {
	if len(b.rec.Inputs) == 0 {
		return b.absent("inputs")
	}
	t := table{cols: b.heads("file", ">rows", ">used", ">left_out", ">order", ">step", "unit", "sha")}
	for _, in := range b.rec.Inputs {
		step := "–"
		if in.Interval.Finite() {
			step = b.p.duration(in.Interval)
		}
		var why []string
		for _, c := range []struct {
			n   int
			key string
		}{{in.OverRange, "over"}, {in.UnderRange, "under"}, {in.NotANumber, "nan"}, {in.Duplicates, "duplicates"}, {in.Unused, "unused"}} {
			if c.n > 0 {
				why = append(why, b.p.count(c.n)+nb+b.w("rows."+c.key))
			}
		}
		left := join(", ", why...)
		name := clean(in.File)
		if in.Sheet != "" {
			name += ", " + b.w("sheet") + " " + clean(in.Sheet)
		}
		t.rows = append(t.rows, []string{name, b.p.count(in.Rows), b.p.count(in.Used), or(left, "0"),
			b.p.count(in.OutOfOrder) + nb + "/" + nb + b.p.count(in.Gaps), step, b.measure(or(in.PressureUnit, "–")), firstFours(in.SHA256)})
	}
	return []section{b.titled("inputs", t)}
}
