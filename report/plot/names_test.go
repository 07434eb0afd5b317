package plot

import (
	"fmt"
	"strings"
	"testing"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"
	"dryhold/report/face"

	"gonum.org/v1/plot/vg/recorder"
)

// spanish are words as long as the longest that a template gives.
var spanish = map[string]string{
	"plot.limit": "límite {level}", "plot.limit_above": "límite {level}: sobre la escala", "plot.limit_below": "límite {level}: bajo la escala", "plot.guard": "banda de guarda {level}",
	"plot.bar_beyond": "barra del 95 %, ± {level}: mayor que la escala", "plot.not_used": "no usado: igualación, {minutes} min",
	"plot.highest": "lectura más alta {value}", "plot.start": "inicio {level}", "plot.fit_name": "ajustado", "plot.readings_name": "lo que mostró el vacuómetro",
	"decision.pass": "cumple", "decision.fail": "no cumple", "decision.conditional pass": "cumple con reserva", "decision.conditional fail": "no cumple con reserva",
	"plot.triple": "punto triple del agua, {level}", "plot.level_after": "{level} tras {time}", "plot.lowest": "mínimo {level}", "plot.over_range": "sobre el rango",
	"plot.steady": "entrada constante", "plot.levels_off": "parte que se estabiliza", "plot.threshold": "se nombra solo por encima de {level}",
}

func inSpanish(key string, facts ...string) string {
	s := spanish[key]
	for i := 0; i+1 < len(facts); i += 2 {
		s = strings.ReplaceAll(s, "{"+facts[i]+"}", facts[i+1])
	}
	return s
}

// TestNamesApart has limits, guard bands and readings of all proportions: no name
// lies on another one or leaves the figure.
func TestNamesApart(t *testing.T) {
	const micron = 0.133322387415
	for _, limit := range []float64{100, 240, 285, 500, 3000} {
		for _, guard := range []float64{0, 3, 60, 2000} {
			for _, reading := range []float64{251, 280, 900} {
				for _, u := range []float64{2, 25, 400} {
					r := example(300)
					r.Hold.Limit, r.Hold.GuardBand = record.Plain(limit*micron, "Pa"), record.Plain(guard*micron, "Pa")
					r.Hold.ReadingAtLimit, r.Hold.StandardUncertainty = record.Plain(reading*micron, "Pa"), record.Plain(u*micron, "Pa")
					r.Hold.StartPressure, r.Hold.Decision = record.Plain(250*micron, "Pa"), "conditional fail"
					for _, plain := range []bool{false, true} {
						o := Options{Units: quantity.US, Thousands: " ", Word: inSpanish, Plain: plain}
						for _, f := range []*Figure{Hold(r, o), Ruler(r, o)} {
							if bad := collisions(f); bad != "" {
								t.Errorf("limit %g, guard band %g, reading %g ± %g, plain %v: %s: %s", limit, guard, reading, u, plain, f.Name, bad)
							}
						}
					}
				}
			}
		}
	}
}

// TestLongNumbers: the numbers beside the bars of the cause stay within the figure.
func TestLongNumbers(t *testing.T) {
	const micron = 0.133322387415
	r := example(300)
	r.Hold.LeakPart, r.Hold.MoistureRise = record.Between(15924*micron, 13511*micron, 18553*micron, "Pa"), record.Between(312*micron, 0, 2770*micron, "Pa")
	if bad := collisions(Cause(r, Options{Units: quantity.US, Thousands: ",", Word: inSpanish})); bad != "" {
		t.Error(bad)
	}
}

// collisions tells two texts of a figure that meet, or one that leaves it.
func collisions(f *Figure) string {
	var c recorder.Canvas
	f.Draw(&c)
	var texts []string
	var boxes []box
	for _, a := range c.Actions {
		s, ok := a.(*recorder.FillString)
		if !ok || s.String == "" {
			continue
		}
		x, y, size := float64(s.Point.X), float64(s.Point.Y), float64(s.Font.Size)
		b := box{x, y - 0.2*size, x + face.Width(s.String, s.Font.Weight > 0)*size, y + 0.7*size}
		if b.x0 < 0 || b.y0 < 0 || b.x1 > float64(f.Width) || b.y1 > float64(f.Height) {
			return fmt.Sprintf("%q leaves the figure: %v", s.String, b)
		}
		for i, other := range boxes {
			if b.meets(other) {
				return fmt.Sprintf("%q lies on %q", s.String, texts[i])
			}
		}
		texts, boxes = append(texts, s.String), append(boxes, b)
	}
	return ""
}

func texts(f *Figure) map[string]box {
	var c recorder.Canvas
	f.Draw(&c)
	out := map[string]box{}
	for _, a := range c.Actions {
		if s, ok := a.(*recorder.FillString); ok {
			x, y, size := float64(s.Point.X), float64(s.Point.Y), float64(s.Font.Size)
			out[s.String] = ground(x, y, s.String, size, s.Font.Weight > 0)
		}
	}
	return out
}

