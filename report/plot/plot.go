// Package plot draws the figures of a record. A figure is vector drawing on
// any vg.Canvas, so the same code serves the page, SVG and PNG. It computes
// nothing but positions.
//
// Ink is what was measured, umber what was fitted, stone and hatching a region;
// position and words carry the meaning, colour only repeats it.
package plot

import (
	"image/color"
	"math"
	"time"

	"dryhold/analysis/quantity"
	"dryhold/analysis/record"

	"gonum.org/v1/plot/vg"
)

// MM is a millimetre.
const MM = vg.Millimeter

// The three colours of the record.
var (
	Ink   = color.NRGBA{0x17, 0x19, 0x1B, 0xFF}
	Umber = color.NRGBA{0x8A, 0x4B, 0x14, 0xFF}
	Stone = color.NRGBA{0xE9, 0xE5, 0xDD, 0xFF}
	White = color.NRGBA{0xFF, 0xFF, 0xFF, 0xFF}
)

// Options say in which units and words a figure speaks.
type Options struct {
	Units     quantity.System
	Thousands string
	// Word gives a label by its key; facts come in pairs of name and value.
	Word func(key string, facts ...string) string
	// Places are the decimals of the reading that decides, as the pages print it.
	Places int
	// Plain leaves out what only an expert reads: residuals, second axis.
	Plain bool
	// Width and Height of the figure; 0 takes the figure's own.
	Width, Height vg.Length
}

// Figure is a drawing of a fixed size with a name and a text in its place.
type Figure struct {
	Name          string // short, for file names: "pulldown"
	Alt           string // what a reader who can't see it should know
	Width, Height vg.Length
	Legend        []string // words' keys of what is drawn in it and has no name there
	draw          func(p *pen)
}

// Draw draws the figure with its lower left corner at the canvas's origin.
func (f *Figure) Draw(c vg.Canvas) { f.draw(&pen{c: c}) }

func figure(name string, o Options, w, h vg.Length, draw func(p *pen, w, h float64)) *Figure {
	if o.Width > 0 {
		w = o.Width
	}
	if o.Height > 0 {
		h = o.Height
	}
	return &Figure{Name: name, Width: w, Height: h, draw: func(p *pen) { draw(p, float64(w), float64(h)) }}
}

func (o Options) number(si float64, u quantity.Unit, places int) string {
	return quantity.Number(si, u, places, o.Thousands)
}

// level prints a vacuum level with as many digits as it needs.
func (o Options) level(si float64) string {
	u := o.Units.Vacuum
	x := math.Abs(u.From(si))
	places := 0
	if x < 99.95 && x > 0 {
		places = min(max(2-int(math.Floor(math.Log10(x)))-1, 0), 3)
		if r := math.Abs(x - math.Round(x)); r < 1e-6*x {
			places = 0
		}
	}
	return o.number(si, u, places)
}

// named is a printed vacuum level with its unit, in the singular beside 1.
func (o Options) named(level string) string {
	name := o.Units.Vacuum.Name
	if level == "1" && name == o.Word("unit.micron") {
		name = o.Word("unit.micron.one")
	}
	return level + "\u00a0" + name
}

// limit prints an agreed level: whole where it is, else with three figures.
func (o Options) limit(si float64) string {
	u := o.Units.Vacuum
	x := math.Abs(u.From(si))
	if x == 0 || math.Abs(x-math.Round(x)) < 1e-4*x {
		return o.number(si, u, 0)
	}
	return o.number(si, u, min(max(2-int(math.Floor(math.Log10(x))), 0), 3))
}

// seconds is the time of an RFC 3339 stamp after start; ok is false where
// either cannot be read.
func seconds(start, at string) (s float64, ok bool) {
	a, err1 := time.Parse(time.RFC3339Nano, start)
	b, err2 := time.Parse(time.RFC3339Nano, at)
	if err1 != nil || err2 != nil {
		return 0, false
	}
	return b.Sub(a).Seconds(), true
}

// clock is the time of day some seconds after an RFC 3339 stamp.
func clock(at string, after float64) string {
	t, err := time.Parse(time.RFC3339Nano, at)
	if err != nil {
		return at
	}
	t = t.Add(time.Duration(after * float64(time.Second))).Round(time.Second)
	if t.Second() == 0 {
		return t.Format("15:04")
	}
	return t.Format(time.TimeOnly)
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// usable reports whether a trace has at least two points.
func usable(t *record.Trace) bool { return t != nil && len(t.T) > 1 && len(t.T) == len(t.Y) }

// span is the first and last time of a trace.
func span(t *record.Trace) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, x := range t.T {
		if finite(x) {
			lo, hi = math.Min(lo, x), math.Max(hi, x)
		}
	}
	return lo, hi
}
