package main

import (
	"fmt"
	"math"
	"strings"
	"text/tabwriter"

	"github.com/spf13/cobra"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
)

func (a *app) compareCommand() *cobra.Command {
	var asJSON bool
	c := &cobra.Command{
		Use:   "compare OLD.pdf NEW.pdf",
		Short: "set two records of one circuit side by side",
		Long:  "For the callback: what was tested and with what, the pull-down, the hold, the charge and the start-up,\nand which of them differ beyond their uncertainty.",
		Args:  args(cobra.ExactArgs(2)),
		RunE: func(_ *cobra.Command, list []string) error {
			var pair [2]*record.Record
			for i, path := range list {
				var err error
				if pair[i], err = a.readRecord(path); err != nil {
					return fmt.Errorf("%s: %w", path, err)
				}
			}
			rows := compared(pair[0], pair[1])
			if asJSON {
				return a.printJSON(rows)
			}
			w := tabwriter.NewWriter(a.out, 0, 4, 2, ' ', 0)
			fmt.Fprintf(w, "\t%s\t%s\t\n", list[0], list[1])
			for _, r := range rows {
				fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", r.What, r.Old, r.New, r.Finding)
			}
			return w.Flush()
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print the comparison as JSON")
	return c
}

// readRecord is the results of a record whose seal holds.
func (a *app) readRecord(path string) (*record.Record, error) {
	sealed, err := openRecord(path)
	if err != nil {
		return nil, err
	}
	for _, f := range sealed.Attachments {
		if f.Name == "results.json" {
			return record.Parse(f.Data)
		}
	}
	return nil, fmt.Errorf("it carries no results.json")
}

// compareRow is one line of a comparison.
type compareRow struct {
	What    string `json:"what"`
	Old     string `json:"old"`
	New     string `json:"new"`
	Finding string `json:"finding,omitempty"` // "differs", "differs beyond uncertainty", "cannot be told apart"
}

type comparison struct{ rows []compareRow }

func compared(old, new *record.Record) []compareRow {
	c := &comparison{}
	c.text("job", old.Job.Number, new.Job.Number)
	c.text("date", old.Job.Date, new.Job.Date)
	c.text("circuit", old.Job.System.Circuit, new.Job.System.Circuit)
	c.text("refrigerant", old.Job.System.Refrigerant, new.Job.System.Refrigerant)
	c.value("volume", old.Job.System.Volume, new.Job.System.Volume)
	c.text("equipment", equipment(old), equipment(new))
	c.text("inside the boundary", strings.Join(old.Job.Boundary.Included, ", "), strings.Join(new.Job.Boundary.Included, ", "))
	c.text("outside the boundary", strings.Join(old.Job.Boundary.Excluded, ", "), strings.Join(new.Job.Boundary.Excluded, ", "))
	c.text("gauge at", old.Job.Boundary.GaugeAt, new.Job.Boundary.GaugeAt)
	c.text("instruments", instruments(old), instruments(new))
	c.pullDown(old.PullDown, new.PullDown)
	c.hold(old.Hold, new.Hold)
	c.charge(old.Charge, new.Charge)
	c.startup(old.Startup, new.Startup)
	return c.rows
}

func equipment(r *record.Record) string {
	var list []string
	for _, e := range r.Job.Equipment {
		list = append(list, strings.TrimSpace(e.Role+" "+e.Serial))
	}
	return strings.Join(list, ", ")
}

func instruments(r *record.Record) string {
	var list []string
	for _, i := range r.Instruments {
		if len(i.UsedFor) > 0 {
			list = append(list, strings.TrimSpace(i.ID+" "+i.Serial))
		}
	}
	return strings.Join(list, ", ")
}

func (c *comparison) pullDown(a, b *record.PullDown) {
	if a == nil || b == nil {
		c.text("pull-down", given(a != nil), given(b != nil))
		return
	}
	c.value("pull-down: lowest", a.Lowest, b.Lowest)
	c.value("pull-down: rate", a.Rate, b.Rate)
	c.value("pull-down: asymptotic pressure", a.Asymptotic, b.Asymptotic)
}

func (c *comparison) hold(a, b *record.Hold) {
	if a == nil || b == nil {
		c.text("hold", given(a != nil), given(b != nil))
		return
	}
	c.value("hold: start pressure", a.StartPressure, b.StartPressure)
	c.value("hold: end pressure", a.EndPressure, b.EndPressure)
	c.value("hold: rise", a.Rise, b.Rise)
	c.value("hold: limit", a.Limit, b.Limit)
	c.text("hold: criterion", a.Decision, b.Decision)
	c.text("hold: cause", a.Cause, b.Cause)
	c.value("hold: leak rate", a.LeakRate, b.LeakRate)
	c.value("hold: leak as a rise", a.LeakRise, b.LeakRise)
	c.value("hold: moisture", a.MoistureRise, b.MoistureRise)
	c.value("hold: smallest leak that shows", a.SmallestLeak, b.SmallestLeak)
}

func (c *comparison) charge(a, b *record.Charge) {
	if a == nil || b == nil {
		c.text("charge", given(a != nil), given(b != nil))
		return
	}
	c.value("charge: added", a.Added, b.Added)
	c.value("charge: total", a.Total, b.Total)
}

func (c *comparison) startup(a, b *record.Startup) {
	if a == nil || b == nil {
		c.text("start-up", given(a != nil), given(b != nil))
		return
	}
	for _, x := range a.Rows {
		for _, y := range b.Rows {
			if x.Name == y.Name {
				c.value("start-up: "+x.Name, spread(x), spread(y))
			}
		}
	}
}

// spread gives a start-up quantity its 95 % interval.
func spread(j record.Judged) *record.Value {
	if j.Value == nil || j.U == nil || j.Value.Confidence > 0 {
		return j.Value
	}
	return record.Between(j.Value.V, j.Value.V-1.96*j.U.V, j.Value.V+1.96*j.U.V, j.Value.Unit)
}

func given(yes bool) string {
	if yes {
		return "given"
	}
	return "not given"
}

func (c *comparison) text(what, a, b string) {
	if a == "" && b == "" {
		return
	}
	r := compareRow{What: what, Old: or(a), New: or(b)}
	if a != b {
		r.Finding = "differs"
	}
	c.rows = append(c.rows, r)
}

func or(s string) string {
	if s == "" {
		return "not given"
	}
	return s
}

// value compares two values: they differ beyond their uncertainty where their
// 95 % intervals do not meet.
func (c *comparison) value(what string, a, b *record.Value) {
	if a == nil && b == nil {
		return
	}
	r := compareRow{What: what, Old: valueText(a), New: valueText(b)}
	switch {
	case a == nil || b == nil || a.V == b.V:
	case a.Confidence == 0 || b.Confidence == 0:
		r.Finding = "differs; no interval is known"
	case math.Max(a.Low, b.Low) > math.Min(a.High, b.High):
		r.Finding = "differs beyond uncertainty"
	default:
		r.Finding = "cannot be told apart"
	}
	c.rows = append(c.rows, r)
}

// shown are the units in which a comparison prints; others stay in SI.
var shown = map[string]quantity.Unit{"Pa": quantity.Micron, "Pa/s": quantity.MicronPerMin, "m3": quantity.Litre}

func valueText(v *record.Value) string {
	if v == nil {
		return "-"
	}
	in, name := func(x float64) float64 { return x }, v.Unit
	if u, ok := shown[v.Unit]; ok {
		in, name = u.From, u.Name
	}
	text := fmt.Sprintf("%.4g", in(v.V))
	if v.Confidence > 0 {
		text += fmt.Sprintf(" (%.3g to %.3g)", in(v.Low), in(v.High))
	}
	if name != "1" {
		text += " " + name
	}
	return text
}
