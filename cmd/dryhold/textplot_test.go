package main

import (
	"testing"

	"dryhold/analysis/quantity"
)

// Labels have four figures and no exponent.
func TestLabel(t *testing.T) {
	for v, want := range map[float64]string{227.12: "227.1", 10153: "10150", 760123: "760100", 0.05678: "0.05678", -12345: "-12350"} {
		x := axis{low: quantity.Micron.SI(v), high: quantity.Micron.SI(v), unit: quantity.Micron}
		if got := x.label(0); got != want {
			t.Errorf("%g: %s, want %s", v, got, want)
		}
	}
}
