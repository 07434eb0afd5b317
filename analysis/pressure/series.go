package pressure

import (
	"math"
	"time"

	"dryhold/analysis/readings"
)

// FromReadings works out a test from a recording of pressure with temperature.
// from and to bound the hold; where one is zero, it is the longest stage at half
// the highest pressure or more within what is stated. A hold goes no further than
// the readings. Each end is the mean over 5 % of the hold,
// five minutes at most. Gas that was just let in is warmer than the pipe, so the
// first tenth of the hold, ten minutes at most, is left out.
func FromReadings(s *readings.Series, from, to time.Time, o Options) Result {
	res := Result{Found: "stated", Stages: Stages(s)}
	t, p := valid(s)
	for _, x := range p {
		res.Highest = math.Max(res.Highest, x)
	}
	if from.IsZero() || to.IsZero() {
		res.Found = "detected"
		main, ok := longest(within(res.Stages, from, to), res.Highest)
		if !ok {
			res.Warnings = warnings(&res, o)
			res.conclude(NotDetermined, Note{Code: "no-hold", Text: "the readings show no time for which the pressure was held; " +
				"if it fell fast, state start and end in [pressure_test]"})
			return res
		}
		from, to = main.Start, main.End
	}
	if len(t) > 0 {
		if first := at(s, t[0]); first.After(from) {
			from = first
		}
		if last := at(s, t[len(t)-1]); last.Before(to) {
			to = last
		}
	}
	res.Start, res.End = ends(s, from.Sub(s.Start).Seconds(), to.Sub(s.Start).Seconds())
	res.Duration = res.End.Time.Sub(res.Start.Time).Seconds()
	res.Held = to.Sub(from).Seconds()
	res.evaluate(o)
	return res
}

// within cuts stages off at the times that are not zero.
func within(stages []Stage, from, to time.Time) (list []Stage) {
	for _, st := range stages {
		if from.After(st.Start) {
			st.Start = from
		}
		if !to.IsZero() && to.Before(st.End) {
			st.End = to
		}
		if st.End.After(st.Start) {
			list = append(list, st)
		}
	}
	return list
}

func longest(stages []Stage, highest float64) (best Stage, ok bool) {
	for _, st := range stages {
		if st.Pressure >= highest/2 && (!ok || st.End.Sub(st.Start) > best.End.Sub(best.Start)) {
			best, ok = st, true
		}
	}
	return best, ok
}

// ends averages both ends of the hold from a to b, s after the start of s.
func ends(s *readings.Series, a, b float64) (start, end State) {
	a += math.Min(600, (b-a)/10)
	window := math.Min(300, (b-a)/20)
	return average(s, a, a+window), average(s, b-window, b)
}

// average is the state over the readings in [a, b], or the reading next to its
// middle where there is none.
func average(s *readings.Series, a, b float64) State {
	var p, T, t []float64
	nearest, gap := -1, math.Inf(1)
	for i := range s.T {
		if s.Mark[i] != readings.Used || !positive(s.P[i]) {
			continue
		}
		if d := math.Abs(s.T[i] - (a+b)/2); d < gap {
			nearest, gap = i, d
		}
		if s.T[i] >= a && s.T[i] <= b {
			t, p = append(t, s.T[i]), append(p, s.P[i])
			T = appendTemperature(T, s, i)
		}
	}
	if len(p) == 0 && nearest >= 0 {
		t, p = []float64{s.T[nearest]}, []float64{s.P[nearest]}
		T = appendTemperature(T, s, nearest)
	}
	var st State
	if len(p) == 0 {
		return st
	}
	st.Pressure, st.Scatter = mean(p)
	middle, _ := mean(t)
	st.Time = at(s, middle)
	if len(T) > 0 {
		st.Temperature, _ = mean(T)
	}
	return st
}

func appendTemperature(T []float64, s *readings.Series, i int) []float64 {
	if i < len(s.Ambient) && positive(s.Ambient[i]) {
		return append(T, s.Ambient[i])
	}
	return T
}
