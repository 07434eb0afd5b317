package report

import (
	"slices"
	"strings"

	"dryhold/analysis/quantity"
	"dryhold/report/plot"
)

// how is the hold for a homeowner: a figure and two sentences.
func (b *builder) how() []section {
	if b.rec.Hold == nil {
		return b.absent("how")
	}
	var blocks []block
	bar := ""
	if f := plot.Hold(b.rec, b.plots()); f != nil {
		blocks = append(blocks, picture{f: f})
		if slices.Contains(f.Legend, "hold.bar") {
			bar = b.w("how.bar") + " "
		}
	}
	blocks = append(blocks, b.caption(b.w("plain.hold")))
	sec := b.titled("how", blocks...)
	sec.note = bar + b.w("how.note."+b.p.sys.Name, "atmosphere", b.p.number(quantity.Atm.SI(1), b.p.sys.Vacuum, 0))
	return []section{sec}
}

// done is what was done, in five steps.
func (b *builder) done() []section {
	t := table{headless: true, cols: []column{{"", 'l'}, {"", 'l'}}}
	n := 0
	add := func(key, text string) {
		n++
		t.rows = append(t.rows, []string{bold(b.p.count(n) + nb + nb + strings.ReplaceAll(b.w("done."+key), " ", nb)), or(text, b.w("absent"))})
	}
	add("pressure", upper(b.donePressure()))
	pull := ""
	if pd := b.rec.PullDown; pd != nil {
		pull = b.w("done.pulldown_text", "duration", b.p.duration(within(pd.Start, pd.End)), "level", b.p.point(pd.Lowest, b.p.sys.Vacuum))
		if k := len(b.rec.Breaks); k > 0 {
			pull += " " + b.w("done.breaks", "count", b.p.count(k))
		}
	}
	add("pulldown", pull)
	hold := ""
	if h := b.rec.Hold; h != nil {
		hold = b.w("done.hold_text", "duration", b.p.duration(within(h.Start, h.End)))
	}
	add("hold", hold)
	add("charge", b.doneCharge())
	add("startup", b.doneStartup())
	return []section{b.titled("done", t)}
}

func (b *builder) donePressure() string {
	p := b.rec.Pressure
	if p == nil {
		return ""
	}
	text := b.w("done.pressure_text", "gas", or(b.term(p.Gas), b.w("missing.gas")), "pressure", b.p.pressure(plainOrNil(p.StartPressure)), "duration", b.p.duration(firstValue(p.Duration, within(p.Start, p.End))), "decision", b.pressureDecision(p))
	if b.inflow() {
		text += " " + b.w("done.pressure_not_cancel")
	}
	return text
}

func (b *builder) doneCharge() string {
	var parts []string
	if c := b.rec.Charge; c != nil {
		parts = append(parts, b.w("done.charge_text", "mass", b.p.mass(plainOrNil(firstValue(c.Total, c.Added))), "refrigerant", clean(or(b.rec.Job.System.Refrigerant, b.w("missing.given")))))
	}
	if len(parts) == 0 && len(b.rec.Leaks) > 0 {
		parts = append(parts, b.w("absent"))
	}
	for _, l := range b.rec.Leaks {
		parts = append(parts, b.w("done.leak_text", "stage", b.stage(l.Stage), "result", clean(or(l.Result, b.w("missing.given")))))
	}
	return join(" ", parts...)
}

func (b *builder) doneStartup() string {
	if b.rec.Startup == nil {
		return ""
	}
	var parts []string
	for _, r := range b.rec.Startup.Rows {
		if !r.Value.Finite() {
			continue
		}
		parts = append(parts, join(" ", b.judgedName(r.Name), b.judgedValue(r, r.Value))+" ("+b.decisionWord(r.Decision)+")")
	}
	return sentence(join("; ", parts...))
}

// work is the pull-down and who did it, in plain words.
func (b *builder) work() []section {
	j := b.rec.Job
	who := join(", ", clean(j.Technician.Name), clean(j.Technician.Certification), clean(j.Company.Name))
	sec := b.titled("work", b.text(b.w("plain.pulldown")), b.text(b.w("plain.by", "who", or(who, b.w("missing.given")))))
	sec.together = true
	return []section{sec}
}

