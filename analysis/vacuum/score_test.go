package vacuum

import (
	"flag"
	"fmt"
	"io"
	"math"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"dryhold/analysis/readings"
	"dryhold/samples/sim"
)

var (
	seeds   = flag.String("seeds", "", `score the analysis on simulated cases, e.g. "1-500"`)
	holdArg = flag.String("hold", "given", `hold times "given" or "detected"`)
	verbose = flag.Bool("cases", false, "print every case")
	bound   = flag.Bool("oracle", false, "score an observer who knows the simulator too")
	table   = flag.String("table", "", "write the table to this file too")
)

// outcome is one scored case.
type outcome struct {
	seed   uint64
	truth  sim.Truth
	sc     *sim.Scenario
	hold   *Hold // nil when the program asked
	rows   int
	length float64
	named  bool // detection
	offset [2]float64
	step   float64
	used   time.Duration
	oracle Cause // what an observer who knows the simulator names; "" where not asked
}

var epoch = time.Date(2031, 4, 9, 8, 0, 0, 0, time.UTC)

// series is the recording as analysis/readings delivers it: in the order of time, repeated rows left out.
func series(r *sim.Recording) *readings.Series {
	s := &readings.Series{Start: epoch}
	for i, t := range r.Time {
		if n := len(s.T); n > 0 && t <= s.T[n-1] {
			continue
		}
		s.T, s.P = append(s.T, t), append(s.P, r.Indicated[i])
		mark := readings.Used
		switch r.Mark[i] {
		case sim.Over:
			mark = readings.OverRange
		case sim.Under:
			mark = readings.UnderRange
		}
		s.Mark = append(s.Mark, mark)
		if r.Scenario.Ambient.Logged {
			s.Ambient = append(s.Ambient, r.Ambient[i])
		}
	}
	return s
}

func clock(t float64) time.Time { return epoch.Add(time.Duration(t * float64(time.Second))) }

func seconds(t time.Time) float64 { return t.Sub(epoch).Seconds() }

// options are what the job of a simulated case would state.
func options(r *sim.Recording) Options {
	g := &r.Scenario.Gauge
	random := 0.0 // the stated volume is the true one times 1 + 5 % of a normal deviate, by seed
	for _, k := range []uint64{3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37, 41} {
		random += math.Mod(float64(r.Scenario.Seed*k*2654435761%1000003)/1000003+0.5, 1)
	}
	o := Options{
		Volume: r.Truth.Volume * (1 + 0.1/1.96*(random-6)), VolumeU: 0.1 / 1.96,
		Gauge: Gauge{Gain: g.GainLimit, Offset: g.OffsetLimit, Top: g.Top, Bottom: g.Bottom, Position: "far end"},
	}
	for _, l := range r.Scenario.Links {
		if l.B == g.At && l.A == 1 {
			o.Gauge.Position = "pump side"
		}
	}
	return o
}

func scoreOne(seed uint64, detected bool) outcome {
	sc := sim.Case(seed)
	r := sc.Run()
	s, o := series(&r), options(&r)
	out := outcome{seed: seed, truth: r.Truth, sc: &r.Scenario, length: r.Truth.HoldEnd - r.Truth.HoldStart, step: sc.Sampling.Interval}
	if *bound {
		out.oracle = oracle(&r)
	}
	if !detected {
		o.Hold = Span{clock(r.Truth.HoldStart), clock(r.Truth.HoldEnd)}
	}
	from := time.Now()
	res := Analyse(s, o)
	out.used = time.Since(from)
	if res.Deciding >= 0 {
		h := res.Holds[res.Deciding]
		out.hold, out.rows, out.named = &h, h.Rows, true
		out.offset = [2]float64{seconds(h.Start) - r.Truth.HoldStart, seconds(h.End) - r.Truth.HoldEnd}
	}
	return out
}

