package job

import (
	"fmt"
	"math"
	"reflect"

	"dryhold/analysis/quantity"
)

// checkSizes refuses lengths, volumes, flows and times that are not above zero,
// and masses below it.
func (d *decoder) checkSizes() {
	d.sizes(valueOfJob(d.job), "")
	for i, l := range d.job.System.Lines {
		if l.Diameter.Given() && l.Wall.Given() && 2*l.Wall.SI >= l.Diameter.SI {
			d.implausible(fmt.Sprintf("system.line[%d].wall", i), l.Wall.Text, "less than half of the outside diameter "+l.Diameter.Text)
		}
	}
}

// greatest is what no job exceeds, in SI, by dimension.
var greatest = map[quantity.Dimension]struct {
	SI   float64
	text string
}{
	quantity.DimLength: {10e3, "10 km"}, quantity.DimVolume: {1e3, "1000 m3"}, quantity.DimFlow: {10, "10 m3/s"},
	quantity.DimTime: {366 * 86400, "366 days"}, quantity.DimMass: {100e3, "100000 kg"},
}

func (d *decoder) sizes(v reflect.Value, path string) {
	switch q := v.Interface().(type) {
	case quantity.Length, quantity.Volume, quantity.Flow, quantity.Time:
		value := v.Field(0).Interface().(quantity.Value)
		switch most := greatest[value.Unit.Dim]; {
		case !value.Given() || path == "job.altitude":
		case value.SI <= 0:
			d.implausible(path, value.Text, "more than zero")
		case value.SI > most.SI:
			d.implausible(path, value.Text, "at most "+most.text)
		case value.U > value.SI/quantity.K95:
			d.implausible(path, value.Text, "an uncertainty of at most 100 %")
		}
		return
	case quantity.Voltage, quantity.Current, quantity.Resistance:
		if value := v.Field(0).Interface().(quantity.Value); value.SI < 0 {
			d.implausible(path, value.Text, "not less than zero")
		}
		return
	case quantity.Mass:
		if q.SI < 0 && path != "charge.added" {
			d.implausible(path, q.Text, "not less than zero")
		} else if most := greatest[quantity.DimMass]; max(math.Abs(q.SI), q.U) > most.SI {
			d.implausible(path, q.Text, "at most "+most.text)
		}
		return
	}
	switch {
	case isLeaf(v.Type()):
	case v.Kind() == reflect.Pointer && !v.IsNil():
		d.sizes(v.Elem(), path)
	case v.Kind() == reflect.Slice:
		for i := range v.Len() {
			d.sizes(v.Index(i), fmt.Sprintf("%s[%d]", path, i))
		}
	case v.Kind() == reflect.Struct:
		for n, f := range fieldsOf(v.Type()) {
			d.sizes(v.Field(f.index), join(path, n))
		}
	}
}