// equipment is every unit with its serial as written, copied without blanks.
func (b *builder) equipment() []section {
	if len(b.rec.Job.Equipment) == 0 {
		return b.absent("equipment")
	}
	t := table{cols: b.heads("role", "maker", "model", "serial_written")}
	missing := bold(b.w("missing.given"))
	for _, e := range b.rec.Job.Equipment {
		t.rows = append(t.rows, []string{or(b.term(e.Role), missing), or(clean(e.Maker), missing), or(clean(e.Model), missing), or(bold(grouped(clean(e.Serial))), missing)})
	}
	for i := range t.rows {
		if b.rec.Job.Equipment[i].Serial == "" {
			t.rows[i][3] = missing
		}
	}
	blocks := []block{t}
	var pairs []string
	for _, e := range b.rec.Job.Equipment {
		if s := confusable(e.Serial, b); s != "" {
			pairs = append(pairs, clean(e.Serial)+": "+s)
		}
	}
	if len(pairs) > 0 && len(pairs) <= 4 {
		blocks = append(blocks, b.caption(b.w("serial.read", "list", join("; ", pairs...))))
	}
	return []section{b.titled("equipment", blocks...)}
}

// grouped parts a long run of letters and digits in fours, by room and not by
// blanks: what is copied is the serial as written. One that has parts of its own
// is left alone.
func grouped(serial string) string {
	const least, group = 8, 4
	if len(serial) < least || strings.Trim(serial, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz") != "" {
		return serial
	}
	var out strings.Builder
	for len(serial) > group+1 {
		out.WriteString(serial[:group] + string(partMark))
		serial = serial[group:]
	}
	return out.String() + serial
}

// confusable names the letters of a serial that beside a digit are taken for
// one: O, I, l, S, B.
func confusable(serial string, b *builder) string {
	var out []string
	all := []rune(serial)
	digit := func(i int) bool { return i >= 0 && i < len(all) && all[i] >= '0' && all[i] <= '9' }
	for i, r := range all {
		if strings.ContainsRune("OIlSB", r) && (digit(i-1) || digit(i+1)) {
			out = append(out, b.w("serial.letter", "place", b.p.count(i+1), "letter", string(r)))
		}
	}
	return join(", ", out...)
}

// proof is the evacuation on one page for the warranty desk.
func (b *builder) proof() []section {
	pd, h := b.rec.PullDown, b.rec.Hold
	if pd == nil && h == nil {
		return b.absent("proof")
	}
	var blocks []block
	if f := b.fig("pulldown"); f != nil {
		blocks = append(blocks, f)
	}
	u := b.p.sys.Vacuum
	t := table{cols: []column{{b.w("proof.levels", "unit", u.Name), 'l'}, {b.w("proof.length"), 'l'}, {b.w("proof.breaks"), 'l'}, {b.w("proof.pressure"), 'l'}}}
	lowest, start, end := "–", "–", "–"
	if pd != nil && pd.Lowest.Finite() {
		lowest = b.p.bare(pd.Lowest, u)
	}
	row := []string{"", "–", b.p.count(len(b.rec.Breaks)), b.w("missing.recorded")}
	if h != nil {
		if h.StartPressure.Finite() && h.EndPressure.Finite() {
			start, end = b.p.bare(h.StartPressure, u), b.p.bare(h.EndPressure, u)
		}
		row[1] = b.p.duration(within(h.Start, h.End))
	}
	row[0] = join(" / ", lowest, start, end)
	if p := b.rec.Pressure; p != nil {
		row[3] = join(", ", b.p.pressure(plainOrNil(p.StartPressure)), b.p.duration(firstValue(p.Duration, within(p.Start, p.End))), b.pressureDecision(p))
	}
	t.rows = [][]string{row}
	blocks = append(blocks, t)
	sec := b.titled("proof", blocks...)
	y := b.rec.Job.Boundary
	gauge := b.w("missing.given")
	if y.GaugeAt != "" {
		gauge = b.wordOr("gauge."+y.GaugeAt, clean(y.GaugeAt))
	}
	sec.note = join("\n", b.w("boundary.gauge")+": "+gauge, b.w("boundary.excluded")+": "+clean(or(join(", ", y.Excluded...), b.w("missing.given"))), sec.note)
	return []section{sec}
}
