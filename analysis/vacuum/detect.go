package vacuum

import (
	"math"
	"slices"
)

// isolation is one that the search considers.
type isolation struct {
	start     kink
	until     float64 // s: end of the hold
	why       string  // why it is not named; "" where it is
	restarted bool    // it ends with the pump started again
	others    []kink  // weaker ones in the same time
}

// search looks for isolations in one stretch.
func (tr *trace) search(st stretch) []isolation {
	lo, hi := st.lo, st.hi
	for lo < hi && (tr.y[lo] > math.Log(ceiling) || st.high && tr.t[lo] < st.depart) { // gas that was let in and stands is no hold
		lo++
	}
	if hi-lo < 12 {
		return nil
	}
	d := tr.departures(lo, hi)
	restarts := tr.kinks(d, lo, hi, -1, 4)
	var out []isolation
	from := lo
	add := func(to int, until float64, again bool) {
		if iso, ok := tr.isolated(d, from, to, until); ok {
			iso.restarted = again
			out = append(out, iso)
		}
	}
	for _, r := range restarts {
		if !tr.restart(r.at, from, hi) {
			continue
		}
		add(r.at, r.tau, true)
		from = r.at
	}
	add(hi, st.to, false)
	return out
}

// kinks are the refined kinks of one sign, by time.
func (tr *trace) kinks(d *departures, lo, hi int, sign float64, most int) []kink {
	var out []kink
	for _, s := range tr.seeds(d, lo, hi, sign, most) {
		if sign < 0 && !tr.drops(s.at, hi) {
			continue
		}
		if k, ok := tr.refine(s, lo, hi, sign); ok && k.evidence > 10 {
			out = append(out, k)
		}
	}
	slices.SortFunc(out, func(a, b kink) int {
		if a.tau < b.tau {
			return -1
		}
		return 1
	})
	return out
}

// restart tells whether a downward kink at a block is the pump started again: no fall before it, and a fall after it that stays.
func (tr *trace) restart(at, lo, hi int) bool {
	if at >= hi {
		return false
	}
	a := at
	for a > lo && tr.t[at]-tr.t[a-1] < 180 && at-a < 40 {
		a--
	}
	if at-a < 4 {
		return false
	}
	before, sd := tr.slope(a, at)
	return (before > -3*sd || before*180 > -0.02) && tr.drops(at, hi)
}

// drops tells whether the pressure falls in the minute from a block on.
func (tr *trace) drops(at, hi int) bool {
	b := at
	for b < hi && (tr.t[b]-tr.t[at] < 60 || b-at < 4) {
		b++
	}
	if b-at < 2 {
		return false
	}
	after, sd := tr.slope(at, b)
	return after < -4*sd && after*60 < -0.02
}

// isolated finds the isolation after which nothing but a hold follows until block hi.
func (tr *trace) isolated(d *departures, lo, hi int, until float64) (isolation, bool) {
	ks := tr.kinks(d, lo, hi, 1, 5)
	best := -1
	for i, k := range ks {
		if until-k.tau < shortest {
			continue
		}
		if best < 0 || k.evidence > ks[best].evidence {
			best = i
		}
	}
	if best < 0 {
		return isolation{}, false
	}
	k := ks[best]
	iso := isolation{start: k, until: until}
	tol := tr.tolerance()
	switch {
	case k.evidence < 35:
		iso.why = "the change is hardly more than the scatter of the readings"
	case k.open || max(k.high-k.tau, k.tau-k.low) > 0.8*tol || k.delay > lateness(k)*tol && !tr.near:
		iso.why = "the change is gradual: its time cannot be told from the readings"
	case tr.t[k.at]-tr.t[max(k.at-1, 0)] > tol:
		iso.why = "the recording has a gap where the pump was shut off"
	}
	for i, o := range ks {
		if i != best {
			iso.others = append(iso.others, o)
		}
		again := o.evidence > 0.2*k.evidence && math.Abs(o.tau-k.tau) > tol/2 || o.tau-k.tau > 300 && o.evidence > 40
		if i != best && again && iso.why == "" {
			iso.why = "there is more than one such change"
		}
	}
	if iso.why == "" && tr.collapses(k.at, hi) {
		iso.why = "the pressure falls steeply during it: its end cannot be told from the readings"
	}
	if iso.why == "" && tr.falls(k.at, hi) && !tr.rose(k, lo, hi) {
		iso.why = "the pressure goes on falling after it"
	}
	return iso, true
}

// collapses tells whether, in blocks [a, b), three in a row lie a fifth below an earlier one.
func (tr *trace) collapses(a, b int) bool {
	top, run := math.Inf(-1), 0
	for i := a; i < b; i++ {
		top = max(top, tr.y[i])
		run++
		if tr.y[i] > top-0.2 {
			run = 0
		}
		if run == 3 {
			return true
		}
	}
	return false
}

// lateness is how late a change may arrive, in tolerances: a pronounced change shows its beginning better.
func lateness(k kink) float64 {
	if k.evidence > 300 {
		return 1.2
	}
	return 0.8
}

// rose tells whether the pressure rose by 3 % within a minute after the kink: a pump does not do that.
func (tr *trace) rose(k kink, lo, hi int) bool {
	a, b := max(lo, k.at-3), k.at
	for b < hi && (tr.t[b] < k.tau+60 || b < k.at+3) {
		b++
	}
	if k.at-a < 2 || b-k.at < 3 {
		return false
	}
	return tr.mean(b-2, b) > tr.mean(a, k.at)+0.03
}

// falls tells whether the pressure falls over the second half of blocks [a, b), as it does under a pump.
func (tr *trace) falls(a, b int) bool {
	m := (a + b) / 2
	if b-m < 3 {
		return false
	}
	s, sd := tr.slope(m, b)
	return s < -3*sd && s*(tr.t[b-1]-tr.t[m]) < -0.01
}
