package plot

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"

	"gonum.org/v1/plot/vg/recorder"
)

func options() Options {
	return Options{Units: quantity.US, Thousands: ",", Word: func(key string, facts ...string) string { return key + " " + strings.Join(facts, " ") }}
}

// example is an invented recording: a pull-down of an hour and a hold of ten minutes.
func example(n int) *record.Record {
	const micron = 0.133322387415
	r := &record.Record{Traces: record.Traces{Start: "2031-04-09T08:00:00Z", Vacuum: &record.Trace{}, Hold: &record.Trace{}, Fit: &record.Band{}}}
	for i := range n {
		m := 70 * float64(i) / float64(n-1)
		p := 250 + 7e5*math.Exp(-m/2)
		if m >= 60 {
			p = 250 + 3*(m-60) + math.Sin(float64(i))
		}
		r.Traces.Vacuum.T, r.Traces.Vacuum.Y = append(r.Traces.Vacuum.T, m*60), append(r.Traces.Vacuum.Y, p*micron)
		m = 60 + 10*float64(i)/float64(n-1)
		r.Traces.Hold.T, r.Traces.Hold.Y = append(r.Traces.Hold.T, m*60), append(r.Traces.Hold.Y, (250+3*(m-60)+math.Sin(float64(i)))*micron)
	}
	for _, m := range []float64{61, 65, 70} {
		y := 250 + 3*(m-60)
		f := r.Traces.Fit
		f.T, f.Y, f.Low, f.High = append(f.T, m*60), append(f.Y, y*micron), append(f.Low, (y-2)*micron), append(f.High, (y+2)*micron)
	}
	r.Phases = []record.Phase{{What: "pull-down", Start: "2031-04-09T08:00:00Z", End: "2031-04-09T09:00:00Z"}, {What: "hold", Start: "2031-04-09T09:00:00Z", End: "2031-04-09T09:10:00Z"}}
	r.PullDown = &record.PullDown{Start: r.Phases[0].Start, End: r.Phases[0].End, Lowest: record.Plain(250*micron, "Pa"), TimeTo: map[string]*record.Value{"1000 micron": record.Plain(780, "s")}}
	r.Hold = &record.Hold{Start: r.Phases[1].Start, End: r.Phases[1].End, SettleEnd: "2031-04-09T09:01:00Z", Limit: record.Plain(500*micron, "Pa"), GuardBand: record.Plain(40*micron, "Pa"), LimitAt: r.Phases[1].End,
		ReadingAtLimit: record.Plain(280*micron, "Pa"), StandardUncertainty: record.Plain(24*micron, "Pa"), LeakPart: record.Between(27*micron, 25*micron, 29*micron, "Pa"), Threshold: record.Plain(5*micron, "Pa")}
	return r
}

func TestFiguresOfAllKinds(t *testing.T) {
	for _, units := range []quantity.System{quantity.US, quantity.SI} {
		o := options()
		o.Units = units
		got := map[string]bool{}
		for _, f := range All(example(800), o) {
			got[f.Name] = true
			svg, err := SVG(f)
			if err != nil || bytes.Contains(svg, []byte("NaN")) || bytes.Contains(svg, []byte("Inf")) || !bytes.Contains(svg, []byte("<text")) {
				t.Errorf("%s: %v", f.Name, err)
			}
			img, err := PNG(f)
			if err != nil || len(img) < 1000 {
				t.Errorf("%s: %d bytes, %v", f.Name, len(img), err)
			}
		}
		for _, n := range []string{"pulldown", "hold", "ruler", "cause"} {
			if !got[n] {
				t.Errorf("no figure %q", n)
			}
		}
	}
}

// TestWithinTheFigure finds a line or a text that leaves the figure.
func TestWithinTheFigure(t *testing.T) {
	for _, f := range All(example(800), options()) {
		var c recorder.Canvas
		f.Draw(&c)
		for _, a := range c.Actions {
			if s, ok := a.(*recorder.Stroke); ok {
				for _, p := range s.Path {
					if p.Pos.X < -0.1 || p.Pos.X > f.Width+0.1 || p.Pos.Y < -0.1 || p.Pos.Y > f.Height+0.1 {
						t.Errorf("%s: a line at %v in a figure of %v x %v", f.Name, p.Pos, f.Width, f.Height)
					}
				}
			}
		}
	}
}

