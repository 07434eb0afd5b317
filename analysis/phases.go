package analysis

import (
	"time"

	"dryhold/analysis/record"
	"dryhold/analysis/vacuum"
)

// phases joins those of the evacuation's recording with those of the hold's own.
func (r *runner) phases(evac, hold vacuum.Result, two bool) {
	all := evac.Phases
	if two {
		all = append(append([]vacuum.Phase(nil), evac.Phases...), hold.Phases...)
	}
	for i, p := range all {
		what := p.What
		if what == vacuum.HoldPhase && !within(p, hold.Holds) {
			what = beside(all, i)
		}
		start, end := r.stamp(p.Start), r.stamp(p.End)
		if n := len(r.rec.Phases); n > 0 && what != vacuum.HoldPhase && r.rec.Phases[n-1].What == string(what) && r.rec.Phases[n-1].End == start {
			r.rec.Phases[n-1].End = end
			continue
		}
		r.rec.Phases = append(r.rec.Phases, record.Phase{What: string(what), Start: start, End: end})
	}
}

// within tells whether the middle of a phase lies in one of the holds.
func within(p vacuum.Phase, holds []vacuum.Hold) bool {
	middle := p.Start.Add(p.End.Sub(p.Start) / 2)
	for _, h := range holds {
		if middle.After(h.Start) && middle.Before(h.End) {
			return true
		}
	}
	return false
}

// beside is the phase of what is left of an isolation that the readings show, beside the part of it that the job states as the hold. Before that
// part it belongs to what was before, behind it to what follows; where the circuit stayed isolated for longer than a minute, to neither.
func beside(all []vacuum.Phase, i int) vacuum.What {
	touches := func(k, l int) bool {
		return k >= 0 && l < len(all) && all[k].End.Equal(all[l].Start)
	}
	switch p := all[i]; {
	case touches(i, i+1) && all[i+1].What == vacuum.HoldPhase:
		if touches(i-1, i) {
			return all[i-1].What
		}
		return vacuum.Other
	case !touches(i-1, i) || all[i-1].What != vacuum.HoldPhase: // an isolation of its own
		return p.What
	case touches(i, i+1) && p.End.Sub(p.Start) <= time.Minute:
		return all[i+1].What
	}
	return vacuum.Other
}
