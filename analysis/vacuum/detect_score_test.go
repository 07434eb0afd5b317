package vacuum

import (
	"flag"
	"fmt"
	"math"
	"slices"
	"testing"

	"dryhold/samples/sim"
)

var (
	detectSeeds = flag.String("detect", "", `score the detection of holds on simulated cases, e.g. "1-300"`)
	detectCases = flag.Bool("detect-cases", false, "print every case")
)

func TestDetectScore(t *testing.T) {
	if *detectSeeds == "" {
		t.Skip("score not asked for; run with -detect 1-300")
	}
	var lo, hi uint64
	if _, err := fmt.Sscanf(*detectSeeds, "%d-%d", &lo, &hi); err != nil || hi < lo {
		t.Fatalf("-detect %q: want first-last", *detectSeeds)
	}
	var named, hit, near group
	var offs []float64
	why := map[string]int{}
	for seed := lo; seed <= hi; seed++ {
		r := sim.Case(seed).Run()
		s := series(&r)
		c := cut(s, options(&r))
		tol := max(3*r.Scenario.Sampling.Interval, 30)
		good := func(x Span) bool {
			return math.Abs(seconds(x.Start)-r.Truth.HoldStart) <= tol && math.Abs(seconds(x.End)-r.Truth.HoldEnd) <= tol
		}
		line := ""
		got := c.named(c.before(Options{}))
		named.add(got != nil)
		if got != nil {
			x := Span{clock(c.last.start.tau), clock(c.last.until)}
			hit.add(good(x))
			offs = append(offs, seconds(x.Start)-r.Truth.HoldStart)
			line = fmt.Sprintf("named %+.0f %+.0f ev %.0f int %.0f..%.0f delay %.0f", seconds(x.Start)-r.Truth.HoldStart, seconds(x.End)-r.Truth.HoldEnd, c.last.start.evidence, c.last.start.low-r.Truth.HoldStart, c.last.start.high-r.Truth.HoldStart, c.last.start.delay)
			for _, k := range c.last.others {
				line += fmt.Sprintf(" (%+.0f ev %.0f)", k.tau-c.last.start.tau, k.evidence)
			}
			if !good(x) {
				line += " WRONG"
			}
		} else {
			near.add(slices.ContainsFunc(Analyse(s, options(&r)).Candidates, func(k Candidate) bool { return good(Span{k.Start, k.End}) }))
			line = "asked"
			if c.last != nil {
				line += fmt.Sprintf(" %+.0f %+.0f ev %.0f %+.0f..%+.0f %s", c.last.start.tau-r.Truth.HoldStart, c.last.until-r.Truth.HoldEnd, c.last.start.evidence, c.last.start.low-r.Truth.HoldStart, c.last.start.high-r.Truth.HoldStart, c.last.why)
				why[c.last.why]++
			} else {
				why["no change seen"]++
			}
		}
		if *detectCases {
			side := "far "
			if g := r.Scenario.Gauge.At; g > 0 && r.Scenario.Links[len(r.Scenario.Links)-1].A == 1 {
				side = "pump"
			}
			fmt.Printf("%5d dt %2.0f %s hold %.0f..%.0f %s\n", seed, r.Scenario.Sampling.Interval, side, r.Truth.HoldStart, r.Truth.HoldEnd, line)
		}
	}
	slices.Sort(offs)
	fmt.Printf("named %s; of them right %s; of those asked the truth is among the candidates: %s\n", named, hit, near)
	if n := len(offs); n > 0 {
		q := func(f float64) float64 { return offs[int(f*float64(n-1))] }
		fmt.Printf("start, detected less true (s): 2.5 %% %.1f, 25 %% %.1f, median %.1f, 75 %% %.1f, 97.5 %% %.1f\n", q(0.025), q(0.25), q(0.5), q(0.75), q(0.975))
	}
	fmt.Println(why)
}