// TestNameOffTheCurve has a curve that rises through the guard band where the
// band's name would stand.
func TestNameOffTheCurve(t *testing.T) {
	const micron = 0.133322387415
	r := example(300)
	for i := range r.Traces.Hold.Y {
		r.Traces.Hold.Y[i] = (100 + 450*float64(i)/299) * micron
	}
	r.Traces.Fit = nil
	r.Hold.Limit, r.Hold.GuardBand = record.Plain(200*micron, "Pa"), record.Plain(40*micron, "Pa")
	r.Hold.ReadingAtLimit = record.Plain(500*micron, "Pa")
	o := Options{Units: quantity.US, Word: inSpanish}
	name, ok := texts(Hold(r, o))["banda de guarda 40\u00a0micron"]
	if !ok {
		t.Fatal("no name of the guard band")
	}
	d := holdFigure{r: r, o: o, off: 3600}
	d.ranges()
	f := Hold(r, o)
	d.draw(&pen{c: new(recorder.Canvas)}, float64(f.Width), float64(f.Height))
	for i, s := range r.Traces.Hold.T {
		x, y := d.a.px(d.minute(s)), d.a.py(o.Units.Vacuum.From(r.Traces.Hold.Y[i]))
		if name.meets(box{x, y, x + 0.01, y + 0.01}) {
			t.Fatalf("the name %v covers the reading at %.0f, %.0f", name, x, y)
		}
	}
}

// TestOverRangeName has the gauge over its range at the end of the hold: the name
// stays within the axes.
func TestOverRangeName(t *testing.T) {
	r := example(300)
	r.Traces.Hold.OverRange = []float64{4195}
	d := Hold(r, Options{Units: quantity.US, Word: inSpanish})
	name, ok := texts(d)["sobre el rango"]
	if right := float64(d.Width) - 34; !ok || name.x1 > right+1 {
		t.Errorf("%v, the axes end at %.0f", name, right)
	}
}

// TestPullDownSince has a recording that is over range for its first minutes: the
// axis counts, like the times beside the levels, from the first reading.
func TestPullDownSince(t *testing.T) {
	r := example(300)
	for i := range r.Traces.Vacuum.T {
		r.Traces.Vacuum.T[i] += 620
	}
	if _, ok := texts(PullDown(r, options()))["plot.minutes_since time 08:10:20"]; !ok {
		t.Errorf("no axis from 08:10:20 on: %v", texts(PullDown(r, options())))
	}
}

// TestArrows: a bar has an arrow where it goes on beyond the scale, and only there.
func TestArrows(t *testing.T) {
	for _, c := range []struct {
		low, high float64
		want      int
	}{{50, 300, 1}, {-40, 80, 1}, {-40, 300, 2}} {
		canvas := new(recorder.Canvas)
		d := holdFigure{r: example(300), o: Options{Units: quantity.US, Word: inSpanish}, p: &pen{c: canvas}, a: axes{x: 36, y: 22, w: 300, h: 200}, room: &room{width: 350}}
		d.beyond(100, c.low, c.high, 60)
		arrows := 0
		for _, a := range canvas.Actions {
			if s, ok := a.(*recorder.Stroke); ok && len(s.Path) == 3 {
				arrows++
			}
		}
		if arrows != c.want {
			t.Errorf("from %g to %g: %d arrows, want %d", c.low, c.high, arrows, c.want)
		}
	}
}

// TestClearance: a name stands clear of the curve's stroke, not only of its middle.
func TestClearance(t *testing.T) {
	r := room{width: 200}
	r.curve([]point{{0, 50}, {200, 50}})
	b := ground(20, 0, "name", 7, false)
	for _, c := range []struct {
		top   float64
		taken bool
	}{{50 - 1, true}, {50 - 2, false}} {
		up := c.top - b.y1
		if got := r.onCurve(box{b.x0, b.y0 + up, b.x1, b.y1 + up}); got != c.taken {
			t.Errorf("a name %g under the curve: on it %v", 50-c.top, got)
		}
	}
}

// TestBetweenCurves: a name may stand between two curves, and on neither.
func TestBetweenCurves(t *testing.T) {
	r := room{width: 200}
	r.curve([]point{{0, 20}, {200, 20}})
	r.curve([]point{{0, 80}, {200, 80}})
	for y, taken := range map[float64]bool{18: true, 50: false, 78: true} {
		if got := r.onCurve(ground(20, y, "name", 7, false)); got != taken {
			t.Errorf("a name at %g: on a curve %v", y, got)
		}
	}
}

// TestPairNamesApart sets holds in one figure whose limits lie at each other or far
// apart: no name lies on another one, on the axis or outside.
func TestPairNamesApart(t *testing.T) {
	const micron = 0.133322387415
	for _, limits := range [][2]float64{{500, 503}, {500, 500}, {275, 310}, {310, 275}, {251, 600}} {
		for _, up := range []float64{1, 0.1, 3} {
			a, b := example(300), example(300)
			for i := range b.Traces.Hold.Y {
				b.Traces.Hold.Y[i] *= up
			}
			a.Hold.Limit, b.Hold.Limit = record.Plain(limits[0]*micron, "Pa"), record.Plain(limits[1]*micron, "Pa")
			f := Pair(Side{Record: a, Name: "2031-0601, 17 de junio de 2031"}, Side{Record: b, Name: "2031-0688, 8 de julio de 2031"}, Options{Units: quantity.US, Thousands: " ", Word: inSpanish})
			if bad := collisions(f); bad != "" {
				t.Errorf("limits %v, second curve × %g: %s", limits, up, bad)
			}
			for s, b := range texts(f) {
				if strings.HasPrefix(s, "2031") && b.y0 < 22 {
					t.Errorf("limits %v, second curve × %g: %q lies on the axis", limits, up, s)
				}
			}
		}
	}
}