// TestPair sets two holds in one figure, of which either may be missing.
func TestPair(t *testing.T) {
	r, none := example(800), example(10)
	none.Hold = nil
	a, b := Side{r, "first"}, Side{none, "second"}
	if Pair(b, b, options()) != nil {
		t.Error("a figure of nothing")
	}
	for i, f := range []*Figure{Pair(a, a, options()), Pair(a, b, options()), Pair(b, a, options())} {
		var c recorder.Canvas
		f.Draw(&c)
		rings, texts := 0, ""
		for _, act := range c.Actions {
			switch act := act.(type) {
			case *recorder.Fill:
				if len(act.Path) == 3 { // a disc
					rings++
				}
			case *recorder.FillString:
				texts += act.String + "|"
				if act.Point.X < 0 || act.Point.X > f.Width || act.Point.Y < 0 || act.Point.Y > f.Height {
					t.Errorf("%q lies at %v in a figure of %v x %v", act.String, act.Point, f.Width, f.Height)
				}
			}
		}
		if strings.Contains(texts, "second|") || !strings.Contains(texts, "first|") || (rings > 15) != (i < 2) { // the earlier one has rings
			t.Errorf("figure %d: %d rings, texts %q", i, rings, texts)
		}
	}
}

// TestNothingToDraw has traces that no axis can be made for.
func TestNothingToDraw(t *testing.T) {
	for name, tr := range map[string]*record.Trace{
		"none": nil, "one point": {T: []float64{0}, Y: []float64{1}}, "no time": {T: []float64{3, 3}, Y: []float64{1, 2}},
		"not positive": {T: []float64{0, 1}, Y: []float64{0, -1}}, "uneven": {T: []float64{0, 1}, Y: []float64{1}},
	} {
		r := example(10)
		r.Traces.Vacuum = tr
		if f := PullDown(r, options()); f != nil {
			t.Errorf("%s gave a pull-down", name)
		}
		r.Hold = nil
		if Hold(r, options()) != nil || Ruler(r, options()) != nil || Cause(r, options()) != nil || Hoses(r, options()) != nil || Pressure(r, options()) != nil {
			t.Errorf("%s: a figure without data", name)
		}
	}
	r := example(10)
	r.Traces.Vacuum = &record.Trace{T: []float64{0, 60, 120}, Y: []float64{0, 50, 50}, OverRange: []float64{1}}
	if f := PullDown(r, options()); f == nil {
		t.Error("a constant recording has no figure")
	} else if svg, err := SVG(f); err != nil || bytes.Contains(svg, []byte("NaN")) {
		t.Error("a constant recording:", err)
	}
}

func TestSteps(t *testing.T) {
	for _, c := range []struct{ minutes, want float64 }{{8, 1}, {60, 10}, {62, 10}, {192, 30}, {15, 2}, {600, 120}} {
		if got := timeStep(c.minutes); got != c.want {
			t.Errorf("%g minutes: a step of %g, want %g", c.minutes, got, c.want)
		}
	}
	for _, c := range []struct {
		span float64
		n    int
		want float64
	}{{300, 6, 50}, {10, 5, 2}, {0.07, 5, 0.02}} {
		if got := niceStep(c.span, c.n); math.Abs(got-c.want) > 1e-12 {
			t.Errorf("%g in %d: %g, want %g", c.span, c.n, got, c.want)
		}
	}
}

func BenchmarkHold(b *testing.B) { bench(b, Hold) }

func BenchmarkPullDown(b *testing.B) { bench(b, PullDown) }

func bench(b *testing.B, draw func(*record.Record, Options) *Figure) {
	r := example(2000)
	for b.Loop() {
		var c recorder.Canvas
		draw(r, options()).Draw(&c)
	}
}

// Beside 1 a unit is in the singular.
func TestOneMicron(t *testing.T) {
	o := options()
	o.Units.Vacuum.Name = "micras"
	o.Word = func(key string, _ ...string) string {
		return map[string]string{"unit.micron": "micras", "unit.micron.one": "micra"}[key]
	}
	for level, want := range map[string]string{"1": "1\u00a0micra", "1.5": "1.5\u00a0micras", "31": "31\u00a0micras"} {
		if got := o.named(level); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