func TestScore(t *testing.T) {
	if *seeds == "" {
		t.Skip("score not asked for; run with -seeds 1-500")
	}
	var lo, hi uint64
	if _, err := fmt.Sscanf(*seeds, "%d-%d", &lo, &hi); err != nil || hi < lo {
		t.Fatalf("-seeds %q: want first-last", *seeds)
	}
	all := make([]outcome, hi-lo+1)
	var wg sync.WaitGroup
	next := make(chan uint64)
	for range runtime.NumCPU() {
		wg.Go(func() {
			for s := range next {
				all[s-lo] = scoreOne(s, *holdArg == "detected")
			}
		})
	}
	for s := lo; s <= hi; s++ {
		next <- s
	}
	close(next)
	wg.Wait()
	var b strings.Builder
	report(&b, all)
	fmt.Print(b.String())
	if *table != "" {
		if err := os.WriteFile(*table, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// group collects hits out of a number.
type group struct{ hit, n int }

func (g *group) add(ok bool) {
	g.n++
	if ok {
		g.hit++
	}
}

func (g group) String() string {
	if g.n == 0 {
		return "   -      "
	}
	return fmt.Sprintf("%5.1f %% of %4d", 100*float64(g.hit)/float64(g.n), g.n)
}

// verdict of one named case.
func (o *outcome) cause() Cause {
	if o.hold == nil {
		return "asked"
	}
	return o.hold.Cause
}

// moistTruth is the moisture's part from our settle time on.
func (o *outcome) moistTruth() float64 {
	return o.truth.MoistureRise(max(seconds(o.hold.Settle), o.truth.HoldStart), o.truth.HoldEnd)
}

// causeHere is the true cause with the contributions taken from our settle time on, as ours are.
func (o *outcome) causeHere() Cause {
	t := &o.truth
	leak, moist := t.LeakRise*(t.HoldEnd-max(seconds(o.hold.Settle), t.HoldStart)), o.moistTruth()
	limit := max(5*micron, 0.03*t.Start, 0.1*(leak+moist))
	switch {
	case leak > limit && moist > limit:
		return LeakMoisture
	case leak > limit:
		return Leak
	case moist > limit:
		return Moisture
	}
	return None
}

func in(v Value, x float64) bool { return v.Low <= x && x <= v.High }

func report(w io.Writer, all []outcome) {
	causes := []Cause{None, Leak, Moisture, LeakMoisture}
	cols := append(slices.Clone(causes), NotDetermined, "asked")
	count := map[[2]Cause]int{}
	var right, wrong, missed, held, rightHere, wrongHere int
	for _, o := range all {
		c, truth := o.cause(), Cause(o.truth.Cause)
		count[[2]Cause{truth, c}]++
		if o.hold == nil {
			continue
		}
		held++
		if here := o.causeHere(); c == here {
			rightHere++
		} else if c != NotDetermined {
			wrongHere++
		}
		switch {
		case c == truth:
			right++
		case c != NotDetermined:
			wrong++
			if (truth == Leak || truth == LeakMoisture) && (c == None || c == Moisture) {
				missed++
			}
		}
	}
	fmt.Fprintf(w, "%-20s", "truth \\ named")
	for _, c := range cols {
		fmt.Fprintf(w, "%19s", c)
	}
	fmt.Fprintln(w)
	for _, tr := range causes {
		fmt.Fprintf(w, "%-20s", tr)
		for _, c := range cols {
			fmt.Fprintf(w, "%19d", count[[2]Cause{tr, c}])
		}
		fmt.Fprintln(w)
	}
	n := float64(max(held, 1))
	fmt.Fprintf(w, "right %.1f %%, wrong %.1f %%, missed leaks %d, of %d holds analysed\n", 100*float64(right)/n, 100*float64(wrong)/n, missed, held)
	fmt.Fprintf(w, "the same against the truth from our settle time on: right %.1f %%, wrong %.1f %%\n", 100*float64(rightHere)/n, 100*float64(wrongHere)/n)
	observer(w, all)
	coverage(w, all)
	sharpness(w, all)
	detection(w, all)
	if *verbose {
		cases(w, all)
	}
}

// observer prints the score of the oracle.
func observer(w io.Writer, all []outcome) {
	var n, right, wrong, missed float64
	for _, o := range all {
		truth := Cause(o.truth.Cause)
		if o.oracle == "" {
			continue
		}
		n++
		switch {
		case o.oracle == truth:
			right++
		case o.oracle != NotDetermined:
			wrong++
			if (truth == Leak || truth == LeakMoisture) && (o.oracle == None || o.oracle == Moisture) {
				missed++
			}
		}
	}
	if n > 0 {
		fmt.Fprintf(w, "an observer who knows the simulator's equations: right %.1f %%, wrong %.1f %%, missed leaks %.0f, of %.0f holds\n", 100*right/n, 100*wrong/n, missed, n)
	}
}

func coverage(w io.Writer, all []outcome) {
	type row struct{ rate, rise, moist group }
	rows := map[string]*row{}
	var order []string
	add := func(k string, o *outcome) {
		r := rows[k]
		if r == nil {
			r = &row{}
			rows[k] = r
			order = append(order, k)
		}
		r.rate.add(in(o.hold.LeakRate, o.truth.LeakRate))
		r.rise.add(in(o.hold.LeakRise, o.truth.LeakRise))
		if m := o.moistTruth(); m >= 0 { // water that is taken up again is no contribution
			r.moist.add(in(o.hold.MoistureRise, m))
		}
	}
	for i := range all {
		o := &all[i]
		if o.hold == nil || !o.hold.LeakRise.Known {
			continue
		}
		add("all", o)
		add("truth: "+string(o.truth.Cause), o)
		add("rows: "+class(float64(o.rows), "", 40, 150, 600), o)
		add("rise: "+class((o.truth.End-o.truth.Start)/micron, " micron", 10, 50, 200, 1000), o)
		add("truly settled after: "+class(o.truth.Settled-o.truth.HoldStart, " s", 60, 180, 400), o)
		add("tau/hold: "+class(tauOf(o)/o.length, "", 0.1, 0.3, 1), o)
	}
	slices.Sort(order)
	fmt.Fprintf(w, "%-34s%22s%22s%22s\n", "95 % interval holds the truth", "leak_rate", "leak_rise", "moisture_rise")
	for _, k := range order {
		r := rows[k]
		fmt.Fprintf(w, "%-34s%22s%22s%22s\n", k, r.rate, r.rise, r.moist)
	}
}

// tauOf is the time in which 63 % of the moisture's rise had come, Inf without moisture.
func tauOf(o *outcome) float64 {
	m := o.truth.MoistureRise(o.truth.HoldStart, o.truth.HoldEnd)
	if m < micron {
		return math.Inf(1)
	}
	for f := 0.01; f < 1; f += 0.01 {
		if o.truth.MoistureRise(o.truth.HoldStart, o.truth.HoldStart+f*o.length) > 0.63*m {
			return f * o.length
		}
	}
	return o.length
}

func class(x float64, unit string, edges ...float64) string {
	lo := "0"
	for _, e := range edges {
		if x < e {
			return fmt.Sprintf("%s to %g%s", lo, e, unit)
		}
		lo = fmt.Sprint(e)
	}
	return "over " + lo + unit
}

func sharpness(w io.Writer, all []outcome) {
	var half []float64
	for _, o := range all {
		if o.hold == nil || o.truth.Cause != sim.Leak || o.truth.LeakContribution < 100*micron {
			continue
		}
		r := o.hold.LeakRate
		half = append(half, (r.High-r.Low)/2/o.truth.LeakRate)
	}
	if len(half) == 0 {
		return
	}
	slices.Sort(half)
	fmt.Fprintf(w, "leak alone over 100 micron: half-width of leak_rate %.1f %% of the truth in the median, 90 %% under %.1f %%, %d cases\n",
		100*half[len(half)/2], 100*half[len(half)*9/10], len(half))
}

func detection(w io.Writer, all []outcome) {
	var named, start, end, both group
	var used time.Duration
	for _, o := range all {
		used += o.used
		named.add(o.named)
		if !o.named {
			continue
		}
		tol := max(3*o.step, 30)
		a, b := math.Abs(o.offset[0]) <= tol, math.Abs(o.offset[1]) <= tol
		start.add(a)
		end.add(b)
		both.add(a && b)
	}
	fmt.Fprintf(w, "holds named %s; start in tolerance %s, end %s, both %s; %.2f ms a case\n", named, start, end, both,
		float64(used.Microseconds())/1000/float64(len(all)))
}

func cases(w io.Writer, all []outcome) {
	for _, o := range all {
		if o.hold == nil {
			fmt.Fprintf(w, "%5d %-17s asked\n", o.seed, o.truth.Cause)
			continue
		}
		h, v := o.hold, func(v Value) string {
			return fmt.Sprintf("%7.1f [%7.1f %7.1f]", v.X/micron, v.Low/micron, v.High/micron)
		}
		mark := ""
		if string(h.Cause) != string(o.truth.Cause) {
			mark = "?"
			if h.Cause != NotDetermined {
				mark = "WRONG"
			}
		}
		t := seconds(h.End) - seconds(h.Settle)
		if !in(h.LeakRise, o.truth.LeakRise) {
			mark += " L"
		}
		if !in(h.MoistureRise, o.moistTruth()) {
			mark += " M"
		}
		fmt.Fprintf(w, "%5d %-17s %-17s thr %5.1f T %4.0f n %4d dt %2.0f settle %4.0f/%4.0f p %6.0f rise %7.1f leak %s tr %7.1f moist %s tr %7.1f tau %5.0f noise %4.2f %s %+.0f %+.0f P %.3f %.3f early %.3f %s\n", o.seed, o.truth.Cause, h.Cause, h.Threshold/micron,
			o.length, o.rows, o.step, seconds(h.Settle)-seconds(h.Start), o.truth.Settled-o.truth.HoldStart, h.StartPressure/micron, h.Rise/micron,
			v(h.LeakContr), o.truth.LeakRise*t/micron, v(h.MoistureRise), o.moistTruth()/micron, tauOf(&o), h.Noise/micron, mark, o.offset[0], o.offset[1], h.Reason.Facts["leak probability"], h.Reason.Facts["moisture probability"], h.Reason.Facts["early probability"], h.Reason.Code)
	}
}
