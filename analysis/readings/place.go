package readings

import (
	"fmt"
	"slices"
	"time"

	"dryhold/analysis/fault"
)

// place turns wall times into instants. A file written newest first is turned
// round before.
func (p *recording) place(c *clock, o Options, rep *report) {
	p.turn(rep)
	if c.absolute || len(p.rows) == 0 {
		return
	}
	lo, hi := p.rows[0].at, p.rows[0].at
	for _, r := range p.rows {
		lo, hi = min(lo, r.at), max(hi, r.at)
	}
	before, after := offsetAt(lo-day, o.Zone), offsetAt(hi+day, o.Zone)
	if steady(lo-day, hi+day, o.Zone) {
		for i := range p.rows {
			p.rows[i].at -= before
		}
		return
	}
	z := &zoneWalk{p: p, zone: o.Zone, rep: rep, after: after}
	z.walk(o)
}

// turn reverses a file written newest first.
func (p *recording) turn(rep *report) {
	down, up := 0, 0
	for i := 1; i < len(p.rows); i++ {
		switch {
		case p.rows[i].at < p.rows[i-1].at:
			down++
		case p.rows[i].at > p.rows[i-1].at:
			up++
		}
	}
	if down > 2 && down > 20*up {
		slices.Reverse(p.rows)
		rep.add(fault.Fault{Code: "newest-first", File: p.input.File, Doubt: true, Found: "the rows are written newest first; they were turned round"})
	}
}

// offsetAt is the zone's offset in ns at the instant ns.
func offsetAt(ns int64, z *time.Location) int64 {
	_, s := time.Unix(0, ns).In(z).Zone()
	return int64(s) * 1e9
}

// steady reports that the zone's offset does not change between two instants.
func steady(lo, hi int64, z *time.Location) bool {
	_, end := time.Unix(0, lo).In(z).ZoneBounds()
	return end.IsZero() || end.UnixNano() > hi
}

// zoneWalk follows a recording's clock across a change of the zone's offset.
type zoneWalk struct {
	p     *recording
	zone  *time.Location
	rep   *report
	after int64
}

// both gives the instants that a wall time can be: none in the hour that is
// skipped in spring, two in the hour that is repeated in autumn.
func (z *zoneWalk) both(wall int64) (one, two int64, n int) {
	a, b := offsetAt(wall-offsetAt(wall, z.zone)-day/2, z.zone), offsetAt(wall-offsetAt(wall, z.zone)+day/2, z.zone)
	one, two = wall-a, wall-b
	okA, okB := offsetAt(one, z.zone) == a, offsetAt(two, z.zone) == b
	switch {
	case a == b || okA && !okB:
		return one, one, 1
	case okB && !okA:
		return two, two, 1
	case okA && okB:
		return min(one, two), max(one, two), 2
	}
	return one, two, 0
}

const nearHour = int64(50 * time.Minute)

// walk places row after row. The step back in the repeated hour shows where the
// clock was changed; a clock that runs through either hour was not changed.
func (z *zoneWalk) walk(o Options) {
	rows := z.p.rows
	walls := make([]int64, len(rows))
	for i := range rows {
		walls[i] = rows[i].at
	}
	stepAt := z.step(walls)
	startOffset, fixed, inside, plain := int64(0), false, 0, 0
	for i := range rows {
		one, two, n := z.both(walls[i])
		if i == 0 {
			startOffset = walls[0] - one
		}
		through := i > 0 && n != 2 && stepAt < 0 && walls[i]-walls[i-1] < nearHour
		if _, _, k := z.both(walls[max(i-1, 0)]); !fixed && (n == 0 || through && k == 2 && plain > 0 && walls[i] > walls[i-1]) {
			fixed = true
			z.doubt("dst-not-set", "the recorder's clock was not changed with daylight saving; its times are read with the offset of the first row", int(rows[i].row))
		}
		switch {
		case fixed:
			rows[i].at = walls[i] - startOffset
		case n == 2:
			inside++
			if rows[i].at = one; stepAt >= 0 && i >= stepAt {
				rows[i].at = two
			}
		default:
			plain++
			rows[i].at = one
		}
	}
	z.fold(o, rows, walls, stepAt, inside, plain)
}

// step finds the row where the clock goes back by about the hour inside the
// repeated hour; -1 where there is none.
func (z *zoneWalk) step(walls []int64) int {
	for i := 1; i < len(walls); i++ {
		d := walls[i-1] - walls[i]
		if d > int64(20*time.Minute) && d < int64(61*time.Minute) {
			if _, _, n := z.both(walls[i]); n == 2 {
				return i
			}
		}
	}
	return -1
}

// fold reports what was made of the repeated hour.
func (z *zoneWalk) fold(o Options, rows []reading, walls []int64, stepAt, inside, plain int) {
	switch {
	case inside == 0:
		return
	case stepAt >= 0:
		z.doubt("dst-fold", "the clock goes back one hour with daylight saving; rows before are read as the first of the two hours, rows from here as the second", int(rows[stepAt].row))
		return
	}
	_, two, n := z.both(walls[0])
	if n < 2 {
		return
	}
	if plain > 0 || !o.HoldStart.IsZero() && o.HoldStart.UnixNano() >= two {
		for i := range rows {
			if _, second, k := z.both(walls[i]); k == 2 {
				rows[i].at = second
			}
		}
		z.doubt("dst-fold", "the recording begins in the hour that daylight saving repeats and runs on; it is read as the second", int(rows[0].row))
		return
	}
	z.doubt("dst-fold", "all times lie in the hour that daylight saving repeats; they are read as the first of the two", int(rows[0].row))
}

func (z *zoneWalk) doubt(code, found string, row int) {
	z.rep.add(fault.Fault{Code: code, File: z.p.input.File, Sheet: z.p.input.Sheet, Line: row, Doubt: true, Found: found,
		Mend: fmt.Sprintf("if that is wrong, export with offsets from UTC (time zone %s)", z.zone)})
}
