package plot

import (
	"bytes"

	"dryhold/analysis/record"

	"gonum.org/v1/plot/vg"
	"gonum.org/v1/plot/vg/vgimg"
	"gonum.org/v1/plot/vg/vgsvg"
)

// All returns every figure that the record has the data for.
func All(r *record.Record, o Options) []*Figure {
	var out []*Figure
	for _, f := range []*Figure{Pressure(r, o), PullDown(r, o), Hoses(r, o), Hold(r, o), Ruler(r, o), Cause(r, o)} {
		if f != nil {
			out = append(out, f)
		}
	}
	return out
}

// margin around a figure that stands alone.
const margin = 3 * MM

// SVG returns the figure as an SVG file; its text stays text.
func SVG(f *Figure) ([]byte, error) {
	c := vgsvg.New(f.Width+2*margin, f.Height+2*margin)
	alone(c, f)
	var b bytes.Buffer
	_, err := c.WriteTo(&b)
	return b.Bytes(), err
}

// PNG returns the figure as a picture of 200 dots an inch on white.
func PNG(f *Figure) ([]byte, error) {
	c := vgimg.PngCanvas{Canvas: vgimg.NewWith(vgimg.UseWH(f.Width+2*margin, f.Height+2*margin), vgimg.UseDPI(200), vgimg.UseBackgroundColor(White))}
	alone(c, f)
	var b bytes.Buffer
	_, err := c.WriteTo(&b)
	return b.Bytes(), err
}

func alone(c vg.Canvas, f *Figure) {
	c.Push()
	c.Translate(vg.Point{X: margin, Y: margin})
	f.Draw(c)
	c.Pop()
}
