package report

import (
	"math"
	"strings"
)

// letterhead is the firm at the left and the kind of record at the right.
func (b *builder) letterhead() block {
	c := b.rec.Job.Company
	name, small := style{9.5, 12, true}, style{8, 10.5, false}
	address := []string{clean(c.Address), clean(c.Phone), labelled(b.w("licence"), clean(c.Licence))}
	right := b.w("running.job", "job", b.rec.Job.Number)
	if b.rec.Job.Revision > 1 {
		right += " · " + b.w("revision", "number", b.p.count(b.rec.Job.Revision), "amends", firstFours(clean(b.rec.Job.Amends)), "reason", clean(or(b.rec.Job.Reason, b.w("missing.given"))))
	}
	logo := b.pics[c.Logo]
	lw, lh := 0.0, 0.0
	if logo != nil {
		lw, lh = logo.fit(40*mm, 11*mm)
	}
	lx := lw
	if lx > 0 {
		lx += 3 * mm
	}
	rightW := math.Min(math.Max(width(b.w("audience.title"), name), width(right, small)), measureWidth*0.42)
	leftW := measureWidth - rightW - 6*mm - lx
	firm := wrap(clean(or(c.Name, b.w("missing.firm"))), name, leftW)
	addr := wrap(byItem(address, small, leftW), small, leftW)
	kind := wrap(b.w("audience.title"), name, rightW)
	job := shortened(right, small, rightW, 4) // the reason stands whole on the last page
	lh2 := func(a, b []line) float64 { return float64(len(a))*name.lead + float64(len(b))*small.lead }
	h := math.Max(math.Max(lh2(firm, addr), lh2(kind, job)), lh) + 4
	return custom{h: func(float64) float64 { return h }, paint: func(s *sheet, x, y, w float64) {
		if logo != nil {
			n := s.mark("Figure", func() { s.image(logo, x, y, lw, lh) })
			n.Alt = b.w("alt.logo")
		}
		s.mark("P", func() {
			s.lines(x+lx, y, leftW, firm, name, 'l')
			s.lines(x+lx, y+float64(len(firm))*name.lead, leftW, addr, small, 'l')
		})
		s.mark("P", func() {
			s.lines(x+w-rightW, y, rightW, kind, name, 'r')
			s.lines(x+w-rightW, y+float64(len(kind))*name.lead, rightW, job, small, 'r')
		})
		s.rule(x, y+h, w, 0.5)
	}}
}

// byItem sets items beside each other, parted by dots, and breaks lines between
// them rather than within one.
func byItem(items []string, st style, w float64) string {
	out, last := "", ""
	for _, x := range items {
		switch {
		case x == "":
		case last == "":
			out, last = x, x
		case width(last+" · "+x, st) <= w:
			out, last = out+" · "+x, last+" · "+x
		default:
			out, last = out+"\n"+x, x
		}
	}
	return out
}

// cell of the strip; most is the number of lines after which it is cut, for
// texts that stand whole further down.
type cell struct {
	label, text string
	most        int
}

const uncut = 30 // lines of a text that stands in the strip alone

// lines sets a caller's texts below each other.
func lines(parts ...string) string {
	for i := range parts {
		parts[i] = clean(parts[i])
	}
	return join("\n", parts...)
}

func (b *builder) identity() []cell {
	j := b.rec.Job
	missing := b.w("missing.given")
	site := or(lines(j.Site.Name, j.Site.Address), missing)
	permit := ""
	if j.Site.Permit != "" {
		permit = b.w("permit") + " " + clean(j.Site.Permit)
	}
	kind := or(b.wordOr("kind."+j.Kind, ""), missing)
	date := missing
	if j.Date != "" {
		date = b.p.day(j.Date)
	}
	by := or(lines(j.Technician.Name, j.Technician.Certification), missing)
	system := join("\n", join(", ", clean(j.System.Refrigerant), b.volumeText()), kind)
	var units []string
	for _, e := range j.Equipment {
		units = append(units, join(" · ", or(clean(e.Model), b.term(e.Role)), clean(e.Serial)))
	}
	place := []string{}
	if j.Barometer.Finite() {
		place = append(place, b.w("barometer", "pressure", b.p.point(j.Barometer, b.p.sys.Atmosphere)))
	}
	if j.Altitude != "" {
		place = append(place, b.w("altitude", "length", clean(j.Altitude)))
	}
	place = append(place, b.w("timezone", "zone", clean(or(j.Timezone, missing))))
	switch b.t.Audience {
	case "homeowner":
		what := missing
		if len(j.Equipment) > 0 {
			what = lines(b.term(j.Equipment[0].Role), join(" ", j.Equipment[0].Maker, j.Equipment[0].Model))
		}
		return []cell{{b.w("strip.site"), site, uncut}, {b.w("strip.equipment"), what, 4}, {b.w("strip.work"), kind + "\n" + date, uncut}, {b.w("strip.by"), by, uncut}}
	case "warranty":
		start := b.w("missing.recorded")
		if b.rec.Startup != nil {
			start = b.w("strip.startup_recorded")
		}
		label := b.w("strip.startup")
		if permit != "" {
			label = b.w("strip.startup_permit")
		}
		return []cell{{b.w("strip.site"), site, uncut}, {b.w("strip.work"), kind + "\n" + date, uncut}, {b.w("strip.installer"), by, uncut}, {label, join("\n", start, permit), uncut}}
	}
	circuit := b.w("strip.system")
	if j.System.Circuit != "" {
		circuit = b.w("strip.circuit", "circuit", clean(j.System.Circuit))
	}
	return []cell{{b.w("strip.site_permit"), join("\n", site, permit), uncut}, {circuit, or(system, missing), uncut}, {b.w("strip.units"), or(strings.Join(units, "\n"), missing), 4}, {b.w("strip.place"), strings.Join(place, "\n"), uncut}}
}

func (b *builder) volumeText() string {
	if !b.rec.Job.System.Volume.Finite() {
		return b.w("volume.missing")
	}
	return b.p.volume(b.rec.Job.System.Volume)
}
