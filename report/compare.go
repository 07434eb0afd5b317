package report

import (
	"slices"
	"strings"
	"time"

	"dryhold/analysis/record"
)

// Compared is one of two records that are set side by side.
type Compared struct {
	Record *record.Record
	Digest string // SHA-256 of results.json
	File   string
	// Signer, Fingerprint and SignedAt (RFC 3339) are of the record's signature.
	Signer, Fingerprint, SignedAt string
	// Fault is why the record does not verify; empty where it does.
	Fault string
}

// Row is one line of a comparison in the reader's words.
type Row struct {
	What, Old, New string
	record.Pair
}

// comparison is two records told in the same language and units, those of the later one.
type comparison struct {
	*builder // of the later record; its words are those of the page
	old      *builder
	side     [2]Compared
	names    [2]string
	rows     []Row
}

// Rows sets two records side by side: first what differs beyond its uncertainty,
// then what differs otherwise, what cannot be told apart, and what is the same.
func Rows(old, new *record.Record, opt Options) ([]Row, error) {
	c, err := newComparison(Compared{Record: old}, Compared{Record: new}, opt)
	if err != nil {
		return nil, err
	}
	for i := range c.rows {
		r := &c.rows[i]
		r.What, r.Old, r.New = plain(r.What), brief(plain(r.Old), longestText), brief(plain(r.New), longestText)
	}
	return c.rows, nil
}

// plain is a text for a terminal.
func plain(s string) string {
	return strings.NewReplacer(nb, " ", string(supMark), "^", string(subMark), "", string(endMark), "", string(boldMark), "").Replace(s)
}

func newComparison(old, new Compared, opt Options) (*comparison, error) {
	show := new.Record.Show
	opt.Audience, opt.Template, opt.Images = "inspector", nil, nil
	opt.Language, opt.Units, opt.Paper = or(opt.Language, show.Language), or(opt.Units, show.Units), or(opt.Paper, show.Paper)
	a, err := newBuilder(old.Record, opt)
	if err != nil {
		return nil, err
	}
	b, err := newBuilder(new.Record, opt)
	if err != nil {
		return nil, err
	}
	c := &comparison{builder: b, old: a, side: [2]Compared{old, new}, names: names(a, b)}
	for _, p := range record.Compare(old.Record, new.Record) {
		row := Row{What: b.thing(p.Key), Old: a.told(p.Key, p.Old, p.OldText), New: b.told(p.Key, p.New, p.NewText), Pair: p}
		if p.Finding == record.Differs && p.Old != nil && row.Old == row.New { // by less than the digits that are told
			row.Finding = record.Same
		}
		c.rows = append(c.rows, row)
	}
	slices.SortStableFunc(c.rows, func(x, y Row) int { return rank[x.Finding] - rank[y.Finding] })
	return c, nil
}

// rank is the order in which findings are told.
var rank = map[record.Finding]int{record.Beyond: 0, record.Differs: 1, record.OneOnly: 1, record.Within: 2, record.Same: 3}

// thing names what a pair is about.
func (b *builder) thing(key string) string {
	if name, ok := strings.CutPrefix(key, "startup."); ok {
		number := strings.TrimLeft(name, "abcdefghijklmnopqrstuvwxyz- ") // of several with one name
		return b.w("compare.startup", "name", join(" ", b.judgedName(strings.TrimSpace(strings.TrimSuffix(name, number))), clean(number)))
	}
	return b.w("compare." + key)
}

// told is one side of a pair in the reader's words and units.
func (b *builder) told(key string, v *record.Value, text string) string {
	part, _, _ := strings.Cut(key, ".")
	switch {
	case v == nil && text == "":
		return b.w("missing.recorded")
	case key == "hold.result":
		return b.decisionWord(b.decision()) + "; " + b.w("remark.cause", "cause", b.w("answer.cause."+b.cause()))
	case key == "pressure.decision":
		return b.decisionWord(text)
	case key == "boundary.gauge_at":
		return b.wordOr("gauge."+text, clean(text))
	case text != "":
		return clean(text)
	case part == "startup":
		return b.p.withUnit(b.p.bareInterval(v, b.judgedUnit(v)), b.judgedUnit(v))
	case key == "hold.limit":
		return b.limitText(v)
	case key == "hold.rise", key == "hold.levels_off":
		return b.p.delta(v)
	case key == "pressure.change":
		return b.p.pressureChange(v)
	case key == "pulldown.rate":
		return b.perMinuteRate(v)
	}
	return b.p.any(v)
}

// longestText is how much of a text as written a comparison shows.
const longestText = 100

func brief(s string, most int) string {
	if r := []rune(s); len(r) > most {
		return strings.TrimRight(string(r[:most-1]), " ,;") + "…"
	}
	return s
}

// names tell the records from each other: by job, revision and day.
func names(old, new *builder) [2]string {
	var list [2]string
	for i, b := range []*builder{old, new} {
		j := b.rec.Job
		list[i] = brief(clean(j.Number), 24)
		if j.Revision > 1 {
			list[i] += " r" + itoa(j.Revision)
		}
		if j.Date != "" {
			list[i] += ", " + b.p.day(j.Date)
		}
	}
	if list[0] == list[1] {
		list[0], list[1] = list[0]+" (1)", list[1]+" (2)"
	}
	return list
}

// found are the rows of some findings: those of the setting, or the others.
func (c *comparison) found(setting bool, findings ...record.Finding) []Row {
	var list []Row
	for _, r := range c.rows {
		if slices.Contains(findings, r.Finding) && slices.Contains(settings, r.Key) == setting {
			list = append(list, r)
		}
	}
	return list
}

// settings that are not the same make the numbers hard to compare.
var settings = []string{"circuit", "equipment", "refrigerant", "volume", "boundary.included", "boundary.excluded", "boundary.valves", "boundary.gauge_at", "instruments"}

// care says why the numbers may mislead, "" for no reason.
func (c *comparison) care() string {
	var names []string
	other := false
	for _, r := range c.found(true, record.Beyond, record.Differs, record.OneOnly) {
		names = append(names, lower(r.What))
		other = other || r.Key == "circuit" || r.Key == "equipment"
	}
	var parts []string
	if c.side[0].Fault != "" || c.side[1].Fault != "" {
		parts = append(parts, bold(c.w("compare.doubtful")))
	}
	if other {
		parts = append(parts, bold(c.w("compare.other_circuit")))
	}
	if len(names) > 0 {
		parts = append(parts, c.w("compare.care", "list", strings.Join(names, ", ")))
	}
	return join(" ", parts...)
}

// headline counts what differs beyond its uncertainty.
func (c *comparison) headline() string {
	n := len(c.found(false, record.Beyond))
	judged := slices.ContainsFunc(c.rows, func(r Row) bool {
		return r.Pair.Old.Finite() && r.Pair.New.Finite() && r.Pair.Old.Confidence > 0 && r.Pair.New.Confidence > 0 && !slices.Contains(settings, r.Key)
	})
	switch {
	case !judged:
		return c.w("compare.headline.unknown")
	case n == 0:
		return c.w("compare.headline.none")
	case n == 1:
		return c.w("compare.headline.one", "what", lower(c.found(false, record.Beyond)[0].What))
	}
	return c.w("compare.headline.more", "count", c.p.count(n))
}

func (c *comparison) created() time.Time {
	a, b := c.old.created(), c.builder.created()
	if a.After(b) {
		return a
	}
	return b
}
