package plot

import (
	"math"
	"slices"
	"sort"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"
)

// elapsed prints a time, in seconds where minutes would say too little.
func (o Options) elapsed(s float64) string {
	if s < 120 {
		return o.number(s, quantity.Second, 0) + "\u00a0s"
	}
	return o.number(s, quantity.Minute, 0) + "\u00a0min"
}

type mark struct {
	level, at float64 // Pa, minutes
}

// marks are the levels that were reached, those of the criterion first.
func (d *pullDown) marks() []mark {
	pd := d.r.PullDown
	if pd == nil {
		return nil
	}
	start, ok := d.minutes(pd.Start)
	if !ok {
		return nil
	}
	var out []mark
	for name, v := range pd.TimeTo {
		q, err := quantity.Parse(name, quantity.DimPressure)
		if err != nil || !v.Finite() {
			continue
		}
		out = append(out, mark{q.SI, start + v.V/60})
	}
	sort.Slice(out, func(i, j int) bool {
		if a, b := d.asked(out[i].level), d.asked(out[j].level); a != b {
			return a
		}
		return out[i].level > out[j].level
	})
	return out
}

// asked reports whether a level is part of the criterion.
func (d *pullDown) asked(level float64) bool {
	return d.r.Hold != nil && slices.ContainsFunc(d.r.Hold.Criteria, func(c record.Criterion) bool {
		return c.Limit.Finite() && math.Abs(c.Limit.V-level) <= quantity.Alike*level
	})
}

// levels marks the levels that were reached, with their times where these have room.
func (d *pullDown) levels() {
	a, p, u := d.a, d.p, d.o.Units.Vacuum
	taken := append(d.triple(), d.lowest()...)
	free := func(y float64) bool {
		return !slices.ContainsFunc(taken, func(t float64) bool { return math.Abs(t-y) < 8.5 })
	}
	start := 0.0
	if d.r.PullDown != nil {
		start, _ = d.minutes(d.r.PullDown.Start)
	}
	const most = 4
	named := 0
	for _, m := range d.marks() {
		v := u.From(m.level)
		if !a.shown(m.at, v) || v < a.y0 || v > a.y1 {
			continue
		}
		x, y := a.px(m.at), a.py(v)
		p.disc(x, y, 2, White)
		s := d.o.Word("plot.level_after", "level", d.o.named(d.o.level(m.level)), "time", d.o.elapsed(60*(m.at-start)))
		w := face.Width(s, false) * small
		if named == most || !free(y+4) || x+5+w > a.x+a.w {
			continue
		}
		named++
		taken = append(taken, y+4)
		d.over(x+5, y+1.5, s)
	}
}

// triple names the triple point of water, and tells the heights that the name takes.
func (d *pullDown) triple() []float64 {
	a := d.a
	tp := d.o.Units.Vacuum.From(triplePoint)
	if tp <= a.y0 || tp >= a.y1 {
		return nil
	}
	s := d.o.Word("plot.triple", "level", d.o.named(d.o.level(triplePoint)))
	end := d.clear() - 4
	if end-face.Width(s, false)*small < a.x+4 {
		end = a.x + a.w - 4
	}
	y := a.py(tp) + 3.2
	if a.py(math.Pow(10, math.Ceil(math.Log10(tp))))-a.py(tp) < 12 { // a grid line stands close above
		y = a.py(tp) - 7.5
	}
	d.over(end-face.Width(s, false)*small, y, s)
	return []float64{y + 2.5}
}

// lowest marks the lowest pressure, and tells the heights that its name takes.
func (d *pullDown) lowest() []float64 {
	a, u, pd := d.a, d.o.Units.Vacuum, d.r.PullDown
	if pd == nil || !pd.Lowest.Finite() {
		return nil
	}
	end, ok := d.minutes(pd.End)
	if !ok || !a.shown(end, u.From(pd.Lowest.V)) {
		return nil
	}
	x, y := a.px(end), a.clamp(a.py(u.From(pd.Lowest.V)))
	d.p.disc(x, y, 2, White)
	s := d.o.Word("plot.lowest", "level", d.o.level(pd.Lowest.V))
	if ty := y - 9; ty >= a.y+2 {
		d.over(x-4-face.Width(s, false)*small, ty, s)
		return []float64{ty + 2.5}
	}
	d.over(x+4, y+5, s) // close to the axis the curve comes down at the left
	return []float64{y + 7.5}
}

// over writes s over the grid: on the ground that the figure has there.
func (d *pullDown) over(x, y float64, s string) {
	w, low, high := face.Width(s, false)*small, y-0.25*small, 1.05*small
	d.p.fill(x-1, low, w+2, high, White)
	for _, ph := range d.r.Phases {
		a, ok1 := d.minutes(ph.Start)
		b, ok2 := d.minutes(ph.End)
		if !ok1 || !ok2 || ph.What != "hold" {
			continue
		}
		from, to := math.Max(d.a.px(math.Max(a, d.a.x0)), x-1), math.Min(d.a.px(math.Min(b, d.a.x1)), x+w+1)
		if to > from {
			d.p.fill(from, low, to-from, high, Stone)
		}
	}
	d.p.text(x, y, s, small, false, left)
}

// clear is the x up to which the longest pull-down runs: its background is white.
func (d *pullDown) clear() float64 {
	end, longest := d.a.x1, 0.0
	for _, ph := range d.r.Phases {
		a, ok1 := d.minutes(ph.Start)
		b, ok2 := d.minutes(ph.End)
		if ok1 && ok2 && ph.What == "pull-down" && b-a > longest {
			end, longest = math.Min(b, d.a.x1), b-a
		}
	}
	return d.a.px(end)
}
