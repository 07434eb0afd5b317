package samples

import (
	"fmt"
	"strings"
	"time"

	"dryhold/samples/sim"
)

// source writes a job's SOURCE.md.
func source(j job, facts []string) []byte {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n%s\n\n", j.name, j.about)
	b.WriteString("Simulated, not measured: made by `go run ./samples/make` from `samples/jobs.go`, the vacuum by package\n" +
		"`samples/sim`. Firm, town, people, makers, serials and certificates are invented.\n" +
		"Licence: CC0 1.0, no rights reserved.\n\n")
	for _, n := range j.notes {
		fmt.Fprintf(&b, "%s\n\n", n)
	}
	b.WriteString(strings.Join(facts, "\n"))
	return []byte(b.String())
}

// truth tells what is known of a simulated evacuation.
func truth(l *log, r *sim.Recording, at func(float64) time.Time) string {
	var b strings.Builder
	line := func(what, format string, v ...any) { fmt.Fprintf(&b, "| %s | %s |\n", what, fmt.Sprintf(format, v...)) }
	fmt.Fprintf(&b, "## %s\n\n| truth, without the gauge's errors | |\n|---|---|\n", l.file)
	line("seed", "%d", r.Scenario.Seed)
	for _, p := range r.Phases {
		line(p.What.String(), "%s to %s", at(p.Start).Format(time.TimeOnly), at(p.End).Format(time.TimeOnly))
	}
	t := &r.Truth
	line("volume", "%.2f L", t.Volume*1e3)
	line("pressure at isolation, after equalisation, at the end", "%.1f, %.1f, %.1f Pa", t.Isolated, t.Start, t.End)
	line("equalised after", "%.0f s", t.Settled-t.HoldStart)
	line("inflow", "%.3g Pa m3/s, %.3g micron a minute", t.LeakRate, t.LeakRise/sim.Micron*60)
	line("rise by the inflow", "%.1f micron", t.LeakContribution/sim.Micron)
	line("rise by water or gas from oil", "%.1f micron", t.MoistureContribution/sim.Micron)
	line("cause above the naming threshold", "%s", t.Cause)
	g := &r.Scenario.Gauge
	line("gauge's errors", "gain %+.1f %%, offset %+.1f micron, noise %.1f %%", 100*g.Gain, g.Offset/sim.Micron, 100*g.Noise)
	if g.Water != 1 {
		line("it reads water vapour", "%.1f times too high", g.Water)
	}
	return b.String()
}
